"""Half-equations and overall equations, computed from what is discharged and what is made."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace
from functools import cache
from itertools import product as every_pair
from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.chemistry.balancing import balance, balance_species
from fizzplate.chemistry.equation import Equation, Side
from fizzplate.chemistry.formula import canonical, parse_formula
from fizzplate.words import SOURCES, InputError, choice

if TYPE_CHECKING:
    from collections.abc import Iterator

MEDIA = (("H+", "H2O"), ("OH-", "H2O"), ("H2O", "OH-"), ("H2O", "H+"), ("H+", ""), ("", ""))
DEFAULT_SOURCES = {gas: usual for gas, (usual, _) in SOURCES.items()}


def _source(product: str) -> str:
    """Return what a product is usually made from: the ion, or the element, of its own element."""
    if product in DEFAULT_SOURCES:
        return DEFAULT_SOURCES[product]
    elements = set(parse_formula(product).elements)
    charged = parse_formula(product).charge != 0
    found = [
        row["species"]
        for row in data.rows("species")
        if set(parse_formula(row["species"]).elements) == elements
        and (parse_formula(row["species"]).charge != 0) != charged
    ]
    if len(found) != 1:
        raise InputError("source", None, f"the formula of what {product} is made from")
    return found[0]


def _candidates(source: str, product: str) -> Iterator[Equation]:
    """Yield balanced half-equations with water and its ions where they are needed."""
    for (extra_left, extra_right), electron_left in every_pair(MEDIA, (True, False)):
        left = list(dict.fromkeys(s for s in (source, extra_left) if s))
        right = list(dict.fromkeys(s for s in (product, extra_right) if s))
        (left if electron_left else right).append("e-")
        if set(left) & set(right):
            continue
        try:
            yield balance_species(left, right, given=f"{source} -> {product}")
        except InputError:
            continue


@cache
def _simplest(source: str, product: str) -> Equation | None:
    """Return the simplest of the balanced half-equations; cached, since every run asks for it."""
    return min(_candidates(source, product), key=_simplicity, default=None)


def half_equation(
    product: str, *, source: str | None = None, electrons: str = "right", states: bool = False
) -> Equation:
    """Return the half-equation by which a product is made at an electrode.

    Balanced by computation from the elements and the charge.

    Parameters
    ----------
    product
        Formula of what is made ("O2"; "Cu2+" for a dissolving copper anode).
    source
        What is discharged ("OH-" or "H2O" for oxygen, "H+" or "H2O" for hydrogen).
    electrons
        "right": on the side where they stand as given; "minus": taken away on the left of an
        oxidation.
    states
        Whether state symbols are shown.

    Raises
    ------
    InputError
        If no half-equation leads from the source to the product.

    Examples
    --------
    >>> print(half_equation("O2", source="H2O"))
    2H2O -> O2 + 4H+ + 4e-
    >>> print(half_equation("O2", electrons="minus"))
    4OH- - 4e- -> O2 + 2H2O
    """
    choice("electrons", electrons, ("right", "minus"))
    made = canonical(product)
    used = canonical(source) if source is not None else _source(made)
    found = _simplest(used, made)
    if found is None:
        raise InputError("source", source, f"something that {made} can be made from")
    return replace(found, electrons_taken=electrons == "minus", states=states)


def electrode_equation(product: str, role: str, material: str = "") -> Equation:
    """Return the half-equation by which the bench makes a product at an electrode.

    Hydrogen and oxygen from the ions that school chemistry discharges; everything else as its row of
    electrode reactions says, the electrode's own metal first.

    Parameters
    ----------
    product
        Formula of what is made.
    role
        "cathode" or "anode".
    material
        Formula of the electrode's own element, where it may dissolve.

    Raises
    ------
    InputError
        If nothing in the tables makes the product there.

    Examples
    --------
    >>> print(electrode_equation("Fe2+", "anode", "Fe"))
    Fe -> Fe2+ + 2e-
    >>> print(electrode_equation("Fe2+", "cathode"))
    Fe3+ + e- -> Fe2+
    """
    if product in DEFAULT_SOURCES:
        return half_equation(product)
    rows = [
        balance(row["equation"])
        for row in data.rows("electrode_reactions")
        if row["product"] == product and row["electrode"] == role
    ]
    if not rows:
        raise InputError("product", product, f"a product that the tables have at the {role}")
    own = [e for e in rows if material and any(s == material for _, s in e.reactants)]
    return (own or rows)[0]


def _simplicity(equation: Equation) -> tuple[int, int]:
    parts = (*equation.reactants, *equation.products)
    return len(parts), sum(n for n, _ in parts)


def overall(reduction: Equation, oxidation: Equation) -> Equation:
    """Return the overall equation in which both half-equations pass the same number of electrons.

    Raises
    ------
    InputError
        If the two are not a reduction and an oxidation.

    Examples
    --------
    >>> print(overall(half_equation("Cu"), half_equation("Cl2")))
    Cu2+ + 2Cl- -> Cu + Cl2
    >>> print(overall(half_equation("H2"), half_equation("O2")))
    2H2O -> 2H2 + O2
    """
    if reduction.is_oxidation or not oxidation.is_oxidation:
        raise InputError("reduction", str(reduction), "a reduction first and then an oxidation")
    shared = math.lcm(reduction.electrons, oxidation.electrons)
    total: Counter[str] = Counter()
    for equation in (reduction, oxidation):
        times = shared // equation.electrons
        for side, sign in ((equation.reactants, -1), (equation.products, 1)):
            for n, species in side:
                if species != "e-":
                    total[species] += sign * n * times
    # hydrogen ions and hydroxide on the same side are water
    for sign in (-1, 1):
        if (met := min(sign * total["H+"], sign * total["OH-"])) > 0:
            total.update({"H+": -sign * met, "OH-": -sign * met, "H2O": sign * met})
    amounts = {species: n for species, n in total.items() if n}
    divisor = math.gcd(*amounts.values()) if amounts else 1
    left: Side = tuple((-n // divisor, s) for s, n in amounts.items() if n < 0)
    right: Side = tuple((n // divisor, s) for s, n in amounts.items() if n > 0)
    return Equation(left, right, states=reduction.states)
