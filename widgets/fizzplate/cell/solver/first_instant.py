"""Potentials and current at the first instant of a stage, in liquids that stand still."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell.physics import CURRENT_EXPONENT, REFERENCE_DIFFUSION_M2_S, at_ends
from fizzplate.cell.solver.state import SupplyControl, Unknowns

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.cell.physics import SpeciesProfile, Supply
    from fizzplate.cell.solver.transport import Transport

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

NO_CURRENT_A = 1e-8  # less changes nothing that could be seen, weighed or read off a meter
EXACT = 1e-6  # V, and relative of the current
BLOCKED_A = 0.1 * NO_CURRENT_A  # stands for whatever is less


def first_potentials(
    transport: Transport,
    supplies: Sequence[Supply],
    totals: Array,
    speciated: SpeciesProfile,
    mixing: Array,
) -> tuple[Unknowns, SupplyControl]:
    """Solve potentials and current for liquids that stand still: the first instant.

    The voltage that a supply must give rises steadily with the current: Newton's method on ln I,
    within a bracket that shrinks. Where not even the least current can flow, it is the current.
    """
    max_voltage_V = np.array([supply.max_voltage_V for supply in supplies])
    high = np.array([supply.ln_max_current_A for supply in supplies])
    ln_area = np.log(transport.border.area_m2)
    concentration = speciated.concentration_mol_m3
    faces = at_ends(speciated.carried_mol_m3)
    transport.face_model.set_activities(speciated)
    mixing_m2_s = REFERENCE_DIFFUSION_M2_S * mixing
    still = transport.flow.steps_carrying(concentration, np.zeros_like(high), mixing_m2_s)
    potential_V = np.zeros((len(supplies), 2))

    def at(ln_current: Array, guess_V: Array) -> Unknowns:
        wanted = np.repeat((ln_current - ln_area)[:, None], 2, axis=1)
        solved_V = transport.kinetics.potentials(wanted, faces, guess_V)
        current_mol_s = transport.border.current_mol_s(ln_current)
        u = transport.flow.steps_carrying(concentration, current_mol_s, mixing_m2_s)
        return Unknowns(totals.copy(), u, solved_V, ln_current, mixing)

    def slope_V(now: Unknowns) -> Array:
        """Rise of the supply's voltage with ln I: electrodes, liquid, lamp."""
        ln_density = np.repeat((now.ln_current - ln_area)[:, None], 2, axis=1)
        rates = transport.kinetics.rates(now.potential_V, faces, ln_density)
        by_ln = -rates.miss_by_ln_density / rates.miss_by_E
        liquid_V = transport.border.thermal_V * (now.u - still).sum(axis=1)
        cell_V = transport.border.direction * (by_ln[:, 1] - by_ln[:, 0] + liquid_V)
        return np.asarray(
            cell_V + transport.border.lamp_voltage_V(now.ln_current) / CURRENT_EXPONENT
        )

    if not transport.border.direction:
        none = np.full_like(high, math.log(NO_CURRENT_A))
        nothing = Unknowns(totals.copy(), still, potential_V, none, mixing)
        return nothing, SupplyControl(np.zeros(none.shape, dtype=bool), none)
    unknowns = at(high, potential_V)
    enough = transport.border.supply_voltage_V(unknowns) <= max_voltage_V
    if enough.all():
        return unknowns, SupplyControl(~enough, high)
    low = np.full_like(high, math.log(BLOCKED_A))
    limit = high
    unknowns = at(low, unknowns.potential_V)
    blocked = transport.border.supply_voltage_V(unknowns) >= max_voltage_V
    guess = np.where(enough, limit, high - 2.0)  # a little below the limit, where most cells work
    guess = np.where(blocked, low, guess)
    for _ in range(80):
        unknowns = at(guess, unknowns.potential_V)
        miss_V = transport.border.supply_voltage_V(unknowns) - max_voltage_V
        rise_V = slope_V(unknowns)
        off = ~enough & ~blocked & (np.abs(miss_V) >= EXACT * np.minimum(rise_V, 1.0))
        if not off.any():
            break
        high, low = np.where(miss_V > 0, guess, high), np.where(miss_V > 0, low, guess)
        newton = guess - miss_V / rise_V
        inside = (low < newton) & (newton < high)
        guess = np.where(off, np.where(inside, newton, 0.5 * (low + high)), guess)
    return unknowns, SupplyControl(~enough, np.where(enough, limit, max_voltage_V))
