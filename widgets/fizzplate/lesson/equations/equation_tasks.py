"""Half-equations to be written: each task as plain data, with its hints and every form that is accepted."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass
from itertools import product as every_pair
from typing import TYPE_CHECKING

from fizzplate.chemistry import (
    Equation,
    half_equation,
    in_words,
    overall,
    parse_formula,
)
from fizzplate.lesson.rule import balancing_steps
from fizzplate.words import DEFAULT_WORDING, SOURCES, begin, say

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fizzplate.words import Wording

TILES = ("H+", "OH-", "H2O", "e-")
Net = dict[str, int]


@dataclass(frozen=True, slots=True)
class EquationTask:
    """An equation to be written.

    Parameters
    ----------
    prompt
        What is asked, as a sentence.
    accepted
        For each accepted form what it makes (positive) and uses (negative), by formula.
    goal
        What it should do, as the end of a sentence.
    hints
        In order, each telling more; the last is the equation.
    tiles
        Formulae to build from.
    """

    prompt: str
    accepted: tuple[Mapping[str, int], ...]
    goal: str
    hints: tuple[str, ...]
    tiles: tuple[str, ...]


def half_task(
    equation: Equation, product: str, role: str, wording: Wording = DEFAULT_WORDING
) -> EquationTask:
    """Make the task of a half-equation, accepting every form that boards use.

    Examples
    --------
    >>> from fizzplate.lesson.equations.equation_judge import judge
    >>> task = half_task(half_equation("Cl2"), "Cl2", "anode")
    >>> judge("2Cl- - 2e- -> Cl2", task).code, judge("Cl- -> Cl2 + e-", task).code
    ('right', 'unbalanced')
    """
    forms = _forms(equation, product)
    first = forms[0]
    used = next((s for _, s in first.reactants if s not in {"e-", "H2O"}), "H2O")
    form = "form" if parse_formula(product).charge else "forms"
    made, from_ = (in_words(each) for each in (product, used))
    start = Equation(((1, used),), ((1, product),), states=first.states)
    steps = balancing_steps(first)
    hints = (
        f"{begin(made)} {form} from {from_}: begin with {start.pretty()}.",
        f"{steps[-2].sentence} {steps[-2].equation.pretty()}",
        f"{steps[-1].sentence}",
        first.pretty(),
    )
    species = dict.fromkeys(s for form in forms for _, s in (*form.reactants, *form.products))
    return EquationTask(
        prompt=say(
            "Write the half-equation at {the_electrode}: {made} from {source}.",
            wording,
            role=role,
            made=made,
            source=from_,
        ),
        accepted=tuple(net_of(form) for form in forms),
        goal=f"make {made} from {from_}",
        hints=hints,
        tiles=tuple(sorted(dict.fromkeys((*species, *TILES)))),
    )


def overall_task(
    cathode: Equation,
    cathode_product: str,
    anode: Equation,
    anode_product: str,
    wording: Wording = DEFAULT_WORDING,
) -> EquationTask | None:
    """Make the task of the overall equation, or none where the two half-equations undo each other.

    Examples
    --------
    >>> from fizzplate.lesson.equations.equation_judge import judge
    >>> task = overall_task(half_equation("Cu"), "Cu", half_equation("Cl2"), "Cl2")
    >>> judge("Cu2+ + 2Cl- -> Cu + Cl2", task).code
    'right'
    """
    pairs = every_pair(_forms(cathode, cathode_product), _forms(anode, anode_product))
    together = [each for each in (overall(*pair) for pair in pairs) if each.reactants]
    if not together:
        return None
    nets: list[Net] = []
    for each in together:
        if net_of(each) not in nets:
            nets.append(net_of(each))
    counts = (cathode.electrons, anode.electrons)
    return EquationTask(
        prompt="Combine both half-equations into the overall equation.",
        accepted=tuple(nets),
        goal="add up both half-equations with equal numbers of electrons",
        hints=(
            say(
                "The numbers of electrons must be equal: {at_cathode} at {the_cathode} and {at_anode} at "
                "{the_anode} become {shared} each.",
                wording,
                at_cathode=counts[0],
                at_anode=counts[1],
                shared=math.lcm(*counts),
            ),
            "Add the left sides and the right sides, and leave the electrons out: they cancel.",
            *water_made(cathode, anode),
            together[0].pretty(),
        ),
        tiles=tuple(sorted({s for net in nets for s in net})),
    )


def water_made(cathode: Equation, anode: Equation) -> tuple[str, ...]:
    """Say what becomes of hydrogen ions and hydroxide ions that stand on one side together.

    Examples
    --------
    >>> water_made(half_equation("H2"), half_equation("O2"))
    ('Hydrogen ions and hydroxide ions join to make water, and water on both sides cancels.',)
    """
    used = {s for _, s in (*cathode.reactants, *anode.reactants)}
    if not {"H+", "OH-"} <= used:
        return ()
    return (
        "Hydrogen ions and hydroxide ions join to make water, and water on both sides cancels.",
    )


def _forms(equation: Equation, product: str) -> list[Equation]:
    """Return the forms of a half-equation that boards use, as it is given first."""
    of_ions = {s for _, s in equation.reactants} & {s for form in SOURCES.values() for s in form}
    if product not in SOURCES or not of_ions:
        return [equation]
    others = (half_equation(product, source=source) for source in SOURCES[product])
    return [equation, *(each for each in others if net_of(each) != net_of(equation))]


def net_of(equation: Equation) -> Net:
    """Return what an equation makes (positive) and uses (negative), by spelling without ^.

    Examples
    --------
    >>> net_of(half_equation("Cu"))
    {'Cu2+': -1, 'e-': -2, 'Cu': 1}
    """
    net: Counter[str] = Counter()
    for side, sign in ((equation.reactants, -1), (equation.products, 1)):
        for count, species in side:
            net[species.replace("^", "")] += sign * count
    return {species: count for species, count in net.items() if count}
