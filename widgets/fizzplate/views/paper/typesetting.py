"""How marks, equations and formulae are written on paper."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.chemistry import pretty
from fizzplate.lesson.equations import known_species

if TYPE_CHECKING:
    from collections.abc import Mapping


def marks_in_words(marks: int) -> str:
    """Count marks in words.

    Examples
    --------
    >>> marks_in_words(1), marks_in_words(3)
    ('1 mark', '3 marks')
    """
    return f"{marks} mark" if marks == 1 else f"{marks} marks"


def equation_of(net: Mapping[str, int]) -> str:
    """Write what an equation uses (negative) and makes (positive) as it is printed.

    Examples
    --------
    >>> equation_of({"SO42-": -1, "Pb2+": -1, "PbSO4": 1})
    'SO₄²⁻ + Pb²⁺ → PbSO₄'
    """

    def side(sign: int) -> str:
        terms = [(abs(n), name) for name, n in net.items() if n * sign > 0]
        return " + ".join(f"{n if n > 1 else ''}{formula_of(name)}" for n, name in terms)

    return f"{side(-1)} → {side(1)}"


def formula_of(name: str) -> str:
    """Print a formula that is spelled without the mark before its charge.

    Examples
    --------
    >>> formula_of("SO42-"), formula_of("H2O")
    ('SO₄²⁻', 'H₂O')
    """
    charge = known_species()[name][1]
    if not charge:
        return pretty(name)
    size = str(abs(charge)) if abs(charge) > 1 else ""
    suffix = f"{size}{'+' if charge > 0 else '-'}"
    body = name.removesuffix(suffix)
    return pretty(name if body.isalpha() else f"{body}^{suffix}")
