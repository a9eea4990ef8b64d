"""Makers of questions about what electrolysis is used for: plating, pure copper, aluminium."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.chemistry import melts
from fizzplate.questions.maker import maker
from fizzplate.questions.makers.choices import table_choice
from fizzplate.questions.makers.parts import solution_name
from fizzplate.questions.tables import edition_rows
from fizzplate.words import page_quantity

if TYPE_CHECKING:
    from fizzplate.questions.question_types import Question
    from fizzplate.questions.random_source import RandomSource

PLATED = (("copper", "CuSO4"), ("silver", "AgNO3"), ("nickel", "NiSO4"), ("zinc", "ZnSO4"))
PURIFYING = ("purifying cell", "purifying masses", "purifying sludge")
ALUMINIUM = ("aluminium melt", "aluminium anodes", "aluminium extraction")


@maker("plating", topic="applications", level=14, version=1)
def plating(rng: RandomSource) -> Question:
    """Ask how something is plated, or why the anode is of the metal."""
    metal, formula = rng.one_of(PLATED)
    things = edition_rows("plated_things", rng.edition)
    thing = rng.one_of([row["thing"] for row in things if metal in row.text("metals").split()])
    watch = f"{formula},anode={metal}"
    if rng.number(3) == 0:
        return table_choice(rng, "plating anode", watch=watch, metal=metal, thing=thing)
    solution = solution_name(formula, rng.wording)
    return table_choice(
        rng, "plating", keep=1, watch=watch, metal=metal, thing=thing, solution=solution
    )


@maker("pure copper", topic="applications", level=14, version=1)
def purifying(rng: RandomSource) -> Question:
    """Ask how copper is purified, and what becomes of its parts."""
    name = PURIFYING[rng.number(len(PURIFYING))]
    return table_choice(rng, name, watch="CuSO4,anode=copper,cathode=copper")


@maker("aluminium", topic="applications", level=14, version=1)
def aluminium(rng: RandomSource) -> Question:
    """Ask about the melt that gives aluminium."""
    name = ALUMINIUM[rng.number(len(ALUMINIUM))]
    temperature = page_quantity(melts()["Al2O3(l)"].temperature_C, "°C", ".0f")
    return table_choice(rng, name, temperature=temperature)
