"""The voltage that a constant current needs at the first instant, before the liquid changes."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell.physics import MAX_SUPPLY_V, Supply
from fizzplate.cell.solver.batch import InitialValues, Trajectory
from fizzplate.cell.solver.model import Model

if TYPE_CHECKING:
    from fizzplate.cell.physics import CellLike


@dataclass(frozen=True, slots=True)
class VoltageNeeded:
    """The voltage that a current needs at the first instant, and the current that a supply can drive.

    Parameters
    ----------
    voltage_V
        Voltage that drives the current through electrodes, liquid and lamp, V.
    max_current_A
        The current at the largest voltage of a supply, at most the one that was asked for, A.
    cathode_V
        Potential of the cathode at that voltage, or at the supply's largest, V against hydrogen.
    """

    voltage_V: float
    max_current_A: float
    cathode_V: float

    @property
    def exceeds_supply(self) -> bool:
        """Whether no supply gives so high a voltage."""
        return self.voltage_V > MAX_SUPPLY_V


def voltage_needed(cell: CellLike, current_A: float) -> VoltageNeeded:
    """Return the voltage that a current through a cell needs at the first instant.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> needed = voltage_needed(Cell("NaCl", vessel="U-tube"), 0.5)
    >>> needed.exceeds_supply, 0.2 < needed.max_current_A < 0.5
    (True, True)
    """
    start = InitialValues.of([Trajectory.at_start(Model.of(cell), np.zeros(1))], direction=1)
    unknowns, _ = start.first_potentials([Supply(math.inf, current_A)])
    voltage_V = float(start.transport.border.supply_voltage_V(unknowns)[0])
    if voltage_V <= MAX_SUPPLY_V:
        return VoltageNeeded(voltage_V, current_A, float(unknowns.potential_V[0, 0]))
    unknowns, _ = start.first_potentials([Supply(MAX_SUPPLY_V, current_A)])
    most_A = float(np.exp(unknowns.ln_current[0]))
    return VoltageNeeded(voltage_V, most_A, float(unknowns.potential_V[0, 0]))
