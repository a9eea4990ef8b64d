"""Electrode kinetics: Butler-Volmer equation, Tafel's law, Nernst equation and limiting current.

They give the rate of every reaction at an electrode, all at one electrode potential.

The Butler-Volmer equation ``i = i0 (exp(alpha f eta) - exp(-(1 - alpha) f eta))`` is written here as its
forward part (Tafel's law) times what the reverse part leaves of it, and its concentrations are those that
the supply to the face allows. Each reaction is one-way and positive. With ``sigma`` = +1 for an oxidation and
-1 for a reduction and ``f = F/RT``,

- Tafel: ``k = i0 (a / a_ref) exp(alpha f sigma (E - E0))``; without the activity for a reaction that
  uses up nothing dissolved (water, the metal itself). ``a`` is the concentration times what the liquid's
  equilibria say of it (:meth:`Kinetics.set_activities`), ``a_ref`` one mole in a cubic decimetre.
  ``E - E0`` is the overpotential against the standard potential. On platinum the overpotential against
  the equilibrium counts, whatever the pH: there ``k`` also goes with a power of the activity of the H+ or
  OH- that the reaction forms. Copper(I) forms of copper(II) only with halide: its rate goes with both;
- limiting current: ``i = k P(x) / (1 + sum(k / l))``, in series with ``l = n F D c / (nu * nearest layer)``,
  the supply across a layer next to the face, summed over all reactions that share the species;
- crystals: a metal dissolves no faster than its ions leave a face where a salt of them is saturated
  (:mod:`fizzplate.cell.physics.crystals`), in series in the same way;
- reverse part: ``P(x) = 1 - exp(-x)``, nothing below zero, stops a reaction at its equilibrium; the
  affinity is ``x = n f sigma (E - E_eq)``, with ``E_eq`` by the Nernst equation from the activities at the
  face. A metal's deposition and its dissolution have one exchange current density and transfer
  coefficients that add up to ``n``, so the current through the equilibrium is ``i0 n f eta`` both ways.

Near an equilibrium the logarithm of the net current density is steep, and an iteration on it swings to and
fro. So both parts are summed by themselves, and a current density ``i`` is balanced where
``ln(forward) = ln(backward + i)``, which is nearly straight everywhere. Below its equilibrium a reaction's
two parts are equal, and fade.

At one electrode a metal can dissolve while other ions plate on it or hydrogen forms (corrosion,
displacement). Reactions that run against an electrode's own add to the current that these must balance, so
without a current the electrode is at its mixed potential, where both are equal. Only the potential is
theirs: what they make and use up is left out, and the shares are those of the current in the wire.

What is discharged follows from the sums; no table says it. Each reaction's share of the current is its
Faraday efficiency (current efficiency). Potentials in V against the standard hydrogen electrode,
concentrations in mol/m3, current densities in A/m2.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell.physics.crystals import ln_room
from fizzplate.cell.physics.electrode_reactions import STANDARD_MOL_M3, Electrode
from fizzplate.chemistry import FARADAY_C_MOL, GAS_J_MOL_K
from fizzplate.chemistry import electrodes as electrode_materials

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.cell.physics.electrode_reactions import ExchangeFactors

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    Places = np.ndarray[tuple[int, ...], np.dtype[np.int_]]

FLOOR_MOL_M3 = 1e-13  # below any concentration that the equilibria of water allow in a school
# In RT: nearer to its equilibrium a reaction's share of the current fades smoothly. 1.8 % of its forward part
# are left there; with less, runs get stuck where a second reaction comes to its equilibrium beside a metal's.
NEAREST_AFFINITY = 0.05
NEVER = -1e5  # logarithm of the rate of a reaction that does not happen
BOUNDLESS = 1e6  # logarithm of a limit that is never reached
MAX_SHIFT_V = 80.0
MAX_EXPONENT = 700.0
TINY = 1e-300
NOTHING = 40.0  # logarithm of what is more than rounding over what is not
MAX_LN_Q = 3.0  # of what an iteration may try: a thousand widths beyond saturation are enough
EXACT = 1e-11  # of a current density
ROUNDING = 5e-14  # of a logarithm


@dataclass(frozen=True, slots=True)
class FaceRates:
    """How the reactions at the faces of B cells share a current, and whether they can carry it.

    Reactions are numbered as in each electrode's own list; the shorter list is filled up with
    reactions that never happen.

    Parameters
    ----------
    miss
        ``ln(forward) - ln(backward + i)``: above zero where they carry more than the current, (B, 2).
    miss_by_E
        Its derivative by the electrode potential, 1/V, (B, 2).
    miss_by_c
        By the species' concentrations, (B, 2, species).
    miss_by_ln_density
        By the logarithm of the current density, (B, 2).
    share
        Fraction of the current that each reaction carries, (B, 2, reactions).
    share_by_E
        (B, 2, reactions).
    share_by_c
        (B, 2, reactions, species).
    to_equilibrium_V
        How far above the reactions' equilibria the potential is, on the average of their forward parts;
        endless where it is not, (B, 2).
    """

    miss: Array
    miss_by_E: Array
    miss_by_c: Array
    miss_by_ln_density: Array
    share: Array
    share_by_E: Array
    share_by_c: Array
    to_equilibrium_V: Array


@dataclass(frozen=True, slots=True)
class NetDensity:
    """The net current density of reactions at the faces of B cells.

    Parameters
    ----------
    A_m2
        A/m2, (B, 2).
    ln_by_E, ln_by_c
        Derivatives of its logarithm: 1/V, (B, 2), and m3/mol, (B, 2, species).
    """

    A_m2: Array
    ln_by_E: Array
    ln_by_c: Array


@dataclass(frozen=True, slots=True)
class _Tafel:
    """What reactions would do if their supply and their reverse parts did not limit them."""

    ln_k: Array  #: of the Tafel rates in A/m2, (B, 2, R)
    supplied: Array  #: concentration of what limits them, mol/m3, (B, 2, R)
    ln_supplied: Array
    there: Array  #: concentrations that count in the equilibria, mol/m3, (B, 2, species)
    affinity: Array  #: above zero where they run, in RT, (B, 2, R)


class Kinetics:
    """Butler-Volmer rates of the reactions at both electrodes of B cells that are alike, at one temperature.

    Parameters
    ----------
    electrodes
        At position 0 and at the other end.
    species
        Number of species.
    exchange_factors
        By what each cell's exchange current densities are multiplied, B of them.
    temperature_K
        Temperature.
    """

    def __init__(
        self,
        electrodes: tuple[Electrode, Electrode],
        species: int,
        exchange_factors: Sequence[ExchangeFactors],
        temperature_K: float,
    ) -> None:
        cells = len(exchange_factors)
        most = max(len(electrode.reactions) for electrode in electrodes)
        f = FARADAY_C_MOL / (GAS_J_MOL_K * temperature_K)
        self._ln_exchange = np.full((cells, 2, most), NEVER)
        self._standard_V = np.zeros((2, most))
        #: +1 for the electrode that oxidises, -1 for the one that reduces, (2,)
        self.sigma = np.ones(2)
        self._by_E = np.zeros((2, most))  # of the Tafel rate's logarithm
        self._affinity_by_E = np.zeros((2, most))
        self._V_by_affinity = np.zeros((2, most))
        self._ln_supply = np.full((2, most), BOUNDLESS)
        self._limited = np.zeros((2, most))
        self._supplies = np.zeros((2, species, most))
        self._own_metal = np.zeros((2, most), dtype=bool)
        self._quotient = np.zeros((2, species, most))
        self._ln_reference = np.zeros((2, most))
        self._trace = np.zeros(species)
        # the species whose activities the Tafel rate follows: what it uses, what it forms
        self._uses = np.zeros((2, species, most))
        self._orders = np.zeros((2, species, most))
        self._ln_ordered = np.zeros((2, most))
        for side, electrode in enumerate(electrodes):
            for k, reaction in enumerate(electrode.reactions):
                sigma = reaction.sigma
                self.sigma[side] = sigma
                row = reaction.exchange
                factors = np.array(
                    [
                        math.prod(f for changed, f in each.items() if row.changes_with(changed))
                        for each in exchange_factors
                    ]
                )
                self._standard_V[side, k] = reaction.standard_potential_V
                self._by_E[side, k] = reaction.transfer_coefficient * f * sigma
                self._ln_exchange[:, side, k] = np.log(factors * row.value_A_m2)
                self._ln_exchange[:, side, k] -= self._by_E[side, k] * reaction.film_V
                self._affinity_by_E[side, k] = reaction.electrons * f * sigma
                self._V_by_affinity[side, k] = 1 / (reaction.electrons * f)
                own = electrode_materials()[electrode.material].formula
                self._own_metal[side, k] = bool(reaction.solid) and reaction.solid == own
                if reaction.limited_by:
                    self._limited[side, k] = 1.0
                    self._ln_supply[side, k] = math.log(reaction.supply_A_m)
                    self._uses[side, next(iter(reaction.limited_by)), k] = 1.0
                    for place, weight in reaction.limited_by.items():
                        self._supplies[side, place, k] = weight
                for place, order in reaction.orders.items():
                    self._orders[side, place, k] = order
                    self._ln_ordered[side, k] -= order * math.log(STANDARD_MOL_M3)
                for place, exponent, reference, trace in reaction.quotient:
                    self._quotient[side, place, k] = exponent
                    self._ln_reference[side, k] += exponent * math.log(reference)
                    self._trace[place] = trace
        self._has_orders = bool(self._orders.any())
        self._crystals = _Crystals(electrodes, species, most)
        against = tuple(Electrode(each.material, each.opposing) for each in electrodes)
        #: what runs the other way at the same potentials, if anything
        self.opposing = (
            Kinetics((against[0], against[1]), species, exchange_factors, temperature_K)
            if any(each.reactions for each in against)
            else None
        )
        #: ln of the activities at the faces over the concentrations: in rates, and in Nernst's equation
        self._ln_activity_of_rate: Array = np.zeros((cells, 2, most))
        self._ln_activity_quotient: Array = np.zeros((cells, 2, most))
        #: logarithm of the part of an electrode's own metal that no other covers
        self.ln_bare = np.zeros((cells, 2))
        # pairs of reactions that use the same species, and each with itself
        alike = np.einsum("sck,scj->skj", self._supplies, self._supplies) > 0
        self._together = alike | np.eye(most, dtype=bool)
        self._sharing = bool(self._together.sum() > 2 * most)
        #: logarithm of the largest current density that what is left of a solid allows, A/m2
        self.ln_solid_limit = np.full((cells, 2, most), BOUNDLESS)

    def keep(self, members: Places) -> None:
        """Keep only these cells."""
        self._ln_exchange = self._ln_exchange[members]
        self.ln_solid_limit = self.ln_solid_limit[members]
        self.ln_bare = self.ln_bare[members]
        self._ln_activity_of_rate = self._ln_activity_of_rate[members]
        self._ln_activity_quotient = self._ln_activity_quotient[members]
        if self.opposing is not None:
            self.opposing.keep(members)

    def set_activities(self, ln_activity: Array) -> None:
        """Take over what the liquid's equilibria say of the faces: ln(activity / concentration).

        The array is (B, 2, species); before, activities are concentrations. How they change with the
        liquid is left out of the derivatives: iterations find it.
        """
        self._ln_activity_of_rate = _along(ln_activity, self._uses + self._orders)
        self._ln_activity_quotient = _along(ln_activity, self._quotient)
        if self.opposing is not None:
            self.opposing.set_activities(ln_activity)

    def rates(self, E: Array, concentration_mol_m3: Array, ln_density: Array) -> FaceRates:
        """Return how reactions carry a current density, at potentials and compositions of the faces.

        ``E`` is (B, 2), the composition (B, 2, species), and ``ln_density`` the logarithm of the
        current density in A/m2, (B, 2).
        """
        tafel = self._tafel(E, concentration_mol_m3)
        affinity = tafel.affinity
        ln_i, slope, by_c, affinity_by_c = self._rates(tafel, concentration_mol_m3)
        above, below = np.maximum(affinity, 0.0), np.minimum(affinity, 0.0)
        has_stopped = affinity < 0
        ln_forward = ln_i + below
        largest = ln_forward.max(axis=-1)
        forward = np.exp(ln_forward - largest[..., None])
        backward = forward * np.exp(-above)
        ln_lost = largest + np.log(np.maximum(backward.sum(axis=-1), TINY))
        ln_needed = np.logaddexp(ln_lost, ln_density)
        opposed = None
        if self.opposing is not None:
            opposed = self.opposing.net_density(E, concentration_mol_m3, ln_needed)
        if opposed is not None:
            ln_needed = np.logaddexp(ln_needed, np.log(np.maximum(opposed.A_m2, TINY)))
        backward *= np.exp(np.minimum(largest - ln_needed, MAX_EXPONENT))[..., None]
        whole = forward.sum(axis=-1)
        forward /= whole[..., None]
        both = forward - backward
        of_affinity = np.where(has_stopped, both, backward)
        miss_by_E = (both * slope + of_affinity * self._affinity_by_E).sum(axis=-1)
        miss_by_c = (both[:, :, None] @ by_c + of_affinity[:, :, None] @ affinity_by_c)[:, :, 0]
        if opposed is not None:
            part = opposed.A_m2 * np.exp(-ln_needed)
            miss_by_E -= part * opposed.ln_by_E
            miss_by_c -= part[..., None] * opposed.ln_by_c
        above_V = (forward * above * self._V_by_affinity).sum(axis=-1)
        ln_stop, by_affinity = _stop(affinity)
        ln_i = ln_i + ln_stop
        slope = slope + by_affinity * self._affinity_by_E
        by_c = by_c + by_affinity[..., None] * affinity_by_c
        share = np.exp(ln_i - ln_i.max(axis=-1, keepdims=True))
        share /= share.sum(axis=-1, keepdims=True)
        mean_by_E = (share * slope).sum(axis=-1, keepdims=True)
        return FaceRates(
            miss=largest + np.log(whole) - ln_needed,
            miss_by_E=miss_by_E,
            miss_by_c=miss_by_c,
            miss_by_ln_density=-np.exp(ln_density - ln_needed),
            share=share,
            share_by_E=share * (slope - mean_by_E),
            share_by_c=share[..., None] * (by_c - share[:, :, None] @ by_c),
            to_equilibrium_V=np.where(above_V > 0, above_V, np.inf),
        )

    def net_density(
        self, E: Array, concentration_mol_m3: Array, ln_beside: Array
    ) -> NetDensity | None:
        """Return the net current density of all reactions together, at potentials and compositions.

        None where it is no more than rounding beside the current densities ``exp(ln_beside)``, (B, 2).
        """
        tafel = self._tafel(E, concentration_mol_m3)
        ln_stop, by_affinity = _stop(tafel.affinity)
        if ((tafel.ln_k + ln_stop).max(axis=-1) < ln_beside - NOTHING).all():
            return None
        ln_i, slope, by_c, affinity_by_c = self._rates(tafel, concentration_mol_m3)
        ln_i = ln_i + ln_stop + self.ln_bare[..., None]
        slope = slope + by_affinity * self._affinity_by_E
        by_c = by_c + by_affinity[..., None] * affinity_by_c
        largest = np.minimum(ln_i.max(axis=-1, keepdims=True), MAX_EXPONENT)
        share = np.exp(np.minimum(ln_i - largest, 0.0))
        whole = share.sum(axis=-1, keepdims=True)
        share /= whole
        return NetDensity(
            A_m2=np.exp(largest[..., 0]) * whole[..., 0],
            ln_by_E=(share * slope).sum(axis=-1),
            ln_by_c=(share[:, :, None] @ by_c)[:, :, 0],
        )

    def _tafel(self, E: Array, concentration_mol_m3: Array) -> _Tafel:
        """Return how fast each reaction would be by Tafel's law, and how far it is from its equilibrium."""
        drive_V = E[:, :, None] - self._standard_V
        supplied = np.maximum(_along(concentration_mol_m3, self._supplies), FLOOR_MOL_M3)
        ln_supplied = np.log(supplied)
        ln_k = (
            self._ln_exchange
            + self._by_E * drive_V
            + self._limited * (ln_supplied - math.log(STANDARD_MOL_M3))
            + self._ln_activity_of_rate
            + self._ln_ordered
        )
        there = np.maximum(concentration_mol_m3 + self._trace, FLOOR_MOL_M3)
        ln_there = np.log(there)
        if self._has_orders:
            ln_k += _along(ln_there, self._orders)
        # Nernst equation, E_eq = E0 + sigma ln(Q) / (n f)
        quotient = _along(ln_there, self._quotient) - self._ln_reference
        quotient += self._ln_activity_quotient
        affinity = self._affinity_by_E * drive_V - quotient
        return _Tafel(ln_k, supplied, ln_supplied, there, affinity)

    def _rates(
        self, tafel: _Tafel, concentration_mol_m3: Array
    ) -> tuple[Array, Array, Array, Array]:
        """Return ln of the forward rates, its derivatives by E and c, and those of the affinities by c."""
        ln_k, supplied, there = tafel.ln_k, tafel.supplied, tafel.there
        # a deposit that is used up lets its reaction take no share of what others are supplied with; an
        # electrode's own metal ends all at once and is held back last, or no step there could be solved
        some_end = bool(self.ln_solid_limit.min() < BOUNDLESS)
        by_E = self._by_E
        if some_end:
            ln_blocked, free = self._blocked(ln_k, ~self._own_metal)
            ln_k, by_E = ln_k - ln_blocked, free * self._by_E
        # limiting current: by how much the rates exceed l, for all reactions that share the supply
        excess = ln_k - self._ln_supply - self._limited * tafel.ln_supplied
        if self._sharing:
            among = np.where(self._together, excess[:, :, None, :], -np.inf)
            together = np.logaddexp.reduce(among, axis=-1)
            weight = np.exp(among - together[..., None])
            excess, excess_by_E = together, (weight @ by_E[..., None])[..., 0]
        else:
            weight, excess_by_E = np.eye(excess.shape[-1]), by_E
        ln_series = np.logaddexp(0.0, excess)
        limited = np.exp(excess - ln_series)
        ln_i = ln_k - ln_series
        slope = by_E - limited * excess_by_E
        by_supply = (self._limited / supplied)[..., None] * self._supplies.transpose(0, 2, 1)
        by_c = by_supply
        if self._has_orders:
            by_c = by_c + self._orders.transpose(0, 2, 1) / there[:, :, None]
        if some_end:
            by_c = free[..., None] * by_c
        if by_c is not by_supply:
            by_c = by_c - limited[..., None] * (weight @ (by_c - by_supply))
        ln_i, slope, by_c = self._crystals.block(concentration_mol_m3, ln_i, slope, by_c)
        if some_end:
            ln_blocked, free = self._blocked(ln_i, self._own_metal)
            ln_i, slope, by_c = ln_i - ln_blocked, free * slope, free[..., None] * by_c
        affinity_by_c = -self._quotient.transpose(0, 2, 1) / there[:, :, None]
        return ln_i, slope, by_c, affinity_by_c

    def _blocked(self, ln_rate: Array, which: Array) -> tuple[Array, Array]:
        """Return ln of how far what is left of a solid holds its reaction back, and the part left free."""
        over = np.where(which, ln_rate - self.ln_solid_limit, -BOUNDLESS)
        ln_blocked = np.logaddexp(0.0, over)
        return ln_blocked, 1 - np.exp(over - ln_blocked)

    def potentials(self, ln_density: Array, concentration_mol_m3: Array, guess_V: Array) -> Array:
        """Return the potentials (V) at which all reactions add up to ``exp(ln_density)`` A/m2, (B, 2).

        The sum rises steadily with ``sigma E``; Newton's method within a bracket that shrinks.
        """
        low, high = np.full(guess_V.shape, -MAX_SHIFT_V), np.full(guess_V.shape, MAX_SHIFT_V)
        E = guess_V
        rising = self.sigma > 0
        for _ in range(200):
            rates = self.rates(E, concentration_mol_m3, ln_density)
            off = np.abs(rates.miss) >= np.maximum(EXACT * -rates.miss_by_ln_density, ROUNDING)
            if not off.any():
                break
            above = (rates.miss > 0) == rising
            high, low = np.where(above, E, high), np.where(above, low, E)
            slope = np.where(rates.miss_by_E == 0.0, TINY, rates.miss_by_E)
            better = E - rates.miss / slope
            inside = (low < better) & (better < high)
            E = np.where(off, np.where(inside, better, 0.5 * (low + high)), E)
        return E


class _Crystals:
    """The limits of reactions that dissolve a metal until a salt of it is saturated, S salts at most."""

    def __init__(self, electrodes: Sequence[Electrode], species: int, most: int) -> None:
        salts = max(len(r.saturations) for each in electrodes for r in each.reactions)
        self._exponents = np.zeros((salts, 2, species, most))
        self._ln_saturated = np.zeros((salts, 2, most))
        self._ln_supply = np.full((salts, 2, most), BOUNDLESS)
        for side, electrode in enumerate(electrodes):
            for k, reaction in enumerate(electrode.reactions):
                for s, salt in enumerate(reaction.saturations):
                    for row, exponent in salt.exponents:
                        self._exponents[s, side, row, k] = exponent
                    self._ln_saturated[s, side, k] = salt.ln_saturated
                    self._ln_supply[s, side, k] = math.log(
                        reaction.room_A_m * salt.saturated_mol_m3
                    )

    def block(
        self, concentration_mol_m3: Array, ln_i: Array, by_E: Array, by_c: Array
    ) -> tuple[Array, Array, Array]:
        """Return logarithms of rates (B, 2, R) that crystals limit, and their derivatives.

        ``by_E`` is like the rates, ``by_c`` (B, 2, R, species); the composition is (B, 2, species).
        """
        if not len(self._exponents):
            return ln_i, by_E, by_c
        there = np.maximum(concentration_mol_m3, FLOOR_MOL_M3)
        ln_there = np.log(there)
        for exponents, ln_saturated, ln_supply in zip(
            self._exponents, self._ln_saturated, self._ln_supply, strict=True
        ):
            ln_q = np.minimum(_along(ln_there, exponents) - ln_saturated, MAX_LN_Q)
            ln_left, left_by_ln_q = ln_room(np.exp(ln_q))
            over = ln_i - ln_supply - ln_left
            if over.max() < -NOTHING:
                continue
            blocked = np.logaddexp(0.0, over)
            free = np.exp(-blocked)
            ln_i = ln_i - blocked
            by_E = free * by_E
            q_by_c = exponents.transpose(0, 2, 1) / there[:, :, None]
            by_c = free[..., None] * by_c + ((1 - free) * left_by_ln_q)[..., None] * q_by_c
        return ln_i, by_E, by_c


def _stop(affinity: Array) -> tuple[Array, Array]:
    """Return ln P(x) for the shares and its derivative: P fades smoothly about the equilibrium."""
    high = np.minimum(np.maximum(affinity, NEAREST_AFFINITY), MAX_EXPONENT)
    near = affinity < NEAREST_AFFINITY
    fading = np.where(near, affinity - high, 0.0) / NEAREST_AFFINITY
    slope = np.where(near, 1 / NEAREST_AFFINITY, 1 / np.expm1(high))
    return np.log(-np.expm1(-high)) + fading, slope


def _along(values: Array, weights: Array) -> Array:
    """Sum (B, 2, species) values with each electrode's weights (2, species, reactions)."""
    return np.asarray((values[:, :, None] @ weights)[:, :, 0])
