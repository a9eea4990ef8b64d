"""Ion pairs by mass action: how much of each ion is free and how much is paired.

``log K' = log K - A dz2 sqrt(I) / (1 + 1.5 sqrt(I)) + b I / (1 + I)`` with A = 0.511,
``dz2 = z(cation)^2 + z(anion)^2 - z(pair)^2`` and the ionic strength I of free ions and charged
pairs, mol/dm3.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data
from fizzplate.chemistry.formula import parse_formula

if TYPE_CHECKING:
    from collections.abc import Sequence

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

DEBYE_HUCKEL = 0.511
CLOSENESS = 1.5
SWEEPS = 8


@dataclass(frozen=True, slots=True)
class Pair:
    """A pair of ions.

    Parameters
    ----------
    formula, cation, anion
        Formulae.
    charge
        Charge of the pair.
    log_constant, strength_coefficient
        log10 K (dm3/mol) and b.
    charge_squares
        dz2.
    """

    formula: str
    cation: str
    anion: str
    charge: int
    log_constant: float
    strength_coefficient: float
    charge_squares: int

    def constant_dm3_mol(self, ionic_strength_mol_dm3: float | Array) -> Array:
        """Return K' at an ionic strength, dm3/mol."""
        strength = np.asarray(ionic_strength_mol_dm3)
        root = np.sqrt(strength)
        log = self.log_constant
        log = log - DEBYE_HUCKEL * self.charge_squares * root / (1 + CLOSENESS * root)
        log = log + self.strength_coefficient * strength / (1 + strength)
        return np.asarray(np.exp(np.log(10.0) * log))


def _optional(pair: str, quantity: str) -> float:
    found = [r for r in data.rows("ion_pairs") if (r["pair"], r["quantity"]) == (pair, quantity)]
    return found[0].value if found else 0.0


def pairs_among(species: Sequence[str], *, protonation: bool = False) -> tuple[Pair, ...]:
    """Return the pairs of the tables that can form among these ions.

    Parameters
    ----------
    species
        Formulae of the ions.
    protonation
        Whether to count the hydrogensulfate ion, which the cell's speciation treats by itself.
    """
    found = []
    for row in data.rows("ion_pairs"):
        wanted = row["quantity"] == "log association constant"
        if not wanted or row["cation"] not in species or row["anion"] not in species:
            continue
        if row["cation"] == "H+" and not protonation:
            continue
        charges = [parse_formula(row[k]).charge for k in ("cation", "anion")]
        found.append(
            Pair(
                formula=row["pair"],
                cation=row["cation"],
                anion=row["anion"],
                charge=sum(charges),
                log_constant=row.value,
                strength_coefficient=_optional(row["pair"], "strength coefficient"),
                charge_squares=charges[0] ** 2 + charges[1] ** 2 - sum(charges) ** 2,
            )
        )
    return tuple(found)


def hydrogensulfate_constant_mol_m3(ionic_strength_mol_dm3: float) -> float:
    """Return the acid constant of the hydrogensulfate ion at an ionic strength, mol/m3.

    Examples
    --------
    >>> round(hydrogensulfate_constant_mol_m3(0.0), 2)
    10.28
    """
    (pair,) = pairs_among(("H+", "SO4^2-"), protonation=True)
    return 1e3 / float(pair.constant_dm3_mol(ionic_strength_mol_dm3))


class Pairing:
    """Free and paired parts of each ion in mixtures of the same species.

    Parameters
    ----------
    species
        Formulae of the ions and neutrals, S of them.
    charge
        Their charges, (S,).
    """

    def __init__(self, species: Sequence[str], charge: Array) -> None:
        self.pairs = pairs_among(species)
        self._square = charge**2
        self.ends = tuple((species.index(p.cation), species.index(p.anion)) for p in self.pairs)

    def free_share(self, total_mol_dm3: Array) -> tuple[Array, Array, Array]:
        """Return what is free of each total, what each pair holds, and the ionic strength.

        Parameters
        ----------
        total_mol_dm3
            (S, N), never negative.

        Returns
        -------
        tuple
            Free share (S, N); pairs (P, N) in mol/dm3; ionic strength (N,) in mol/dm3.
        """
        pairs = np.zeros((len(self.pairs), total_mol_dm3.shape[1]))
        share = np.ones_like(total_mol_dm3)
        whole = 0.5 * (self._square @ total_mol_dm3)
        if not self.pairs:
            return share, pairs, whole
        strength = whole
        free = total_mol_dm3
        lost = [0.5 * p.charge_squares for p in self.pairs]
        for _ in range(SWEEPS):
            constants = [p.constant_dm3_mol(strength) for p in self.pairs]
            crowd = np.zeros_like(total_mol_dm3)
            for k, (pair_constant, (a, b)) in enumerate(zip(constants, self.ends, strict=True)):
                # exact for one pair, with what other pairs hold of either ion left aside
                left = free[a] + pairs[k]
                right = free[b] + pairs[k]
                both = left + right + 1 / pair_constant
                pairs[k] = 2 * left * right / (both + np.sqrt(both * both - 4 * left * right))
                free = free.copy()
                free[a] = left - pairs[k]
                free[b] = right - pairs[k]
            strength = whole - sum(half * held for half, held in zip(lost, pairs, strict=True))
            for pair_constant, (a, b) in zip(constants, self.ends, strict=True):
                crowd[a] += pair_constant * free[b]
                crowd[b] += pair_constant * free[a]
        return 1 / (1 + crowd), pairs, strength
