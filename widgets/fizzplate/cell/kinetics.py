"""Every reaction that could carry the current at an electrode, all at one electrode potential.

Each is one-way and positive. With ``sigma`` = +1 for an oxidation and -1 for a reduction,

- ``k = i0 (c / c_ref) exp(alpha f sigma (E - E0))``, the Tafel rate, ``f = F/RT``; without the
  concentration for a reaction that uses up nothing dissolved (water, the metal itself);
- ``i = k l / (k + l) * P(x)``, in series with ``l = n F D c / (nu * nearest layer)``, the
  supply across a layer next to the face;
- ``P(x)``, a smooth positive part of ``1 - exp(-x)``, stops a reaction at its equilibrium; the
  affinity is ``x = n f sigma (E - E_eq)`` with the Nernst potential ``E_eq`` of the concentrations
  at the face.

What is discharged follows from the sums; no table says it. Potentials in V against the standard
hydrogen electrode, concentrations in mol/m3, current densities in A/m2.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data
from fizzplate.chemistry import balance, electrodes
from fizzplate.chemistry.constants import FARADAY_C_MOL, GAS_J_MOL_K
from fizzplate.chemistry.gases import GASES

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from fizzplate.cell.speciation import Speciation

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

STANDARD_MOL_M3 = 1000.0
FLOOR_MOL_M3 = 1e-15  # below any concentration that the equilibria of water allow
TRACE = 1e-6  # of saturation: without any dissolved gas its Nernst potential has no end
LEAST_AFFINITY = -6.0
LEAST_DENSITY_A_M2 = 1e-30  # stands for none where a logarithm is taken
# A dissolved halogen stands, when it is reduced, for all that shares its total: chloric(I) acid,
# chlorate(I), trihalides. They are supplied to the face together.
SUPPLIED_TOGETHER = {
    "Cl2": ("Cl2", "HClO", "ClO-"),
    "Br2": ("Br2", "Br3^-"),
    "I2": ("I2", "I3^-"),
}


@dataclass(frozen=True, slots=True, eq=False)
class Reaction:
    """One way in which current can pass at an electrode of a given material.

    Parameters
    ----------
    name
        Name in the tables.
    product
        Formula under which its share of the charge is reported.
    electrons
        Electrons that pass when it happens once as written.
    consumed, formed
        Amounts by formula when it happens once as written, electrons and water left out.
    limited_by
        Rows of the species that it uses up (summed), empty if none is dissolved.
    standard_potential_V, exchange_current_density_A_m2, transfer_coefficient
        Kinetics as in the module's equations.
    supply_A_m
        ``n F D / (nu * nearest layer)`` in A m/mol: times concentration, the largest current density.
    quotient
        The reaction quotient in its affinity: row of the species, exponent, reference, and trace
        that is always taken to be there, mol/m3.
    sigma
        +1 oxidation, -1 reduction.
    solid
        Formula of the solid on the electrode that it uses up, or empty.
    solids
        What the electrode gains of each solid when it happens once as written; negative: loses.
    """

    name: str
    product: str
    electrons: int
    consumed: Mapping[str, int]
    formed: Mapping[str, int]
    limited_by: tuple[int, ...]
    standard_potential_V: float
    exchange_current_density_A_m2: float
    transfer_coefficient: float
    supply_A_m: float
    quotient: tuple[tuple[int, float, float, float], ...]
    sigma: int
    solid: str
    solids: Mapping[str, int]


def reactions(
    role: str,
    material: str,
    model: Speciation,
    saturation_mol_m3: Mapping[str, float],
    diffusion_m2_s: Mapping[str, float],
    *,
    surface: str = "",
    plated: Iterable[str] = (),
) -> tuple[Reaction, ...]:
    """Return all reactions of the tables that are possible with these species.

    Parameters
    ----------
    role
        "anode" or "cathode".
    material
        Name of the electrode's material.
    model
        The species of the solution.
    saturation_mol_m3
        Concentration of a dissolved gas at which its activity is that of the gas at one atmosphere.
    diffusion_m2_s
        Diffusion coefficient of each species.
    surface
        Name of the metal that soon covers the electrode and on which hydrogen forms, if another.
    plated
        Solids that an earlier stage may have left on the electrode.
    """
    layer_m = data.find("model", quantity="nearest layer").value * 1e-6
    at = {name: i for i, name in enumerate(model.species)}
    own_metal = electrodes()[material].formula
    possible = []
    for row in data.rows("electrode_reactions"):
        if row["electrode"] != role:
            continue
        equation = balance(row["equation"])
        consumed = {s: n for n, s in equation.reactants if s not in {"e-", "H2O"}}
        formed = {s: n for n, s in equation.products if s not in {"e-", "H2O"}}
        limit = row["limited_by"]
        solid = next((s for s in consumed if s not in at), "")
        if solid and solid != own_metal and solid not in plated:
            continue
        if limit and limit not in at:
            continue
        if any(s.endswith(("+", "-")) and s not in at for s in formed):
            continue
        on = surface if surface and row["product"] == "H2" else material
        electrons = equation.electrons
        rows = tuple(at[s] for s in SUPPLIED_TOGETHER.get(limit, (limit,) if limit else ()))
        count = consumed.get(limit, 1)
        possible.append(
            Reaction(
                name=row["reaction"],
                product=row["product"],
                electrons=electrons,
                consumed=consumed,
                formed=formed,
                limited_by=rows,
                standard_potential_V=row.value,
                exchange_current_density_A_m2=_kinetic(
                    row["reaction"], on, "exchange current density"
                ),
                transfer_coefficient=_kinetic(row["reaction"], on, "transfer coefficient"),
                supply_A_m=(
                    electrons * FARADAY_C_MOL * diffusion_m2_s[limit] / (count * layer_m)
                    if limit
                    else math.inf
                ),
                quotient=tuple(
                    (
                        at[s],
                        sign * n,
                        saturation_mol_m3.get(s, STANDARD_MOL_M3),
                        TRACE * saturation_mol_m3[s] if s in saturation_mol_m3 else 0.0,
                    )
                    for side, sign in ((formed, 1.0), (consumed, -1.0))
                    for s, n in side.items()
                    if s in at
                ),
                sigma=1 if role == "anode" else -1,
                solid=solid,
                solids={
                    s: sign * n
                    for side, sign in ((consumed, -1), (formed, 1))
                    for s, n in side.items()
                    if s not in at and s not in GASES
                },
            )
        )
    return tuple(possible)


def _kinetic(reaction: str, material: str, quantity: str) -> float:
    """Look a value up for the material, or for any."""
    try:
        row = data.find("kinetics", reaction=reaction, material=material, quantity=quantity)
    except KeyError:
        row = data.find("kinetics", reaction=reaction, material="any", quantity=quantity)
    return row.value


@dataclass(frozen=True, slots=True)
class FaceRates:
    """Current densities at one face and how they answer to potential and concentrations.

    Parameters
    ----------
    ln_sum
        Logarithm of the sum of all current densities, A/m2.
    ln_sum_by_E
        Its derivative by the electrode potential, 1/V.
    ln_sum_by_c
        Its derivative by the species' concentrations, (species,).
    share
        Fraction of the current that each reaction carries, (reactions,).
    share_by_E
        (reactions,).
    share_by_c
        (reactions, species).
    """

    ln_sum: float
    ln_sum_by_E: float
    ln_sum_by_c: Array
    share: Array
    share_by_E: Array
    share_by_c: Array


class Electrode:
    """One electrode with its reactions, at one temperature."""

    def __init__(
        self, material: str, possible: Sequence[Reaction], species: int, temperature_K: float
    ) -> None:
        self.own_metal = electrodes()[material].formula
        self.reactions = tuple(possible)
        self.species = species
        self.f = FARADAY_C_MOL / (GAS_J_MOL_K * temperature_K)
        self.width = data.find("model", quantity="affinity width").value
        #: largest current density that the solid left on the electrode allows each reaction, A/m2
        self.solid_limit_A_m2 = [math.inf] * len(self.reactions)

    def _one(self, k: int, E: float, c: list[float], by_c: Array) -> tuple[float, float]:
        """Return ln i of reaction ``k`` and its slope by E; fill its slopes by concentration."""
        reaction = self.reactions[k]
        drive = self.f * reaction.sigma * (E - reaction.standard_potential_V)
        ln_i = (
            math.log(reaction.exchange_current_density_A_m2) + reaction.transfer_coefficient * drive
        )
        slope = reaction.transfer_coefficient * self.f * reaction.sigma
        if reaction.limited_by:
            supplied = max(sum(c[j] for j in reaction.limited_by), FLOOR_MOL_M3)
            ln_k = ln_i + math.log(supplied / STANDARD_MOL_M3)
            ln_supply = math.log(reaction.supply_A_m * supplied)
            excess = ln_k - ln_supply
            # share of the kinetic step in the series: 1 where the supply is plentiful
            kinetic = 1.0 / (1.0 + math.exp(min(excess, 700.0)))
            ln_i = ln_supply + math.log1p(-kinetic) if excess > 0 else ln_k + math.log(kinetic)
            slope *= kinetic
            for j in reaction.limited_by:
                by_c[j] += 1.0 / supplied
        if self.solid_limit_A_m2[k] < math.inf:
            ln_limit = math.log(max(self.solid_limit_A_m2[k], LEAST_DENSITY_A_M2))
            kinetic = 1.0 / (1.0 + math.exp(min(ln_i - ln_limit, 700.0)))
            ln_i = ln_limit + math.log1p(-kinetic) if ln_i > ln_limit else ln_i + math.log(kinetic)
            slope *= kinetic
        affinity = reaction.electrons * drive
        for j, exponent, reference, trace in reaction.quotient:
            affinity -= exponent * math.log(max(c[j] + trace, FLOOR_MOL_M3) / reference)
        ln_stop, stop_slope = self._stop(affinity)
        ln_i += ln_stop
        if stop_slope != 0.0:
            slope += stop_slope * reaction.electrons * self.f * reaction.sigma
            for j, exponent, _, trace in reaction.quotient:
                by_c[j] -= stop_slope * exponent / max(c[j] + trace, FLOOR_MOL_M3)
        return ln_i, slope

    def _stop(self, affinity: float) -> tuple[float, float]:
        """Return ln P(x) and its derivative."""
        if affinity > 40.0:
            return 0.0, 0.0
        if affinity < LEAST_AFFINITY:
            ln_least, slope = self._stop(LEAST_AFFINITY)
            return ln_least + slope * (affinity - LEAST_AFFINITY), slope
        decay = math.exp(-affinity)
        y = (1.0 - decay) / self.width
        # softplus(y) = ln(1 + exp(y)), scaled so that P tends to one far from equilibrium
        if y < -30.0:
            ln_softplus, by_y = y, 1.0
        else:
            softplus = y + math.log1p(math.exp(-y)) if y > 0 else math.log1p(math.exp(y))
            ln_softplus = math.log(softplus)
            by_y = 1.0 / ((1.0 + math.exp(-y)) * softplus)
        return math.log(self.width) + ln_softplus, by_y * decay / self.width

    def rates(self, E: float, concentration_mol_m3: Array) -> FaceRates:
        """Return the current densities at potential ``E`` with the face concentrations given."""
        c: list[float] = concentration_mol_m3.tolist()
        count = len(self.reactions)
        ln_i = np.empty(count)
        by_E = np.empty(count)
        by_c = np.zeros((count, self.species))
        for k in range(count):
            ln_i[k], by_E[k] = self._one(k, E, c, by_c[k])
        largest = ln_i.max()
        weight = np.exp(ln_i - largest)
        total = weight.sum()
        share = weight / total
        ln_sum_by_E = float(share @ by_E)
        ln_sum_by_c = share @ by_c
        return FaceRates(
            ln_sum=float(largest + math.log(total)),
            ln_sum_by_E=ln_sum_by_E,
            ln_sum_by_c=ln_sum_by_c,
            share=share,
            share_by_E=share * (by_E - ln_sum_by_E),
            share_by_c=share[:, None] * (by_c - ln_sum_by_c),
        )

    def potential(self, ln_density: float, concentration_mol_m3: Array, guess_V: float) -> float:
        """Return the potential (V) at which the sum of all reactions is ``exp(ln_density)`` A/m2.

        The sum rises steadily with ``sigma E``; Newton's method within a bracket that shrinks.
        """
        sigma = self.reactions[0].sigma
        low, high = -80.0, 80.0
        E = guess_V
        for _ in range(200):
            rates = self.rates(E, concentration_mol_m3)
            miss = rates.ln_sum - ln_density
            if abs(miss) < 1e-11:
                break
            if (miss > 0) == (sigma > 0):
                high = E
            else:
                low = E
            step = -miss / rates.ln_sum_by_E if rates.ln_sum_by_E else math.inf
            E = E + step if low < E + step < high else 0.5 * (low + high)
        return E
