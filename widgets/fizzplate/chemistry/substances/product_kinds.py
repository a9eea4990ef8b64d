"""What form a product of an electrode takes."""

from __future__ import annotations

from fizzplate.chemistry.formula import parse_formula
from fizzplate.chemistry.substances.gases import GASES
from fizzplate.chemistry.substances.species import species_name

DISSOLVED = ("Br2", "I2")


def kind_of(product: str) -> str:
    """Say whether a product is a ``"gas"``, an ``"ion"``, ``"dissolved"`` or a ``"solid"``.

    Examples
    --------
    >>> kind_of("Cl2"), kind_of("Cu2+"), kind_of("I2"), kind_of("Cu")
    ('gas', 'ion', 'dissolved', 'solid')
    """
    if product in GASES:
        return "gas"
    if product in DISSOLVED:
        return "dissolved"
    return "ion" if parse_formula(product).charge else "solid"


def product_name(product: str) -> str:
    """Name a product as a class does.

    Examples
    --------
    >>> product_name("Cl2"), product_name("Cu2+")
    ('chlorine', 'copper(II) ions')
    """
    name = species_name(product)
    return f"{name} ions" if kind_of(product) == "ion" else name
