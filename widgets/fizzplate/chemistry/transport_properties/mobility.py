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

from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data
from fizzplate.chemistry.constants import FARADAY_C_MOL, GAS_J_MOL_K, ZERO_CELSIUS_K
from fizzplate.chemistry.formula import parse_formula
from fizzplate.chemistry.transport_properties.diffusion import diffusion_coefficient_m2_s
from fizzplate.chemistry.transport_properties.ion_pairs import Pairing

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike

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


class Mobilities:
    """Effective transport coefficients of transported totals in mixtures of the same species.

    Parameters
    ----------
    species
        Formulae of S totals. "SO4^2-" is unprotonated sulfate, free and paired; "Cu2+" free and
        paired; "HSO4-" stands by itself. Neutral species do not migrate.
    temperature_K
        Temperature.
    corrections
        Whether to correct for concentration; otherwise infinite dilution, and migration equals
        diffusion.

    Examples
    --------
    >>> migration, diffusion = Mobilities(("Na+", "Cl-")).evaluate([[100.0], [100.0]])
    >>> bool(migration[0, 0] < diffusion[0, 0])
    True
    """

    def __init__(
        self,
        species: Sequence[str],
        temperature_K: float = REFERENCE_K,
        *,
        corrections: bool = True,
    ) -> None:
        self.species = tuple(species)
        self.corrections = corrections
        self.charge = np.array([float(parse_formula(name).charge) for name in species])
        self._pairing = Pairing(self.species, self.charge)
        warmer = temperature_K - REFERENCE_K
        percent = _per_species(species, "temperature coefficient", None)
        # mobilities rise by so many per cent a kelvin; R T u rises with T besides
        self._warm = ((1 + percent / 100 * warmer) * temperature_K / REFERENCE_K)[:, None]
        self._diffusion = self._warm * np.array(
            [[diffusion_coefficient_m2_s(name)] for name in species]
        )
        self._ions(species)
        self._fluidity(species)

    def _ions(self, species: Sequence[str]) -> None:
        """Charged species, then charged pairs: what carries current."""
        pairs = self._pairing.pairs
        self._carriers = np.flatnonzero(self.charge)
        self._charged_pairs = [k for k, pair in enumerate(pairs) if pair.charge]
        charge = np.array(
            [*self.charge[self._carriers], *(float(pairs[k].charge) for k in self._charged_pairs)]
        )
        names = [species[int(i)] for i in self._carriers]
        from_diffusion = np.array([diffusion_coefficient_m2_s(n) for n in names])
        known = _per_species(names, "limiting conductivity", np.nan)
        by_einstein = from_diffusion / conductivity_to_mobility(1.0, charge[: len(names)])
        limiting = [
            *np.where(np.isnan(known), by_einstein, known),
            *(
                data.find(
                    "ion_pairs", pair=pairs[k].formula, quantity="limiting conductivity"
                ).value
                for k in self._charged_pairs
            ),
        ]
        self._limiting = np.array(limiting)[:, None]
        self._z = charge[:, None]
        default = data.find("mobility", species="any", quantity="size coefficient").value
        self._size = np.array(
            [
                *_per_species(names, "size coefficient", default),
                *([default] * len(self._charged_pairs)),
            ]
        )
        w = self._limiting / np.abs(self._z)
        z = self._z
        self._faster = w / (w + w.T)
        self._pull = ((w * z).T - w * z) / (w + w.T)
        self._square = charge**2
        self._scale = conductivity_to_mobility(1.0, self._z)
        self._carrier_warm = np.concatenate(
            [
                self._warm[self._carriers],
                *(self._warm[[self._pairing.ends[k][1]]] for k in self._charged_pairs),
            ]
        )

    def _fluidity(self, species: Sequence[str]) -> None:
        """Linear and pair coefficients of ln V."""
        self._linear = _per_species(species, "fluidity coefficient", 0.0)
        self._cross = [
            (species.index(row["cation"]), species.index(row["anion"]), row.value)
            for row in data.rows("fluidity")
            if row["cation"] in species and row["anion"] in species
        ]

    def _fluidity_factor(self, total_mol_dm3: Array) -> Array:
        exponent = self._linear @ total_mol_dm3
        for cation, anion, value in self._cross:
            exponent = exponent + value * total_mol_dm3[cation] * total_mol_dm3[anion]
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

    def evaluate(self, concentration_mol_m3: ArrayLike) -> tuple[Array, Array]:
        """Return migration and diffusion coefficients of every total, m2/s.

        Parameters
        ----------
        concentration_mol_m3
            (S, N).

        Returns
        -------
        tuple
            ``R T u`` and ``D``, (S, N) each; the conductivity is ``F^2 / (R T) sum(z^2 R T u c)``.
        """
        total = np.maximum(np.asarray(concentration_mol_m3, dtype=np.float64) * 1e-3, TRACE_MOL_DM3)
        if not self.corrections:
            infinite = np.broadcast_to(self._diffusion, total.shape).copy()
            return np.where(self.charge[:, None] != 0, infinite, 0.0), infinite
        total = np.minimum(total, MAX_FLUIDITY_MOL_DM3)
        share, pairs, strength = self._pairing.free_share(total)
        carriers = share[self._carriers] * total[self._carriers]
        if self._charged_pairs:
            carriers = np.concatenate([carriers, pairs[self._charged_pairs]])
        mu = carriers * self._square[:, None] / (2 * strength)
        root = np.sqrt(strength)
        x = root / (1 + (self._size @ mu) * root)
        factor = self._fluidity_factor(total)
        conductivity = (
            (self._limiting - ELECTROPHORETIC * np.abs(self._z) * x)
            * (1 - RELAXATION * self._relaxation(mu) * x)
            * factor
        )
        mobility = self._scale * conductivity * self._carrier_warm
        migration = np.zeros_like(total)
        count = self._carriers.size
        migration[self._carriers] = share[self._carriers] * mobility[:count]
        diffusion = self._diffusion * factor * share
        self._add_pairs(migration, diffusion, total, pairs, mobility[count:])
        return migration, diffusion

    def _add_pairs(
        self,
        migration: Array,
        diffusion: Array,
        total: Array,
        pairs: Array,
        charged_mobility: Array,
    ) -> None:
        """Let a total also move as the pairs that hold it."""
        neutral = data.find("ion_pairs", pair="any", quantity="diffusion coefficient").value
        for k, (pair, ends) in enumerate(zip(self._pairing.pairs, self._pairing.ends, strict=True)):
            own = (
                charged_mobility[self._charged_pairs.index(k)]
                if pair.charge
                else neutral * self._warm[ends[1]]
            )
            for end in ends:
                held = pairs[k] / total[end]
                diffusion[end] += held * own
                if pair.charge:
                    migration[end] += held * own * (pair.charge / self.charge[end])
