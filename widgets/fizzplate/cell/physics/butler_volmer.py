"""Electrode kinetics: Butler-Volmer equation, Tafel's law, Nernst equation and limiting current.

They give the rate of every reaction at an electrode, all at one electrode potential.

The Butler-Volmer equation ``i = i0 (exp(alpha f eta) - exp(-(1 - alpha) f eta))`` is written here as its
forward part (Tafel's law) times what the reverse part leaves of it, and its concentrations are those that
the supply to the face allows. Each reaction is one-way and positive. With ``sigma`` = +1 for an oxidation and
-1 for a reduction and ``f = F/RT``,

- Tafel: ``k = i0 (c / c_ref) exp(alpha f sigma (E - E0))``; without the concentration for a reaction that
  uses up nothing dissolved (water, the metal itself). ``E - E0`` is the overpotential against the
  standard potential;
- limiting current: ``i = k P(x) / (1 + sum(k / l))``, in series with ``l = n F D c / (nu * nearest layer)``,
  the supply across a layer next to the face, summed over all reactions that share the species;
- reverse part: ``P(x)``, a smooth positive part of ``1 - exp(-x)``, stops a reaction at its equilibrium; the
  affinity is ``x = n f sigma (E - E_eq)``, with ``E_eq`` by the Nernst equation from the concentrations
  at the face.

What is discharged follows from the sums; no table says it. Each reaction's share of the current is its
Faraday efficiency (current efficiency). Potentials in V against the standard hydrogen electrode,
concentrations in mol/m3, current densities in A/m2.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data
from fizzplate.cell.physics.electrode_reactions import STANDARD_MOL_M3
from fizzplate.chemistry import FARADAY_C_MOL, GAS_J_MOL_K

if TYPE_CHECKING:
    from fizzplate.cell.physics.electrode_reactions import Electrode

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    Places = np.ndarray[tuple[int, ...], np.dtype[np.int_]]

FLOOR_MOL_M3 = 1e-13  # below any concentration that the equilibria of water allow in a school
MIN_AFFINITY = -6.0
NEVER = -1e5  # logarithm of the rate of a reaction that does not happen
BOUNDLESS = 1e6  # logarithm of a limit that is never reached
MAX_SHIFT_V = 80.0
TINY = 1e-300


@dataclass(frozen=True, slots=True)
class FaceRates:
    """Current densities at the faces of B cells and how they answer to potential and composition.

    Reactions are numbered as in each electrode's own list; the shorter list is filled up with
    reactions that never happen.

    Parameters
    ----------
    ln_sum
        Logarithm of the sum of all current densities, A/m2, (B, 2).
    ln_sum_by_E
        Its derivative by the electrode potential, 1/V, (B, 2).
    ln_sum_by_c
        Its derivative by the species' concentrations, (B, 2, species).
    share
        Fraction of the current that each reaction carries, (B, 2, reactions).
    share_by_E
        (B, 2, reactions).
    share_by_c
        (B, 2, reactions, species).
    """

    ln_sum: Array
    ln_sum_by_E: Array
    ln_sum_by_c: Array
    share: Array
    share_by_E: Array
    share_by_c: Array


class Kinetics:
    """Butler-Volmer rates of the reactions at both electrodes of B cells that are alike, at one temperature.

    Parameters
    ----------
    electrodes
        At position 0 and at the other end.
    species
        Number of species.
    cells
        B.
    temperature_K
        Temperature.
    """

    def __init__(
        self,
        electrodes: tuple[Electrode, Electrode],
        species: int,
        cells: int,
        temperature_K: float,
    ) -> None:
        most = max(len(electrode.reactions) for electrode in electrodes)
        f = FARADAY_C_MOL / (GAS_J_MOL_K * temperature_K)
        self._width = data.find("model", quantity="affinity width").value
        self._ln_exchange = np.full((2, most), NEVER)
        self._standard_V = np.zeros((2, most))
        self._sigma = np.ones((2, 1))
        self._by_E = np.zeros((2, most))  # of the Tafel rate's logarithm
        self._affinity_by_E = np.zeros((2, most))
        self._ln_supply = np.full((2, most), BOUNDLESS)
        self._limited = np.zeros((2, most))
        self._supplies = np.zeros((2, species, most))
        self._quotient = np.zeros((2, species, most))
        self._ln_reference = np.zeros((2, most))
        self._trace = np.zeros(species)
        for side, electrode in enumerate(electrodes):
            for k, reaction in enumerate(electrode.reactions):
                sigma = reaction.sigma
                self._sigma[side] = sigma
                self._ln_exchange[side, k] = math.log(reaction.exchange_current_density_A_m2)
                self._standard_V[side, k] = reaction.standard_potential_V
                self._by_E[side, k] = reaction.transfer_coefficient * f * sigma
                self._affinity_by_E[side, k] = reaction.electrons * f * sigma
                if reaction.limited_by:
                    self._limited[side, k] = 1.0
                    self._ln_supply[side, k] = math.log(reaction.supply_A_m)
                    self._supplies[side, list(reaction.limited_by), k] = 1.0
                for row, exponent, reference, trace in reaction.quotient:
                    self._quotient[side, row, k] = exponent
                    self._ln_reference[side, k] += exponent * math.log(reference)
                    self._trace[row] = trace
        # pairs of reactions that use the same species, and each with itself
        alike = np.einsum("sck,scj->skj", self._supplies, self._supplies) > 0
        self._together = alike | np.eye(most, dtype=bool)
        self._sharing = bool(self._together.sum() > 2 * most)
        #: logarithm of the largest current density that what is left of a solid allows, A/m2
        self.ln_solid_limit = np.full((cells, 2, most), BOUNDLESS)

    def keep(self, members: Places) -> None:
        """Keep only these cells."""
        self.ln_solid_limit = self.ln_solid_limit[members]

    def rates(self, E: Array, concentration_mol_m3: Array) -> FaceRates:
        """Return the current densities at potentials ``E`` (B, 2) and compositions (B, 2, species)."""
        drive_V = E[:, :, None] - self._standard_V
        supplied = np.maximum(_along(concentration_mol_m3, self._supplies), FLOOR_MOL_M3)
        ln_supplied = np.log(supplied)
        ln_k = (
            self._ln_exchange
            + self._by_E * drive_V
            + self._limited * (ln_supplied - math.log(STANDARD_MOL_M3))
        )
        # limiting current: by how much the Tafel rates exceed l, for all reactions that share the supply
        excess = ln_k - self._ln_supply - self._limited * ln_supplied
        by_E = self._by_E
        if self._sharing:
            among = np.where(self._together, excess[:, :, None, :], -np.inf)
            together = np.logaddexp.reduce(among, axis=-1)
            weight = np.exp(among - together[..., None])
            excess, excess_by_E = together, (weight @ by_E[..., None])[..., 0]
        else:
            excess_by_E = by_E
        ln_series = np.logaddexp(0.0, excess)
        ln_i = ln_k - ln_series
        slope = by_E - np.exp(excess - ln_series) * excess_by_E
        over_solid = ln_i - self.ln_solid_limit
        ln_blocked = np.logaddexp(0.0, over_solid)
        free = 1 - np.exp(over_solid - ln_blocked)
        ln_i = ln_i - ln_blocked
        # Nernst equation, E_eq = E0 + sigma ln(Q) / (n f): how far each reaction is from its equilibrium
        there = np.maximum(concentration_mol_m3 + self._trace, FLOOR_MOL_M3)
        quotient = _along(np.log(there), self._quotient) - self._ln_reference
        ln_stop, by_affinity = self._stop(self._affinity_by_E * drive_V - quotient)
        ln_i = ln_i + ln_stop
        slope = free * slope + by_affinity * self._affinity_by_E
        by_c = (free * self._limited / supplied)[..., None] * self._supplies.transpose(0, 2, 1)
        by_c = by_c - by_affinity[..., None] * self._quotient.transpose(0, 2, 1) / there[:, :, None]
        largest = ln_i.max(axis=-1, keepdims=True)
        weight = np.exp(ln_i - largest)
        total = weight.sum(axis=-1, keepdims=True)
        share = weight / total
        ln_sum_by_E = (share * slope).sum(axis=-1)
        ln_sum_by_c = (share[:, :, None] @ by_c)[:, :, 0]
        return FaceRates(
            ln_sum=(largest + np.log(total))[..., 0],
            ln_sum_by_E=ln_sum_by_E,
            ln_sum_by_c=ln_sum_by_c,
            share=share,
            share_by_E=share * (slope - ln_sum_by_E[..., None]),
            share_by_c=share[..., None] * (by_c - ln_sum_by_c[:, :, None]),
        )

    def _stop(self, affinity: Array) -> tuple[Array, Array]:
        """Return ln P(x) and its derivative; a straight line far below equilibrium."""
        inside = np.maximum(affinity, MIN_AFFINITY)
        decay = np.exp(-inside)
        y = (1.0 - decay) / self._width
        # softplus(y) = ln(1 + exp(y)), scaled so that P tends to one far from equilibrium
        softplus = np.logaddexp(0.0, y)
        small = y < -30.0
        ln_softplus = np.where(small, y, np.log(np.where(small, 1.0, softplus)))
        by_y = np.where(small, 1.0, np.exp(y - softplus - ln_softplus))
        slope = by_y * decay / self._width
        far = np.logaddexp(0.0, 1.0 / self._width)
        return ln_softplus - np.log(far) + slope * (affinity - inside), slope

    def potentials(self, ln_density: Array, concentration_mol_m3: Array, guess_V: Array) -> Array:
        """Return the potentials (V) at which all reactions add up to ``exp(ln_density)`` A/m2, (B, 2).

        The sum rises steadily with ``sigma E``; Newton's method within a bracket that shrinks.
        """
        low, high = np.full(guess_V.shape, -MAX_SHIFT_V), np.full(guess_V.shape, MAX_SHIFT_V)
        E = guess_V
        rising = self._sigma[:, 0] > 0
        for _ in range(200):
            rates = self.rates(E, concentration_mol_m3)
            miss = rates.ln_sum - ln_density
            off = np.abs(miss) >= 1e-11
            if not off.any():
                break
            above = (miss > 0) == rising
            high, low = np.where(above, E, high), np.where(above, low, E)
            slope = np.where(rates.ln_sum_by_E == 0.0, TINY, rates.ln_sum_by_E)
            better = E - miss / slope
            inside = (low < better) & (better < high)
            E = np.where(off, np.where(inside, better, 0.5 * (low + high)), E)
        return E


def _along(values: Array, weights: Array) -> Array:
    """Sum (B, 2, species) values with each electrode's weights (2, species, reactions)."""
    return np.asarray((values[:, :, None] @ weights)[:, :, 0])
