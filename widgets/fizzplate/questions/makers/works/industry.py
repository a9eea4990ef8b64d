"""Makers of questions about works: brine, pure copper and aluminium."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.chemistry import pretty, solutions, wording_for
from fizzplate.questions.maker import maker
from fizzplate.questions.makers.choices import table_choice
from fizzplate.questions.makers.mark_points import (
    NOBLE,
    bleach_forms,
    carbon_burns,
    copper_deposited,
    copper_dissolves,
    gases_explode,
    hydroxide_stays,
    mark_points,
    oxygen_forms,
    sludge_falls,
    sodium_crosses,
)
from fizzplate.questions.makers.parts import choice, choice_question, text_question
from fizzplate.questions.tables import edition_rows
from fizzplate.words import begin, say

if TYPE_CHECKING:
    from fizzplate.questions.content import Point
    from fizzplate.questions.makers.parts import Wrong
    from fizzplate.questions.question_types import Question
    from fizzplate.questions.random_source import RandomSource

BRINE = (
    *("brine products", "brine side of the cathode", "brine side of the anode"),
    *("brine membrane lets through", "brine gases apart", "brine leak"),
)
MEMBRANE = ("brine membrane charges", "brine purified", "brine kept strong")
COPPER = (
    *("refining acid", "refining loss", "refining electrolyte"),
    *("refining voltage", "refining sludge value"),
)
ALUMINIUM = (
    *("aluminium molten", "aluminium from solution", "aluminium costly"),
    *("aluminium recycled", "aluminium electrodes", "aluminium carbon dioxide"),
)
REFINING = "CuSO4,anode=copper,cathode=copper"
#: impurities of copper by what becomes of them: those that give up electrons more easily than copper
#: dissolve. Lead is left out: it does too, but comes down as its sulfate.
DISSOLVE = (("zinc", "Zn2+"), ("iron", "Fe2+"), ("nickel", "Ni2+"))


@maker("brine industry", topic="applications", level=14, version=3)
def brine(rng: RandomSource) -> Question:
    """Ask what a cell for brine makes, where it leaves, and why it is kept apart."""
    return table_choice(rng, rng.one_of(BRINE), watch="NaCl")


@maker("membrane of a brine cell", topic="applications", level=16, version=3)
def membrane(rng: RandomSource) -> Question:
    """Ask how the membrane of a cell for brine works, and what the brine must be like."""
    return table_choice(rng, rng.one_of(MEMBRANE), watch="NaCl")


@maker("use of a product", topic="applications", level=14, version=3)
def product_use(rng: RandomSource) -> Question:
    """Ask what a product of brine is used for: the wrong uses are those of the other two."""
    rows = edition_rows("product_uses", rng.edition)
    product = rng.one_of(list(dict.fromkeys(row["product"] for row in rows)))
    right = rng.one_of([row for row in rows if row["product"] == product])
    wrong: list[Wrong] = [
        (row.text("use"), f"That needs {_other(row['product'])}. {row.text('why')}", 0)
        for row in rows
        if row["product"] != product
    ]
    text = rng.one_of(
        (
            f"Which of these is a use of the {product} that is made from brine?",
            f"A factory makes {product} from brine. What is this product used for?",
        )
    )
    options = choice(rng, right.text("use"), wrong, right.text("why"))
    return choice_question(text, options, watch="NaCl")


def _other(product: str) -> str:
    """Name a product that the question is not about."""
    return "the alkali, another product" if product == "sodium hydroxide" else product


@maker("brine in words", topic="applications", level=16, version=3)
def brine_in_words(rng: RandomSource) -> Question:
    """Ask how alkali forms in a cell for brine, or why its products are kept apart."""
    return brine_alkali(rng) if rng.number(2) else _brine_apart(rng)


def brine_alkali(rng: RandomSource) -> Question:
    """Ask in words how sodium hydroxide forms in a membrane cell."""
    text = rng.one_of(
        (
            "Explain how sodium hydroxide solution forms in a membrane cell for brine.",
            "Explain how a membrane cell makes sodium hydroxide solution out of brine and water.",
            (
                "Brine is electrolysed in a cell with a membrane. Explain how sodium hydroxide solution "
                "forms on the side of {the_cathode}."
            ),
        )
    )
    discharged, left, *more = mark_points("why alkaline", rng.edition)
    points = (discharged, hydroxide_stays(left), *more, sodium_crosses())
    of_water = wording_for(solutions()["NaCl"].ions, rng.wording).source_of("H2") == "H2O"
    used_up = "Water is reduced" if of_water else "Hydrogen ions of the water are discharged"
    answer = (
        used_up
        + " at {the_cathode}. Hydroxide ions are left there, and sodium ions come through the membrane."
    )
    return _in_words(rng, text, answer, points, watch="NaCl")


def _brine_apart(rng: RandomSource) -> Question:
    text = rng.one_of(
        (
            (
                "Explain why chlorine must be kept apart from each of the other two products of a cell "
                "for brine."
            ),
            (
                "In a cell for brine a membrane keeps chlorine away from the other two products. Explain "
                "what would happen with each of them."
            ),
        )
    )
    answer = "Chlorine reacts with sodium hydroxide and forms bleach. With hydrogen it may explode."
    return _in_words(rng, text, answer, (bleach_forms(), gases_explode()), watch="NaCl")


def _in_words(
    rng: RandomSource, text: str, answer: str, points: tuple[Point, ...], *, watch: str = ""
) -> Question:
    """Return a question that is answered in words, in the board's wording."""
    text, answer = (say(each, rng.wording) for each in (text, answer))
    return text_question(text, answer, points, watch=watch, wording=rng.wording)


@maker("impurities of copper", topic="applications", level=14, version=3)
def impurities(rng: RandomSource) -> Question:
    """Ask which impurities of copper are in the sludge, or in the solution, after the electrolysis."""
    ions = dict(DISSOLVE)
    dissolve = tuple(rng.sample(ions, 2))
    stay = tuple(rng.sample(NOBLE, 2))
    names = rng.shuffled((*dissolve, *stay))
    sludge = rng.number(2) == 0
    right, others = (stay, dissolve) if sludge else (dissolve, stay)
    place = say(
        "in the sludge below {the_anode}" if sludge else "as ions in the solution", rng.wording
    )
    known = ", ".join(pretty(ions[each]) for each in dissolve)
    rule = (
        f"{begin(dissolve[0])} and {dissolve[1]} give up electrons more easily than copper, so they dissolve "
        f"as ions ({known}) and stay dissolved. {begin(stay[0])} and {stay[1]} do not, and fall as sludge."
    )
    wrong: list[Wrong] = [
        (_pair(others, names), f"It is the other two. {rule}", 0),
        (_pair((right[0], others[0]), names), f"{begin(others[0])} is not there. {rule}", 0),
        (_pair((right[1], others[1]), names), f"{begin(others[1])} is not there. {rule}", 0),
    ]
    held = f"{', '.join(names[:-1])} and {names[-1]}"
    template = rng.one_of(
        (
            (
                "Impure copper that holds {held} is purified as {the_anode} of a cell. Which two are found "
                "{place} afterwards?"
            ),
            (
                "{An_anode} of impure copper contains a little {held}. When the copper has been purified, "
                "which two of these are found {place}?"
            ),
        )
    )
    options = choice(rng, _pair(right, names), wrong, rule, keep=3)
    text = say(template, rng.wording, held=held, place=place)
    return choice_question(text, options, watch=REFINING)


def _pair(two: tuple[str, ...], names: list[str]) -> str:
    """Name two metals in the order in which the question does."""
    return " and ".join(sorted(two, key=names.index))


@maker("copper works", topic="applications", level=16, version=3)
def copper_works(rng: RandomSource) -> Question:
    """Ask for the reasons behind the purification of copper."""
    return table_choice(rng, rng.one_of(COPPER), watch=REFINING)


@maker("aluminium works", topic="applications", level=14, version=3)
def aluminium_works(rng: RandomSource) -> Question:
    """Ask why aluminium is made as it is, at what cost, and why it is recycled."""
    return table_choice(rng, rng.one_of(ALUMINIUM))


@maker("works in words", topic="applications", level=14, version=3)
def works_in_words(rng: RandomSource) -> Question:
    """Ask in words how copper is purified, or why the anodes of an aluminium cell burn away."""
    return _copper_in_words(rng) if rng.number(2) else aluminium_anodes(rng)


def _copper_in_words(rng: RandomSource) -> Question:
    metal = rng.one_of(NOBLE)
    text = say(
        "Impure copper with a little {metal} in it is {the_anode} of a cell, and pure copper is "
        "{the_cathode}. Explain how the copper is purified, and what becomes of the {metal}.",
        rng.wording,
        metal=metal,
    )
    answer = say(
        "At {the_anode} copper atoms lose electrons and dissolve. At {the_cathode} copper ions gain "
        "electrons and are deposited. The {metal} falls to the bottom.",
        rng.wording,
        metal=metal,
    )
    points = (copper_dissolves(), copper_deposited(), sludge_falls(metal))
    return _in_words(rng, text, answer, points, watch=REFINING)


def aluminium_anodes(rng: RandomSource) -> Question:
    """Ask in words why the anodes of an aluminium cell burn away."""
    text = rng.one_of(
        (
            "Explain why the carbon {anodes} of an aluminium cell have to be replaced regularly.",
            "The carbon {anodes} of an aluminium cell get smaller. Explain why.",
            "Explain how carbon dioxide comes to form in an aluminium cell with carbon electrodes.",
        )
    )
    answer = (
        "Oxide ions give oxygen at {the_anode}. The oxygen reacts with the hot carbon, and carbon dioxide "
        "forms."
    )
    named = "carbon dioxide" in text
    return _in_words(rng, text, answer, (oxygen_forms(), carbon_burns(named=named)))
