"""From charge to amount: Faraday's law by the electrons of a half-equation."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.chemistry.constants import FARADAY_C_MOL
from fizzplate.chemistry.formula import molar_mass_g_mol
from fizzplate.words import choice, number

if TYPE_CHECKING:
    from fizzplate.chemistry.equation import Equation


def made_mol(equation: Equation, product: str, charge_C: float) -> float:
    """Return the amount of a product that a charge makes by a half-equation, mol.

    Raises
    ------
    InputError
        If the equation does not make the product, or the charge is negative.

    Examples
    --------
    >>> from fizzplate.chemistry import half_equation
    >>> round(made_mol(half_equation("O2"), "O2", 96485.33212 * 4), 9)
    1.0
    """
    made = {species: count for count, species in equation.products}
    choice("product", product, made)
    number("charge_C", charge_C, unit="C", minimum=0)
    return charge_C / FARADAY_C_MOL * made[product] / equation.electrons


def made_g(equation: Equation, product: str, charge_C: float) -> float:
    """Return the mass of a product that a charge makes by a half-equation, g.

    Examples
    --------
    >>> from fizzplate.chemistry import half_equation
    >>> round(made_g(half_equation("Cu"), "Cu", 240.0), 4)
    0.079
    """
    return made_mol(equation, product, charge_C) * molar_mass_g_mol(product)
