"""The forms of an equation that are accepted, as text that a teacher writes and reads."""

from __future__ import annotations

import math
import re
from collections import Counter
from typing import TYPE_CHECKING

from fizzplate.chemistry import Equation, parse_formula
from fizzplate.lesson.equations import EquationTask, judge, known_species, normalise
from fizzplate.words import InputError

if TYPE_CHECKING:
    from collections.abc import Mapping

_ALLOWED = "an equation such as 2Cl- -> Cl2 + 2e-, with a space on either side of each plus"
_ARROW = re.compile(r"\s*(?:<?[-=]?[=-]>|[→⟶⇌⇒⟹])\s*")
_TERM = re.compile(r"(\d{0,3})(\D.*)")


def spell(form: Mapping[str, int]) -> str:
    """Write an accepted form, which tells what is made (positive) and used (negative).

    Examples
    --------
    >>> spell({"Cl-": -2, "Cl2": 1, "e-": 2})
    '2Cl- -> Cl2 + 2e-'
    """
    return str(_equation(form))


def spellings(form: Mapping[str, int]) -> tuple[str, ...]:
    """Write an accepted form in each way that is the same to a reader, the plainest first.

    Examples
    --------
    >>> spellings({"Cl-": -2, "Cl2": 1, "e-": 2})[:2]
    ('2Cl- -> Cl2 + 2e-', '2Cl⁻ → Cl₂ + 2e⁻')
    """
    first = _equation(form)
    taken = Equation(first.reactants, first.products, electrons_taken=True)
    atoms = {species: known_species()[species][0] for species in form}
    # written without ^ some charges read as part of a subscript; those are left plain
    clear = all(dict(parse_formula(species).elements) == atoms[species] for species in form)
    written = [(str(each), each.pretty() if clear else str(each)) for each in (first, taken)]
    return tuple(dict.fromkeys(text for pair in written for text in pair))


def _equation(form: Mapping[str, int]) -> Equation:
    return Equation(
        tuple((-count, species) for species, count in form.items() if count < 0),
        tuple((count, species) for species, count in form.items() if count > 0),
    )


def read_form(text: str) -> dict[str, int]:
    """Read an accepted form; it must balance.

    Raises
    ------
    InputError
        If it cannot be read or does not balance; the sentence says what is wrong.

    Examples
    --------
    >>> read_form("2Cl⁻ − 2e⁻ → Cl₂")
    {'Cl-': -2, 'e-': 2, 'Cl2': 1}
    """
    sides = _ARROW.split(text)
    if len(sides) != 2:
        raise InputError("equation", text, _ALLOWED)
    net: Counter[str] = Counter()
    for side, direction in zip(sides, (-1, 1), strict=True):
        sign = direction
        for word in side.replace("−", "-").split():
            if word in {"+", "-"}:
                sign = direction if word == "+" else -direction
                continue
            found = _TERM.fullmatch(normalise(word))
            if found is None or found[2] not in known_species():
                raise InputError("equation", text, _ALLOWED)
            net[found[2]] += sign * int(found[1] or 1)
    left = {species: count for species, count in net.items() if count}
    shared = math.gcd(*left.values()) if left else 1
    form = {species: count // shared for species, count in left.items()}
    verdict = judge(spell(form), EquationTask("", (form,), "", (), ()))
    if verdict.code != "right":
        faults = " ".join(verdict.sentences).rstrip(".")
        raise InputError("equation", text, f"an equation that balances ({faults})")
    return form
