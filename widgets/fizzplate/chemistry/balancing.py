"""Balance equations by the exact null space of atoms and charge."""

from __future__ import annotations

import math
import re
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING

from fizzplate.chemistry.equation import Equation
from fizzplate.chemistry.formula import canonical, parse_formula
from fizzplate.words import InputError, list_choices

if TYPE_CHECKING:
    from collections.abc import Sequence

ARROWS = re.compile(r"\s*(?:->|→|=>|=|⟶)\s*")
ALLOWED = "an equation such as 'Cu -> Cu2+ + e-'"


def null_space(rows: Sequence[Sequence[int]]) -> list[list[Fraction]]:
    """Return a basis of the vectors that every row maps to zero, by exact elimination.

    Examples
    --------
    >>> [[int(x) for x in v] for v in null_space([[1, -1, 0], [0, 1, -2]])]
    [[2, 2, 1]]
    """
    matrix = [[Fraction(value) for value in row] for row in rows]
    columns = len(matrix[0])
    pivots: list[int] = []
    for column in range(columns):
        place = len(pivots)
        found = next((r for r in range(place, len(matrix)) if matrix[r][column]), None)
        if found is None:
            continue
        matrix[place], matrix[found] = matrix[found], matrix[place]
        lead = matrix[place][column]
        matrix[place] = [value / lead for value in matrix[place]]
        for r, row in enumerate(matrix):
            if r != place and row[column]:
                factor = row[column]
                matrix[r] = [a - factor * b for a, b in zip(row, matrix[place], strict=True)]
        pivots.append(column)
    basis = []
    for free in (c for c in range(columns) if c not in pivots):
        vector = [Fraction(0)] * columns
        vector[free] = Fraction(1)
        for place, pivot in enumerate(pivots):
            vector[pivot] = -matrix[place][free]
        basis.append(vector)
    return basis


def whole_numbers(vector: Sequence[Fraction]) -> list[int]:
    """Return the smallest whole numbers in the proportions of a vector."""
    scale = math.lcm(*(value.denominator for value in vector))
    numbers = [int(value * scale) for value in vector]
    divisor = math.gcd(*numbers) or 1
    return [value // divisor for value in numbers]


def conservation(reactants: Sequence[str], products: Sequence[str]) -> dict[str, list[int]]:
    """Return, for each element and for charge, how much each species brings (products negative)."""
    parsed = [parse_formula(s) for s in (*reactants, *products)]
    signs = [1] * len(reactants) + [-1] * len(products)
    elements = sorted({element for formula in parsed for element in formula.elements})
    rows = {
        element: [s * f.elements.get(element, 0) for s, f in zip(signs, parsed, strict=True)]
        for element in elements
    }
    rows["charge"] = [s * f.charge for s, f in zip(signs, parsed, strict=True)]
    return rows


def balance_species(reactants: Sequence[str], products: Sequence[str], *, given: str) -> Equation:
    """Return the one equation between these species in smallest whole numbers.

    Raises
    ------
    InputError
        If there is none or more than one; the sentence says why.
    """
    rows = conservation(reactants, products)
    basis = null_space(list(rows.values()))
    species = [*reactants, *products]
    if not basis:
        lonely = [name for name, row in rows.items() if any(row) and _one_sided(row)]
        what = list_choices(lonely) if lonely else "the atoms and the charge together"
        raise InputError(
            "equation", given, f"an equation that can be balanced; this one fails at {what}"
        )
    if len(basis) > 1:
        shown = " and ".join(_show(whole_numbers(v), species) for v in basis[:2])
        raise InputError(
            "equation",
            given,
            f"an equation that balances in one way only; this one does in several ({shown})",
        )
    numbers = whole_numbers(basis[0])
    if sum(1 for n in numbers if n < 0) > sum(1 for n in numbers if n > 0):
        numbers = [-n for n in numbers]
    wrong = [s for n, s in zip(numbers, species, strict=True) if n < 0]
    idle = [s for n, s in zip(numbers, species, strict=True) if n == 0]
    if wrong:
        raise InputError(
            "equation", given, f"an equation with {list_choices(wrong)} on the other side"
        )
    if idle:
        raise InputError(
            "equation", given, f"an equation without {list_choices(idle)}, which takes no part"
        )
    split = len(reactants)
    return Equation(
        reactants=tuple(zip(numbers[:split], reactants, strict=True)),
        products=tuple(zip(numbers[split:], products, strict=True)),
    )


def _one_sided(row: Sequence[int]) -> bool:
    return all(value >= 0 for value in row) or all(value <= 0 for value in row)


def _show(numbers: Sequence[int], species: Sequence[str]) -> str:
    return ", ".join(f"{n} {s}" for n, s in zip(numbers, species, strict=True))


def balance(equation: str) -> Equation:
    """Balance an equation; coefficients that are given are ignored.

    Raises
    ------
    InputError
        If it cannot be read, cannot be balanced (naming the element or the charge), or has more
        than one independent solution (showing two).

    Examples
    --------
    >>> print(balance("Cu -> Cu2+ + e-"))
    Cu -> Cu2+ + 2e-
    """
    if not isinstance(equation, str):
        raise InputError("equation", equation, ALLOWED)
    return _balance(equation)


@cache
def _balance(equation: str) -> Equation:
    sides = ARROWS.split(equation.strip())
    if len(sides) != 2 or not all(side.strip() for side in sides):
        raise InputError("equation", equation, ALLOWED)
    left, right = (
        [_species(term) for term in re.split(r"\s+\+\s+", side.strip())] for side in sides
    )
    for species in left:
        if species in right:
            raise InputError("equation", equation, f"an equation with {species} on one side only")
    return balance_species(left, right, given=equation)


def _species(term: str) -> str:
    return canonical(re.sub(r"^\d+\s*", "", term.strip()))
