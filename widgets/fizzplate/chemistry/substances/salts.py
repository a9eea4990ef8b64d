"""The solutions that are offered: a new one of known ions needs one row of ``data/solutions.csv``."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.chemistry.formula import molar_mass_g_mol
from fizzplate.chemistry.required_rows import check_rows

if TYPE_CHECKING:
    from collections.abc import Mapping


@dataclass(frozen=True, slots=True)
class Solution:
    """A substance that is dissolved in water.

    Parameters
    ----------
    formula, name
        Formula without water of crystallisation, and name.
    ions
        How many of each ion one formula unit gives.
    solid_sold
        Formula of what is weighed out, with its water of crystallisation.
    solubility_mol_dm3
        The largest concentration that is offered, mol/dm3.
    caveat
        What to beware of.
    """

    formula: str
    name: str
    ions: Mapping[str, int]
    solid_sold: str
    solubility_mol_dm3: float
    caveat: str

    @property
    def molar_mass_g_mol(self) -> float:
        """Molar mass of what is weighed out, g/mol."""
        return molar_mass_g_mol(self.solid_sold)


def _ions(text: str) -> Mapping[str, int]:
    """Read ``2Na+ SO4^2-`` into counts."""
    counts = {}
    for term in text.split():
        digits = re.match(r"\d*", term)
        count = digits.group() if digits else ""
        counts[term[len(count) :]] = int(count or 1)
    return MappingProxyType(counts)


@cache
def solutions() -> Mapping[str, Solution]:
    """Return every solution offered, by formula, the four core ones first.

    Raises
    ------
    MissingRowError
        If another table lacks a row that a solution needs; the message names table and row.

    Examples
    --------
    >>> dict(solutions()["Na2SO4"].ions)
    {'Na+': 2, 'SO4^2-': 1}
    """
    for row in data.rows("solutions"):
        check_rows(row["formula"], _ions(row["ions"]), row["solid_sold"])
    return MappingProxyType(
        {
            row["formula"]: Solution(
                formula=row["formula"],
                name=row["name"],
                ions=_ions(row["ions"]),
                solid_sold=row["solid_sold"],
                solubility_mol_dm3=row.value,
                caveat=row.caveat,
            )
            for row in data.rows("solutions")
        }
    )


@dataclass(frozen=True, slots=True)
class Melt:
    """A molten salt: it has the rule, equations and quantities, but no bench model.

    Parameters
    ----------
    formula, name
        Formula with its state, and name.
    ions
        How many of each ion one formula unit gives; there is no water.
    temperature_C
        Melting point or working temperature, °C.
    caveat
        What to beware of.
    """

    formula: str
    name: str
    ions: Mapping[str, int]
    temperature_C: float
    caveat: str


@cache
def melts() -> Mapping[str, Melt]:
    """Return every molten salt offered, by formula.

    Examples
    --------
    >>> dict(melts()["PbBr2(l)"].ions)
    {'Pb2+': 1, 'Br-': 2}
    """
    return MappingProxyType(
        {
            row["formula"]: Melt(
                row["formula"], row["name"], _ions(row["ions"]), row.value, row.caveat
            )
            for row in data.rows("melts")
        }
    )


@dataclass(frozen=True, slots=True)
class NonElectrolyte:
    """A liquid that hardly conducts, for contrast.

    Parameters
    ----------
    formula, name
        Formula and name.
    reason
        Why the lamp stays dark, as a sentence.
    """

    formula: str
    name: str
    reason: str


@cache
def non_electrolytes() -> Mapping[str, NonElectrolyte]:
    """Return the liquids offered for contrast, by formula.

    Examples
    --------
    >>> [liquid.name for liquid in non_electrolytes().values()]
    ['pure water', 'sugar solution']
    """
    return MappingProxyType(
        {
            row["formula"]: NonElectrolyte(row["formula"], row["name"], row.text)
            for row in data.rows("non_electrolytes")
        }
    )
