"""Residual current: what flows below the decomposition voltage, because water holds oxygen of the air.

At the cathode this oxygen is reduced (:mod:`fizzplate.cell.air_oxygen`), ``O2 + 4H+ + 4e- -> 2H2O``, beside
everything that a run has there: both go on at one cathode potential, and their currents add up. Anode and
liquid need the voltage that they need in a run of the same current.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell.air_oxygen import OxygenReduction, resistance_ohm

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.cell.run import Run

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

MORE_POTENTIALS = 40  # at which oxygen alone is reduced
ROUNDS = 4  # until pH and current at the cathode agree


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
    first = flowing[0]
    oxygen = OxygenReduction(first.cell, first.cell.cathode, first.time_s[-1:])
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
    return float(resistance_ohm(run.conductivity_S_m[0], run.cell.geometry))
