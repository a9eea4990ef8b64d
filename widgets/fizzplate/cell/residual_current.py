"""Residual current: what flows below the decomposition voltage, because water holds oxygen of the air.

At the cathode this oxygen is reduced, ``O2 + 4H+ + 4e- -> 2H2O``, beside everything that a run has there:
both go on at one cathode potential ``E``, and their currents add up. Oxygen's is

    1/I = 1/I_L + 1/I_T,    I_T = i0 A exp(alpha f (E0 - ln(10) pH / f - E)),    I_L = 4 F A D c / d,

Tafel's law in series with the limiting current; ``f = F/RT``, ``c`` by Henry's law under air, ``d`` the
unmixed film, or ``(pi D t)^(1/2)`` after a time ``t`` where nothing is mixed (Cottrell). ``i0`` and ``alpha``
are those of oxygen's formation on the same material: good to a factor of ten, as those are. Anode and liquid
need the voltage that they need in a run of the same current.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data
from fizzplate.cell.physics import kinetic_value
from fizzplate.chemistry import FARADAY_C_MOL, GAS_J_MOL_K, ZERO_CELSIUS_K
from fizzplate.chemistry.substances import saturation_mol_m3
from fizzplate.chemistry.transport_properties import diffusion_coefficient_m2_s

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.cell.physics import CellLike
    from fizzplate.cell.run import Run

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

REACTION = "oxygen from water"  # whose kinetics are taken for the way back
AIR_OXYGEN = 0.21  # by volume
ELECTRONS = 4
MORE_POTENTIALS = 40  # at which oxygen alone is reduced
ROUNDS = 4  # until pH and current at the cathode agree


def limiting_current_A(cell: CellLike, time_s: float) -> float:
    """Return the largest current that oxygen of the air can carry to the cathode, A.

    Parameters
    ----------
    cell
        The cell.
    time_s
        How long the current has flowed, which counts where nothing is mixed.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> round(1e3 * limiting_current_A(Cell("H2SO4"), 60.0), 2)
    0.66
    """
    diffusion_m2_s = diffusion_coefficient_m2_s("O2")
    dissolved_mol_m3 = AIR_OXYGEN * saturation_mol_m3("O2", pressure_kPa=cell.pressure_kPa)
    layer_m = cell.geometry.film_m or math.sqrt(math.pi * diffusion_m2_s * time_s)
    supply_mol_s = cell.geometry.area_m2 * diffusion_m2_s * dissolved_mol_m3 / layer_m
    return ELECTRONS * FARADAY_C_MOL * supply_mol_s


def with_residual_current_A(runs: Sequence[Run], voltage_V: Array) -> tuple[Array, Array]:
    """Return the current with the residual current, and that alone, at some voltages, A.

    Parameters
    ----------
    runs
        Of one cell at several voltages, each read at its end.
    voltage_V
        Between the electrodes, at least 0 V.
    """
    flowing = sorted((run for run in runs if run.current_A[-1] > 0), key=lambda r: r.current_A[-1])
    if not flowing:
        return np.zeros(voltage_V.shape), np.zeros(voltage_V.shape)
    run_A, run_V, cathode_V, pH = (
        np.array([float(values[-1]) for values in series])
        for series in (
            [run.current_A for run in flowing],
            [run.voltage_V for run in flowing],
            [run.cathode.potential_V for run in flowing],
            [run.cathode.pH for run in flowing],
        )
    )
    oxygen = _OxygenReduction(flowing[0])
    alone_V = np.linspace(max(oxygen.standard_V, cathode_V[0]), cathode_V[0], MORE_POTENTIALS)
    potential_V = np.concatenate([alone_V, cathode_V])
    made_A = np.concatenate([np.zeros(alone_V.shape), run_A])
    total_A = np.maximum(made_A, run_A[0])
    for _ in range(ROUNDS):
        pH_there = np.interp(np.log(total_A), np.log(run_A), pH)
        oxygen_A = oxygen.current_A(potential_V, pH_there)
        total_A = made_A + oxygen_A
    needed_V = _anode_and_liquid_V(flowing, run_A, run_V + cathode_V, total_A) - potential_V
    order = np.argsort(needed_V)
    found = (
        np.exp(np.interp(voltage_V, needed_V[order], np.log(each[order]), left=-np.inf))
        for each in (total_A, oxygen_A)
    )
    total, residual = (np.where(voltage_V > 0, each, 0.0) for each in found)
    return total, residual


class _OxygenReduction:
    """Oxygen of the air reduced at the cathode of a run."""

    def __init__(self, run: Run) -> None:
        cell = run.cell
        self._limit_A = limiting_current_A(cell, float(run.time_s[-1]))
        self._f = FARADAY_C_MOL / (GAS_J_MOL_K * (cell.temperature_C + ZERO_CELSIUS_K))
        exchange_A_m2 = kinetic_value(REACTION, cell.cathode, "exchange current density")
        self._exchange_A = exchange_A_m2 * cell.geometry.area_m2
        self._transfer = kinetic_value(REACTION, cell.cathode, "transfer coefficient")
        self.standard_V = data.find("electrode_reactions", reaction=REACTION).value

    def current_A(self, potential_V: Array, pH: Array) -> Array:
        """Return the current at potentials and compositions of the face."""
        drive_V = self.standard_V - math.log(10) * pH / self._f - potential_V
        tafel_A = self._exchange_A * np.exp(np.minimum(self._transfer * self._f * drive_V, 300.0))
        return np.asarray(1 / (1 / self._limit_A + 1 / tafel_A))


def _anode_and_liquid_V(
    runs: Sequence[Run], run_A: Array, run_needs_V: Array, current_A: Array
) -> Array:
    """Return what anode and liquid need at some currents: as in the runs, and in proportion outside them."""
    between = np.interp(np.log(current_A), np.log(run_A), run_needs_V)
    more_V = np.maximum(current_A - run_A[-1], 0.0) * liquid_resistance_ohm(runs[0])
    if len(runs) == 1:
        return np.asarray(between + more_V)
    rise_ohm = (run_needs_V[1] - run_needs_V[0]) / (run_A[1] - run_A[0])
    return np.asarray(between + more_V - np.maximum(run_A[0] - current_A, 0.0) * rise_ohm)


def liquid_resistance_ohm(run: Run) -> float:
    """Return the resistance of the liquid as it was made."""
    conductivity = run.conductivity_S_m[0]
    between = 0.5 * (conductivity[:-1] + conductivity[1:])
    return float((1 / (between * run.cell.geometry.conductance_m)).sum())
