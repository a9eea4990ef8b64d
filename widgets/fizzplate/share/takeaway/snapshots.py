"""The bench's state for each cell of a file: at rest, and through its run."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from fizzplate.cell import run_many
from fizzplate.cell.solver import ConvergenceError
from fizzplate.lesson import write_cell
from fizzplate.lesson.rule import MeltRun
from fizzplate.views.bench import About, bench_state, bench_state_at_rest, certainty_of, charts_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.cell import Run
    from fizzplate.lesson import CellSetup, Wording

SAMPLES = 61  # of a run: half of what the server sends, to let more runs into the file


@dataclass(frozen=True, slots=True)
class Snapshot:
    """One cell as the bench shows it.

    Parameters
    ----------
    setup
        The cell.
    rest, on
        What the bench's widget sends to the page before the switch is closed, and after.
    sources
        Keys and citations of the values behind the run.
    """

    setup: CellSetup
    rest: dict[str, Any]
    on: dict[str, Any]
    sources: dict[str, str]


def snapshots(
    setups: Sequence[CellSetup], wording: Wording, *, asking: bool
) -> tuple[Snapshot, ...]:
    """Run cells that differ in concentration, electrodes and lamp.

    A cell that the model cannot calculate is left out.

    Parameters
    ----------
    setups
        The cells; all run for the same time.
    wording
        The board's.
    asking
        Whether the class predicts first.
    """
    made = []
    for setup, run in zip(setups, _runs(setups), strict=True):
        if run is None:
            continue
        about = About(
            write_cell(setup),
            setup.label_in(wording),
            asking=asking,
            only_calculated=setup.only_calculated,
            wording=wording,
            changes=setup.changes,
            unchanged=_run_alone(setup.unchanged) if setup.changes else None,
        )
        rest = bench_state_at_rest(setup.cell(), about) | {"charts": [], "certainty": []}
        on = bench_state(run, about) | {
            "charts": charts_of(run, about),
            "certainty": _how_sure(run, wording),
        }
        sources = {} if isinstance(run, MeltRun) else {s.key: s.citation for s in run.sources}
        made.append(Snapshot(setup, rest, on, sources))
    return tuple(made)


def _how_sure(run: Run | MeltRun, wording: Wording) -> list[dict[str, Any]]:
    """Return how sure a run is; nothing of a melt, or where the model with other constants finds no end."""
    if isinstance(run, MeltRun):
        return []
    try:
        return certainty_of(run, wording)
    except ConvergenceError:
        return []


def _runs(setups: Sequence[CellSetup]) -> list[Run | MeltRun | None]:
    if any(setup.changes for setup in setups):
        return [_run_alone(setup) for setup in setups]
    cells = [setup.cell() for setup in setups]
    if setups[0].is_melt:
        return [
            MeltRun(cell, setup.melt_current_A, setup.minutes)
            for cell, setup in zip(cells, setups, strict=True)
        ]
    minutes = setups[0].minutes
    try:
        return list(run_many(cells, minutes, samples=SAMPLES))
    except ConvergenceError:
        return [_run_alone(setup) for setup in setups]


def _run_alone(setup: CellSetup) -> Run | None:
    try:
        return setup.run(SAMPLES)
    except ConvergenceError:
        return None
