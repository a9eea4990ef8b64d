"""The current-voltage curve of a cell, and where its decomposition voltage lies."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell.physics import MAX_SUPPLY_V
from fizzplate.cell.residual_current import liquid_resistance_ohm, with_residual_current_A
from fizzplate.cell.side_by_side import run_many
from fizzplate.cell.solver import voltage_needed
from fizzplate.words import InputError, number

if TYPE_CHECKING:
    from fizzplate.cell.cell import Cell
    from fizzplate.cell.run import Run

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

ONSET_A_M2 = 1.0  # 0.1 mA/cm2
FEWEST_POINTS, MOST_POINTS = 5, 301
NEGLIGIBLE_A = 1e-9  # where less flows from the first instant on, a run would say nothing
ANCHOR_V = 0.1  # above that, if the sweep ends below it: this run says what the anode does
CLOSEST_V = 0.05  # between voltages about the onset


@dataclass(frozen=True)
class VoltageSweep:
    """A current-voltage curve, read point by point; P points, the voltage rising from 0.

    Parameters
    ----------
    cell
        What was swept.
    voltage_V
        Between the electrodes, (P,).
    current_A
        After ``minutes`` at each voltage, with the residual current, (P,).
    residual_current_A
        The part of it that reduces oxygen of the air at the cathode, (P,).
    onset_V
        The decomposition voltage; ``None`` if the current does not rise so far.
    onset_current_A
        By how much the current exceeds the residual current there, A.
    supply_limited
        Whether the curve ends early, because the supply gives no more current.
    """

    cell: Cell
    voltage_V: Array
    current_A: Array
    residual_current_A: Array
    onset_V: float | None
    onset_current_A: float
    supply_limited: bool


def sweep_voltage(
    cell: Cell, *, to_V: float = 6.0, points: int = 21, minutes: float = 1.0
) -> VoltageSweep:
    """Measure the current-voltage curve of a cell from 0 V on, and find its decomposition voltage.

    Every voltage begins with fresh liquid, and all are run side by side. The onset (decomposition
    voltage) is where the current crosses 0.1 mA for each cm2 of electrode above the residual current,
    less what the liquid's resistance takes there. So it depends neither on how far the sweep goes nor on
    how far apart the electrodes are. A crossing ten times as large lies 0.1 to 0.25 V higher, and a
    straight line through the steep branch meets zero current higher still: overpotentials grow with
    the current.

    Parameters
    ----------
    cell
        The cell. A lamp is left out, and its voltage or current is not used.
    to_V
        The highest voltage of the supply, V. The curve ends earlier if the supply's limit is reached.
    points
        Number of voltages, 0 V included; a few more lie about the onset.
    minutes
        How long each voltage is on before the current is read.

    Raises
    ------
    InputError
        If an argument is out of range, or the cell holds a melt.
    RuntimeError
        If one of the voltages cannot be finished.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> curve = sweep_voltage(Cell("HCl", anode="platinum", cathode="platinum"), to_V=2, points=5)
    >>> 1.3 < curve.onset_V < 1.5
    True
    """
    highest_V = number(
        "to_V",
        to_V,
        unit="V",
        above=0,
        maximum=MAX_SUPPLY_V,
        limit_reason="more is not safe to touch",
    )
    if not isinstance(points, int) or not FEWEST_POINTS <= points <= MOST_POINTS:
        allowed = f"a whole number from {FEWEST_POINTS} to {MOST_POINTS}"
        raise InputError("points", points, allowed)
    cell.check_runs()
    steps = np.linspace(0.0, highest_V, points)[1:]
    lowest_V = voltage_needed(cell.at_voltage(highest_V), NEGLIGIBLE_A).voltage_V
    flowing = steps[steps > lowest_V]
    runs = _runs(cell, flowing if flowing.size else np.array([lowest_V + ANCHOR_V]), minutes)
    onset_A = ONSET_A_M2 * cell.geometry.area_m2
    above = [k for k, run in enumerate(runs) if run.current_A[-1] >= onset_A]
    if above and flowing.size:  # the curve bends here: more points
        first_V = float(flowing[above[0]])
        below_V = float(steps[steps < first_V].max(initial=0.0))
        more = math.ceil((first_V - below_V) / CLOSEST_V)
        between = np.linspace(below_V, first_V, more + 1)[1:-1]
        runs[above[0] : above[0]] = _runs(cell, between[between > lowest_V], minutes)
    limit = next((k for k, run in enumerate(runs) if _at_its_limit(run)), None)
    if limit is not None:
        del runs[limit + 1 :]
    reached_V = [float(run.voltage_V[-1]) for run in runs] if flowing.size else []
    voltage_V = np.array([0.0, *steps[steps <= lowest_V], *reached_V])
    current_A, residual_A = with_residual_current_A(runs, voltage_V)
    return VoltageSweep(
        cell=cell,
        voltage_V=voltage_V,
        current_A=current_A,
        residual_current_A=residual_A,
        onset_V=_onset_V(runs[0], voltage_V, current_A, residual_A, onset_A),
        onset_current_A=onset_A,
        supply_limited=limit is not None,
    )


def _runs(cell: Cell, voltages_V: Array, minutes: float) -> list[Run]:
    return run_many([cell.at_voltage(float(each)) for each in voltages_V], minutes, samples=2)


def _at_its_limit(run: Run) -> bool:
    """Whether the supply gives all the current that it can."""
    return bool(run.current_A[-1] > (1 - 1e-9) * run.cell.supply.max_current_A)


def _onset_V(
    run: Run, voltage_V: Array, current_A: Array, residual_A: Array, level_A: float
) -> float | None:
    """Return where the current crosses a level above the residual current, the liquid's share left out."""
    made_A = current_A - residual_A
    above = np.flatnonzero(made_A >= level_A)
    if not above.size:
        return None
    k = above[0]
    before_A, after_A = float(made_A[k - 1]), float(made_A[k])
    # the logarithm rises steadily, except from nothing
    rises = before_A > 0
    part = math.log(level_A / before_A, after_A / before_A) if rises else level_A / after_A
    crossing_V, residual_there_A = (
        float(each[k - 1] + part * (each[k] - each[k - 1])) for each in (voltage_V, residual_A)
    )
    liquid_V = (level_A + residual_there_A) * liquid_resistance_ohm(run)
    return max(crossing_V - liquid_V, 0.0)
