"""Read chemical formulae as they are typed: charges, brackets, hydrates, states, the electron."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.words import InputError

if TYPE_CHECKING:
    from collections.abc import Mapping

ALLOWED = "a formula such as CuSO4.5H2O, Cu2+, SO4^2- or Ca(OH)2(aq)"
_STATE = re.compile(r"\((s|l|g|aq)\)$")
_CHARGE_MARKED = re.compile(r"[\^ ](\d*)([+-])$")
_CHARGE_PLAIN = re.compile(r"(\d*)([+-])$")
_TOKEN = re.compile(r"([A-Z][a-z]?)|(\()|(\))|(\d+)")


@dataclass(frozen=True, slots=True)
class Formula:
    """A formula taken apart.

    Parameters
    ----------
    text
        Canonical spelling, without state: ``SO4^2-``, ``Cu2+``, ``CuSO4.5H2O``, ``e-``.
    elements
        Atoms of each element, by symbol; empty for the electron.
    charge
        In units of the elementary charge.
    state
        "s", "l", "g", "aq", or "" if none was given.
    """

    text: str
    elements: Mapping[str, int]
    charge: int
    state: str = ""


@cache
def parse_formula(text: str) -> Formula:
    """Take a formula apart.

    Raises
    ------
    InputError
        If it cannot be read; the sentence says where.

    Examples
    --------
    >>> parse_formula("SO4 2-").charge, dict(parse_formula("CuSO4.5H2O").elements)["O"]
    (-2, 9)
    """
    if not isinstance(text, str) or not text.strip():
        raise InputError("formula", text, ALLOWED)
    rest = text.strip()
    state = ""
    if found := _STATE.search(rest):
        state, rest = found.group(1), rest[: found.start()]
    if rest == "e-":
        return Formula("e-", MappingProxyType({}), -1, state)
    body, charge = _split_charge(rest.strip())
    elements: Counter[str] = Counter()
    for part in body.replace("·", ".").split("."):
        times = re.match(r"\d*", part)
        digits = times.group() if times else ""
        for element, count in _count(part[len(digits) :], text).items():
            elements[element] += count * int(digits or 1)
    known = {row["element"] for row in data.rows("elements")}
    for element in elements:
        if element not in known:
            raise InputError("formula", text, f"{ALLOWED}; the tables have no element {element}")
    return Formula(_spell(body, charge), MappingProxyType(dict(elements)), charge, state)


def _split_charge(text: str) -> tuple[str, int]:
    """Split the charge off: ``SO4^2-``, ``SO4 2-``; in ``Cu2+`` the digit after one symbol is charge."""
    if found := _CHARGE_MARKED.search(text):
        body = text[: found.start()]
    elif found := _CHARGE_PLAIN.search(text):
        body = text[: found.start()]
        if found.group(1) and not re.fullmatch(r"[A-Z][a-z]?", body):
            # the digits of NO3- count atoms; only a lone symbol carries them as its charge
            return body + found.group(1), 1 if found.group(2) == "+" else -1
    else:
        return text, 0
    size = int(found.group(1) or 1)
    return body.strip(), size if found.group(2) == "+" else -size


def _spell(body: str, charge: int) -> str:
    if not charge:
        return body
    sign = "+" if charge > 0 else "-"
    if abs(charge) == 1:
        # without the mark the digit of I3^- would read as its charge
        counted = re.fullmatch(r"[A-Z][a-z]?\d+", body)
        return f"{body}{'^' if counted else ''}{sign}"
    lone = re.fullmatch(r"[A-Z][a-z]?", body)
    return f"{body}{'' if lone else '^'}{abs(charge)}{sign}"


def _count(body: str, whole: str) -> Counter[str]:
    """Count the atoms of a formula without charge and hydrate dots."""
    stack: list[Counter[str]] = [Counter()]
    last: Counter[str] = Counter()
    place = 0
    while place < len(body):
        token = _TOKEN.match(body, place)
        if token is None:
            raise InputError("formula", whole, f"{ALLOWED}; {body[place]!r} cannot be read")
        element, opening, closing, digits = token.groups()
        if opening:
            stack.append(Counter())
        elif closing and len(stack) == 1:
            raise InputError("formula", whole, f"{ALLOWED}; a bracket is closed but not opened")
        elif digits and (not last or int(digits) == 0):
            raise InputError(
                "formula", whole, f"{ALLOWED}; {digits!r} does not follow an element or a bracket"
            )
        last = _next_group(stack, last, element, closing, digits)
        place = token.end()
    if len(stack) > 1:
        raise InputError("formula", whole, f"{ALLOWED}; a bracket is opened but not closed")
    if not stack[0]:
        raise InputError("formula", whole, ALLOWED)
    return stack[0]


def _next_group(
    stack: list[Counter[str]], last: Counter[str], element: str, closing: str, digits: str
) -> Counter[str]:
    """Add one token to the atoms counted, and return the group that a number after it multiplies."""
    group: Counter[str] = Counter()
    if element:
        group = Counter({element: 1})
        stack[-1].update(group)
    elif closing:
        group = stack.pop()
        stack[-1].update(group)
    elif digits:
        for name, count in last.items():
            stack[-1][name] += count * (int(digits) - 1)
    return group


def canonical(text: str) -> str:
    """Return the one spelling of a formula, without its state.

    Examples
    --------
    >>> canonical("SO4 2-"), canonical("Cu^2+(aq)"), canonical("NO3-"), canonical("I3 -")
    ('SO4^2-', 'Cu2+', 'NO3-', 'I3^-')
    """
    return parse_formula(text).text


@cache
def molar_mass_g_mol(formula: str) -> float:
    """Return the molar mass, g/mol, from the standard atomic weights of the tables.

    Examples
    --------
    >>> round(molar_mass_g_mol("CuSO4.5H2O"), 2)
    249.68
    """
    return sum(
        count * data.find("elements", element=element).value
        for element, count in parse_formula(formula).elements.items()
    )
