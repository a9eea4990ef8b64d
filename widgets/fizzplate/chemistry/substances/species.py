"""Names and states of the species of the tables."""

from __future__ import annotations

from functools import cache

from fizzplate import data
from fizzplate.chemistry.formula import canonical
from fizzplate.words import choice


@cache
def _names() -> dict[str, str]:
    return {row["species"]: row["name"] for row in data.rows("species")}


def species_name(formula: str) -> str:
    """Return the name of an ion (without the word ion) or a substance.

    Raises
    ------
    InputError
        If the tables do not have it.

    Examples
    --------
    >>> species_name("Cu2+"), species_name("SO4 2-"), species_name("Cl2")
    ('copper(II)', 'sulfate', 'chlorine')
    """
    names = _names()
    return names[choice("formula", canonical(formula), names)]


def name_without_number(formula: str) -> str:
    """Return the name of an ion without its oxidation number, as many learners write it.

    Examples
    --------
    >>> name_without_number("Cu2+"), name_without_number("SO4^2-")
    ('copper', 'sulfate')
    """
    return species_name(formula).partition("(")[0]


def state_of(formula: str) -> str:
    """Return the usual state symbol of a species in these cells, "" if the tables do not say."""
    states = {row["species"]: row.text for row in data.rows("species")}
    return states.get(canonical(formula), "")
