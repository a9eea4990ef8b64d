"""A run as long as its liquid does not boil: where the current would bring it to that, the run ends."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell.record import record
from fizzplate.cell.solver import simulate
from fizzplate.cell.warnings import BOILING_C

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from fizzplate.cell.physics import CellLike
    from fizzplate.cell.run import Run
    from fizzplate.cell.solver import Stage


def runs_below_boiling(
    cells: Sequence[CellLike],
    stages: Sequence[Stage],
    samples: int,
    *,
    changes: Mapping[int, Sequence[CellLike]] | None = None,
) -> list[Run]:
    """Run cells through the same stages, each to the end or until its liquid would boil.

    A run that ends early has as many samples as the others, in less time, and a warning that says so.

    Parameters
    ----------
    cells
        To run.
    stages
        One after the other.
    samples
        Number of instants of each record.
    changes
        By the place of a stage, the cells as they are from that stage on.
    """
    runs = []
    changes = changes or {}
    trajectories = simulate(cells, stages, samples, changes=changes)
    for k, (cell, trajectory) in enumerate(zip(cells, trajectories, strict=True)):
        own = {place: changed[k] for place, changed in changes.items()}
        run = record(trajectory, stages, own)
        boils_s = boils_after_s(run)
        if boils_s is not None:
            shorter = stages_until(stages, boils_s)
            own = {place: changed for place, changed in own.items() if place < len(shorter)}
            again = simulate(
                [cell], shorter, samples, changes={place: [own[place]] for place in own}
            )
            run = record(again[0], shorter, own, boils=True)
        runs.append(run)
    return runs


def boils_after_s(run: Run) -> float | None:
    """Return when a run's liquid comes near its boiling point, s; None if it never does."""
    hot = run.temperature_C > BOILING_C
    if not hot.any():
        return None
    first = int(hot.argmax())
    around = slice(first - 1, first + 1)  # it begins at the room's temperature
    return float(np.interp(BOILING_C, run.temperature_C[around], run.time_s[around]))


def stages_until(stages: Sequence[Stage], end_s: float) -> list[Stage]:
    """Return the stages up to a moment, the last one cut short.

    Examples
    --------
    >>> from fizzplate.cell import Stage
    >>> kept = stages_until([Stage(2), Stage(3, swapped=True), Stage(1)], 150.0)
    >>> [(stage.minutes, stage.swapped) for stage in kept]
    [(2, False), (0.5, True)]
    """
    left_min, kept = end_s / 60, []
    for stage in stages:
        if left_min <= 0:
            break
        kept.append(replace(stage, minutes=min(stage.minutes, left_min)))
        left_min -= stage.minutes
    return kept
