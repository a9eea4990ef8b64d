"""Transport coefficients of ions in mixtures: migration and diffusion, corrected separately.

Migration (Onsager and Fuoss, with finite ions, ion pairs and one factor for the liquid's fluidity),
concentrations in mol/dm3, conductivities in S cm2 per equivalent:

- ``x = sqrt(I) / (1 + B sqrt(I))``, ``B = sum(c z^2 B_i) / (2 I)``;
- ``lambda_i = (lambda0_i - 30.3 |z_i| x) (1 - 0.785 R_i x) V``;
- ``R_i = -z_i [(1 + sqrt(M))^-1 S]_i`` with ``w = lambda0 / |z|``, ``mu = c z^2 / (2 I)``,
  ``M_ij = delta_ij sum_k mu_k w_k / (w_k + w_i) - mu_j w_i / (w_i + w_j)`` and
  ``S_i = sum_k mu_k (w_k z_k - w_i z_i) / (w_i + w_k)``;
- ``V = exp(-sum b_j C_j - sum B_ca C_c C_a)`` with total concentrations.

Diffusion keeps the coefficient of infinite dilution times V; paired ions diffuse as pairs.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data
from fizzplate.chemistry.constants import FARADAY_C_MOL, GAS_J_MOL_K, ZERO_CELSIUS_K
from fizzplate.chemistry.equilibria import PROTON
from fizzplate.chemistry.transport_properties.diffusion import diffusion_coefficient_m2_s

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike

    from fizzplate.chemistry.equilibria import ChemicalSystem, Member

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

ELECTROPHORETIC = 30.3  # S cm2/equivalent (dm3/mol)^0.5, water at 25 °C
RELAXATION = 0.785  # (dm3/mol)^0.5, water at 25 °C
MAX_FLUIDITY_MOL_DM3 = 2.5  # of the fluidity factor's range; held beyond
TRACE_MOL_DM3 = 1e-12
REFERENCE_K = 25 + ZERO_CELSIUS_K
#: 1/(1 + sqrt(y)) on 0.05 to 1 within 1e-3, as a polynomial in y (Chebyshev interpolation)
INVERSE_ROOT = np.polynomial.Chebyshev.interpolate(
    lambda y: 1 / (1 + np.sqrt(y)), 7, domain=[0.05, 1.0]
).convert(kind=np.polynomial.Polynomial)


def _per_species(species: Sequence[str], quantity: str, default: float | None) -> Array:
    rows = {r["species"]: r.value for r in data.rows("mobility") if r["quantity"] == quantity}
    if default is None:
        default = rows["any"]
    return np.array([rows.get(name, default) for name in species])


def conductivity_to_mobility(per_equivalent: ArrayLike, charge: ArrayLike) -> Array:
    """Return R T u (m2/s) at 25 °C from a conductivity per equivalent (S cm2): ``R T lambda / (|z| F^2)``."""
    scale = 1e-4 * GAS_J_MOL_K * REFERENCE_K / FARADAY_C_MOL**2
    return np.asarray(scale * np.asarray(per_equivalent) / np.abs(charge))


@cache
def _in_table() -> frozenset[str]:
    return frozenset(row["species"] for row in data.rows("diffusion"))


def _diffusion_m2_s(member: Member, system: ChemicalSystem) -> float:
    """Return the diffusion coefficient of a species at 25 °C; a complex may have no row of its own."""
    if member.formula in system.components or member.formula in _in_table():
        return diffusion_coefficient_m2_s(member.formula)
    return diffusion_coefficient_m2_s("complex" if member.charge else "neutral pair")


class Mobilities:
    """Effective transport coefficients of what is carried in mixtures of the same species.

    Parameters
    ----------
    system
        Every species of the liquid.
    carried
        Formulae of what is transported: an ion stands for itself and for the pairs that hold it.
    lumping
        How much of each species a carried one counts, (carried, S).
    temperature_K
        Temperature.
    corrections
        Whether to correct for concentration; otherwise everything moves as at infinite dilution,
        paired or not.
    """

    def __init__(
        self,
        system: ChemicalSystem,
        carried: Sequence[str],
        lumping: Array,
        temperature_K: float = REFERENCE_K,
        *,
        corrections: bool = True,
    ) -> None:
        names = [member.formula for member in system.species]
        self.corrections = corrections
        self._lumping = lumping
        self._charge = np.array([float(member.charge) for member in system.species])
        self._carried = [names.index(name) for name in carried]
        self._carried_charge = self._charge[self._carried]
        warmer = temperature_K - REFERENCE_K
        percent = _per_species(names, "temperature coefficient", None)
        # mobilities rise by so many per cent a kelvin; R T u rises with T besides
        self._warm = ((1 + percent / 100 * warmer) * temperature_K / REFERENCE_K)[:, None]
        paired = np.array([name not in carried for name in names])
        self._neutral_pair = (paired & (self._charge == 0))[:, None]
        self._charged_pair = (paired & (self._charge != 0))[:, None]
        free = np.array([[_diffusion_m2_s(member, system)] for member in system.species])
        self._diffusion = self._warm * free
        #: diffusion coefficient of each species at 25 °C and infinite dilution
        self.diffusion_m2_s = dict(zip(names, free[:, 0].tolist(), strict=True))
        self._ions(names, free[:, 0])
        self._fluidity(system, names)

    def _ions(self, names: Sequence[str], diffusion_m2_s: Array) -> None:
        """Charged species: what carries current."""
        self._carriers = np.flatnonzero(self._charge)
        charged = [names[int(i)] for i in self._carriers]
        z = self._charge[self._carriers]
        known = _per_species(charged, "limiting conductivity", np.nan)
        by_einstein = diffusion_m2_s[self._carriers] / conductivity_to_mobility(1.0, z)
        limiting = np.where(np.isnan(known), by_einstein, known)
        default = data.find("mobility", species="any", quantity="size coefficient").value
        self._size = _per_species(charged, "size coefficient", default)
        self._limiting, self._z = limiting[:, None], z[:, None]
        w = self._limiting / np.abs(self._z)
        self._faster = w / (w + w.T)
        self._pull = ((w * self._z).T - w * self._z) / (w + w.T)
        self._square = z**2
        self._scale = conductivity_to_mobility(1.0, self._z) * self._warm[self._carriers]

    def _fluidity(self, system: ChemicalSystem, names: Sequence[str]) -> None:
        """Linear and pair coefficients of ln V; a pair of ions counts as both."""
        crossed = [
            (row["cation"], row["anion"], row.value)
            for row in data.rows("fluidity")
            if row["cation"] in names and row["anion"] in names
        ]
        linear = dict(zip(names, _per_species(names, "fluidity coefficient", 0.0), strict=True))
        counted = [name for name in names if linear[name] or any(name in row for row in crossed)]
        self._held = system.ions_held(counted, set(system.components) - {PROTON})
        self._linear = np.array([linear[name] for name in counted])
        self._cross = [(counted.index(c), counted.index(a), value) for c, a, value in crossed]

    def _fluidity_factor(self, species_mol_dm3: Array) -> Array:
        total = np.minimum(self._held @ species_mol_dm3, MAX_FLUIDITY_MOL_DM3)
        exponent = self._linear @ total
        for cation, anion, value in self._cross:
            exponent = exponent + value * total[cation] * total[anion]
        return np.asarray(np.exp(-exponent))

    def _relaxation(self, mu: Array) -> Array:
        """Return R (carriers, N) through a polynomial for ``(1 + sqrt(M))^-1``."""
        diagonal = (1 - self._faster) @ mu
        start = self._pull @ mu
        coefficients = INVERSE_ROOT.coef
        result = coefficients[-1] * start
        for coefficient in coefficients[-2::-1]:
            result = diagonal * result - self._faster @ (mu * result) + coefficient * start
        return np.asarray(-self._z * result)

    def evaluate(self, species_mol_m3: ArrayLike) -> tuple[Array, Array]:
        """Return migration and diffusion coefficients of everything carried, m2/s.

        Parameters
        ----------
        species_mol_m3
            (S, N).

        Returns
        -------
        tuple
            ``R T u`` and ``D``, (carried, N) each; the conductivity is ``F^2 / (R T) sum(z^2 R T u c)``.
        """
        c = np.clip(
            np.asarray(species_mol_m3, dtype=np.float64) * 1e-3, TRACE_MOL_DM3, MAX_FLUIDITY_MOL_DM3
        )
        charge = self._carried_charge[:, None]
        if not self.corrections:
            free = np.broadcast_to(self._diffusion[self._carried], (len(charge), c.shape[1]))
            return np.where(charge != 0, free, 0.0), free.copy()
        total = self._lumping @ c
        factor = self._fluidity_factor(c)
        mobility = np.zeros_like(c)
        mobility[self._carriers] = self._scale * self._conductivity(c) * factor
        diffusion = np.where(self._neutral_pair, self._diffusion, self._diffusion * factor)
        diffusion = np.where(self._charged_pair, mobility, diffusion)
        moved = self._lumping @ (self._charge[:, None] * mobility * c)
        migration = np.divide(moved, charge * total, where=charge != 0, out=np.zeros_like(total))
        return migration, (self._lumping @ (diffusion * c)) / total

    def _conductivity(self, c: Array) -> Array:
        """Return the conductivities per equivalent but for the fluidity, (carriers, N), S cm2."""
        carriers = c[self._carriers]
        strength = 0.5 * (self._square @ carriers)
        mu = carriers * self._square[:, None] / (2 * strength)
        root = np.sqrt(strength)
        x = root / (1 + (self._size @ mu) * root)
        slowed = self._limiting - ELECTROPHORETIC * np.abs(self._z) * x
        return np.asarray(slowed * (1 - RELAXATION * self._relaxation(mu) * x))
