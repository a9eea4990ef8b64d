"""Several cells run for the same time."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.cell.heating import runs_below_boiling
from fizzplate.cell.setup import check_samples
from fizzplate.cell.solver import Stage

if TYPE_CHECKING:
    from collections.abc import Iterable

    from fizzplate.cell.cell import Cell
    from fizzplate.cell.run import Run


def run_many(cells: Iterable[Cell], minutes: float, *, samples: int = 121) -> list[Run]:
    """Run several cells for the same time, and return their records in the same order.

    Cells that differ only in strength, current, supply, lamp or measures are solved together:
    32 of them take a few times as long as one. Others are run one after another.

    Raises
    ------
    InputError
        If the time or the number of samples is out of range, or a cell holds a melt.
    RuntimeError
        If one of them cannot be finished, even with a trace of salt in the liquid.

    Examples
    --------
    >>> from fizzplate import Cell
    >>> cells = [Cell("NaCl", concentration_mol_dm3=c) for c in (0.1, 0.5)]
    >>> thin, strong = run_many(cells, minutes=1, samples=5)
    >>> bool(strong.charge_C[-1] > thin.charge_C[-1])
    True
    """
    plan = [Stage(minutes)]
    check_samples(samples)
    all_cells = list(cells)
    for cell in all_cells:
        cell.check_runs()
    return runs_below_boiling(all_cells, plan, samples)
