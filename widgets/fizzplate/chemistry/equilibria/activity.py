"""Activity coefficients: how constants change with the ionic strength.

``log gamma_i = -A z_i^2 sqrt(I) / (1 + 1.5 sqrt(I))``, the Debye-Hueckel term of the specific ion
interaction theory, and for a species whose row has a strength coefficient ``b`` a term ``b I / (1 + I)``
in log K besides. I in mol/dm3; water's activity is one. pH is -log of the activity of H+ by the same law.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from fizzplate.chemistry.equilibria.system import ChemicalSystem, Member

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

DEBYE_HUCKEL = 0.511  # (dm3/mol)^0.5, water at 25 °C
CLOSENESS = 1.5  # (dm3/mol)^0.5
LN_10 = np.log(10.0)
LN_MOL_M3 = np.log(1e3)  # of one mol/dm3


class ConditionalConstants:
    """Constants of all species and solids of a system at given ionic strengths, in mol/m3.

    Parameters
    ----------
    system
        The system.
    """

    def __init__(self, system: ChemicalSystem) -> None:
        charge = {member.formula: member.charge for member in system.species}
        members = [*system.species, *system.solids]
        self._squares = np.array([_squares(member, charge) for member in members])[:, None]
        self._strength = np.array([[member.strength_coefficient] for member in members])
        self._ln_infinite = np.array([[_ln_K(member, system)] for member in members])
        self._charge_squares = np.array([float(member.charge**2) for member in system.species])
        self._species = len(system.species)

    def ionic_strength_mol_dm3(self, concentration_mol_m3: Array) -> Array:
        """Return the ionic strength of free ions and charged complexes, (N,), of (S, N)."""
        return np.asarray(0.5e-3 * (self._charge_squares @ concentration_mol_m3))

    def pH(self, concentration_mol_m3: Array) -> Array:  # its symbol
        """Return the pH, -log10 of the activity of H+, (N,), of every species (S, N).

        As a meter reads it within 0.1 up to 0.5 mol/dm3 of a strong acid; in stronger acid, in which
        activity coefficients rise again, it is too high: by 0.6 in 2 mol/dm3 sulfuric acid.
        """
        strength = np.maximum(self.ionic_strength_mol_dm3(concentration_mol_m3), 0.0)
        hydrogen_mol_dm3 = 1e-3 * concentration_mol_m3[0]
        return np.asarray(_screening(strength) - np.log10(hydrogen_mol_dm3))

    def ln_coefficients(self, concentration_mol_m3: Array) -> Array:
        """Return ln of the activity coefficients of every species, (S, N), in liquids (S, N)."""
        strength = np.maximum(self.ionic_strength_mol_dm3(concentration_mol_m3), 0.0)
        return np.asarray(-LN_10 * self._charge_squares[:, None] * _screening(strength))

    def ignore_strength_coefficients(self) -> None:
        """Leave the term in ``b`` out: for comparison with a program that has no such term."""
        self._strength = np.zeros_like(self._strength)

    def at(
        self,
        ionic_strength_mol_dm3: Array,
        debye_huckel: float = DEBYE_HUCKEL,
        closeness: float = CLOSENESS,
    ) -> tuple[Array, Array]:
        """Return ln K of the species (S, N) and of the solids' saturation (K, N) at strengths (N,)."""
        screening = _screening(ionic_strength_mol_dm3, debye_huckel, closeness)
        crowding = ionic_strength_mol_dm3 / (1 + ionic_strength_mol_dm3)
        ln_K = self._ln_infinite + LN_10 * (self._strength * crowding - self._squares * screening)
        return ln_K[: self._species], ln_K[self._species :]


def _screening(
    ionic_strength_mol_dm3: Array, debye_huckel: float = DEBYE_HUCKEL, closeness: float = CLOSENESS
) -> Array:
    """Return -log gamma of an ion of one charge."""
    root = np.sqrt(ionic_strength_mol_dm3)
    return np.asarray(debye_huckel * root / (1 + closeness * root))


def _squares(member: Member, charge: dict[str, int]) -> float:
    """Return the charges squared that a formation uses up: of the components less of what forms."""
    used = sum(amount * charge[name] ** 2 for name, amount in member.parts.items())
    return used - member.charge**2


def _ln_K(member: Member, system: ChemicalSystem) -> float:
    """Return ln of the formation constant with concentrations in mol/m3."""
    order = sum(member.parts.values())
    formed = 0.0 if member in system.solids else 1.0
    return float(LN_10 * member.log_K + LN_MOL_M3 * (formed - order))
