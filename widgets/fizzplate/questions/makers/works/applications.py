"""Makers of questions about what electrolysis is used for: plating, pure copper, aluminium."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from fizzplate.chemistry import melts
from fizzplate.questions.maker import maker
from fizzplate.questions.makers.choices import table_choice
from fizzplate.questions.makers.parts import solution_name
from fizzplate.questions.tables import edition_rows
from fizzplate.words import page_quantity

if TYPE_CHECKING:
    from fizzplate.questions.question_types import ChoiceQuestion, Question
    from fizzplate.questions.random_source import RandomSource

PLATED = (("copper", "CuSO4"), ("silver", "AgNO3"), ("nickel", "NiSO4"), ("zinc", "ZnSO4"))
MORE_REACTIVE = ("nickel", "zinc")  # than hydrogen
PURIFYING = ("purifying cell", "purifying masses", "purifying sludge")
ALUMINIUM = ("aluminium melt", "aluminium anodes", "aluminium extraction")


@maker("plating", topic="applications", level=14, version=3, since=1)
def plating(rng: RandomSource) -> Question:
    """Ask how something is plated, or why the anode is of the metal."""
    question, metal = _plating(rng)
    return _with_the_benchs_note(question, metal) if metal in MORE_REACTIVE else question


def _with_the_benchs_note(question: ChoiceQuestion, metal: str) -> Question:
    """Say of a metal that the classroom rule would not plate why it is plated all the same."""
    note = (
        f"By the classroom rule hydrogen would form, because {metal} is more reactive than hydrogen. At the "
        f"bench {metal} is deposited, with some hydrogen: that is how {metal} is plated."
    )
    options = tuple(
        replace(option, reason=f"{option.reason} {note}") if option.right else option
        for option in question.options
    )
    return replace(question, why=f"{question.why} {note}", options=options)


def _plating(rng: RandomSource) -> tuple[ChoiceQuestion, str]:
    """Return a question about plating, and the metal."""
    metal, formula = rng.one_of(PLATED)
    things = edition_rows("plated_things", rng.edition)
    thing = rng.one_of([row["thing"] for row in things if metal in row.text("metals").split()])
    noun = thing.split(" ", 1)[-1]
    watch = f"{formula},anode={metal}"
    if rng.number(3) == 0:
        anode = table_choice(rng, "plating anode", watch=watch, metal=metal, thing=thing)
        return anode, metal
    solution = solution_name(formula, rng.wording)
    cell = table_choice(
        rng,
        "plating",
        keep=1,
        watch=watch,
        metal=metal,
        thing=thing,
        the_thing=f"the {noun}",
        solution=solution,
    )
    return cell, metal


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
