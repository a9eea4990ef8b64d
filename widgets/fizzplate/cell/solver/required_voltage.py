"""The voltage that a constant current needs at the first instant, before the liquid changes."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell.physics import MAX_SUPPLY_V, Supply
from fizzplate.cell.solver.batch import InitialValues, Trajectory

if TYPE_CHECKING:
    from fizzplate.cell.physics import CellLike


@dataclass(frozen=True, slots=True)
class Demand:
    """What a current needs at the first instant, and what there is.

    Parameters
    ----------
    voltage_V
        Voltage that drives the current through electrodes, liquid and lamp, V.
    max_current_A
        The current at the largest voltage of a supply, at most the one that was asked for, A.
    """

    voltage_V: float
    max_current_A: float

    @property
    def too_much(self) -> bool:
        """Whether no supply drives the current."""
        return self.voltage_V > MAX_SUPPLY_V


def demand(cell: CellLike, current_A: float) -> Demand:
    """Return what a current through a cell needs at the first instant.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> needs = demand(Cell("NaCl", vessel="U-tube"), 0.5)
    >>> needs.too_much, 0.2 < needs.max_current_A < 0.5
    (True, True)
    """
    start = InitialValues.of([Trajectory.at_start(cell, np.zeros(1))], direction=1)
    unknowns, _ = start.first_potentials([Supply(math.inf, current_A)])
    voltage_V = float(start.transport.supply_voltage_V(unknowns)[0])
    if voltage_V <= MAX_SUPPLY_V:
        return Demand(voltage_V, current_A)
    unknowns, _ = start.first_potentials([Supply(MAX_SUPPLY_V, current_A)])
    return Demand(voltage_V, float(np.exp(unknowns.ln_current[0])))
