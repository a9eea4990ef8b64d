"""Whether a class will see and measure anything, and when."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell import vessels
from fizzplate.chemistry.gases import GASES

if TYPE_CHECKING:
    from fizzplate.cell import Run
    from fizzplate.lesson.cell_setup import CellSetup

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

LONGEST_MIN = 30.0  # looked at for what will show
BUBBLES_CM3 = 0.02  # of gas that has left: bubbles are seen (a choice)
COLOUR_MG_CM2 = 0.05  # of metal: some fifty nanometres, coloured (a choice)
TIMES_RESOLUTION = 20.0  # of the balance, for a result worth having
TUBE_CM3 = 5.0  # a small tube of gas
GAPS = (0.5, 1.6)  # of the vessel's own: rods stand where they stand


@dataclass(frozen=True, slots=True)
class Showing:
    """When something is seen or measured, minutes; infinite where it is not within half an hour.

    Parameters
    ----------
    bubbles_min
        At cathode and anode.
    colour_min, balance_min, tube_min
        Until the cathode is coloured, the balance shows enough, a tube of gas is full.
    current_A, range_A
        After a minute, and between which it lies by where the rods stand.
    """

    bubbles_min: tuple[float, float]
    colour_min: float
    balance_min: float
    tube_min: float
    current_A: float
    range_A: tuple[float, float]


def will_it_show(setup: CellSetup, *, balance_g: float = 0.01) -> Showing:
    """Work out when a class sees and measures something.

    Examples
    --------
    >>> from fizzplate.lesson import CellSetup
    >>> shown = will_it_show(CellSetup("CuSO4"))
    >>> shown.colour_min < 1 < shown.balance_min
    True
    """
    run = _run(setup)
    area = vessels()[setup.vessel].immersed_area_cm2.usual
    plated = sum(
        (run.cathode.mass_g(solid) for solid in run.cathode.solids), np.zeros_like(run.time_s)
    )
    gases = [_gas_cm3(run, role) for role in ("cathode", "anode")]
    changed = np.maximum(
        plated,
        -sum(
            (np.minimum(run.anode.mass_g(s), 0) for s in run.anode.solids),
            np.zeros_like(run.time_s),
        ),
    )
    at_minute = int(np.searchsorted(run.time_s, 60.0))
    currents = [float(_run(setup, gap=gap, minutes=1.0).current_A[-1]) for gap in GAPS]
    return Showing(
        (_when(run, gases[0], BUBBLES_CM3), _when(run, gases[1], BUBBLES_CM3)),
        _when(run, plated, 1e-3 * COLOUR_MG_CM2 * area),
        _when(run, changed, TIMES_RESOLUTION * balance_g),
        _when(run, np.maximum(*gases), TUBE_CM3),
        float(run.current_A[at_minute]),
        (min(currents), max(currents)),
    )


def _run(setup: CellSetup, *, gap: float = 1.0, minutes: float = LONGEST_MIN) -> Run:
    own = vessels()[setup.vessel].gap_cm
    gap_cm = min(max(gap * own.usual, own.least), own.most)
    return setup.cell(gap_cm=gap_cm).run(minutes=minutes, samples=121 if minutes > 1 else 3)


def _gas_cm3(run: Run, role: str) -> Array:
    record = getattr(run, role)
    volumes = [record.gas_cm3(gas, collected=True) for gas in record.products if gas in GASES]
    return np.asarray(sum(volumes, np.zeros_like(run.time_s)))


def _when(run: Run, values: Array, enough: float) -> float:
    reached = np.flatnonzero(values >= enough)
    if not reached.size:
        return math.inf
    k = int(reached[0])
    if k == 0:
        return 0.0
    part = (enough - values[k - 1]) / (values[k] - values[k - 1])
    return float(run.time_s[k - 1] + part * (run.time_s[k] - run.time_s[k - 1])) / 60
