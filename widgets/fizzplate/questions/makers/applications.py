"""Makers of questions about what electrolysis is used for: plating, pure copper, aluminium."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.chemistry import melts
from fizzplate.questions.maker import maker
from fizzplate.questions.makers.parts import choice, choice_question, solution_name
from fizzplate.questions.misconceptions import correction
from fizzplate.questions.tables import edition_rows
from fizzplate.words import NO_BREAK, say

if TYPE_CHECKING:
    from fizzplate.questions.makers.parts import Wrong
    from fizzplate.questions.question_types import Question
    from fizzplate.questions.random_source import RandomSource

PLATED = (("copper", "CuSO4"), ("silver", "AgNO3"), ("nickel", "NiSO4"), ("zinc", "ZnSO4"))


@maker("plating", topic="applications", level=14, version=1)
def plating(rng: RandomSource) -> Question:
    """Ask how something is plated."""
    metal, formula = rng.one_of(PLATED)
    things = edition_rows("plated_things", rng.edition)
    thing = rng.one_of([row["thing"] for row in things if metal in row.text("metals").split()])
    solution = solution_name(formula, rng.wording)
    if rng.number(3) == 0:
        return _why_anode(rng, metal, formula, thing)
    right = say(
        "{thing} as {the_cathode}, {metal} as {the_anode}, in {solution}",
        rng.wording,
        thing=thing,
        metal=metal,
        solution=solution,
    )
    settles = say(
        "{Metal} ions are positive: they are discharged at {the_cathode}.",
        rng.wording,
        metal=metal,
    )
    wrong: list[Wrong] = [
        (
            say(
                "{thing} as {the_anode}, {metal} as {the_cathode}, in {solution}",
                rng.wording,
                thing=thing,
                metal=metal,
                solution=solution,
            ),
            settles,
            6,
        ),
        (
            say(
                "{thing} as {the_cathode}, {metal} as {the_anode}, in dilute sulfuric acid",
                rng.wording,
                thing=thing,
                metal=metal,
            ),
            f"At first that gives hydrogen: {metal} ions must be in the solution from the start.",
            0,
        ),
        (
            f"{thing} and {metal} as either electrode, in {solution}",
            say(
                "It matters which: only {the_cathode} is plated. {correction}",
                rng.wording,
                correction=correction(8, rng.wording),
            ),
            8,
        ),
        (
            say(
                "{thing} as {the_cathode}, carbon as {the_anode}, in sodium sulfate solution",
                rng.wording,
                thing=thing,
            ),
            f"There are no {metal} ions in it, so hydrogen forms.",
            0,
        ),
    ]
    text = rng.one_of(
        (
            f"How is {thing} plated with {metal}?",
            f"Which cell coats {thing} with {metal}?",
        )
    )
    watch = f"{formula},anode={metal}"
    options = choice(rng, right, wrong, settles, keep=1)
    return choice_question(text, options, watch=watch)


def _why_anode(rng: RandomSource, metal: str, formula: str, thing: str) -> Question:
    right = f"so that as many {metal} ions go into the solution as come out of it"
    wrong: list[Wrong] = [
        (
            say(
                "so that {metal} atoms come loose and cross over to {the_cathode}",
                rng.wording,
                metal=metal,
            ),
            say(
                "Ions cross, not atoms: {metal} atoms lose electrons at {the_anode} and become ions.",
                rng.wording,
                metal=metal,
            ),
            0,
        ),
        (
            say("so that {the_anode} stays as it is and need not be replaced", rng.wording),
            say(
                "{An_anode} of {metal} is active: it dissolves, and has to be replaced in time.",
                rng.wording,
                metal=metal,
            ),
            16,
        ),
        (
            f"so that {metal} is deposited on both electrodes",
            say(
                "{Metal} is deposited only at {the_cathode}, where ions gain electrons.",
                rng.wording,
                metal=metal,
            ),
            23,
        ),
    ]
    text = say(
        "To plate {thing} with {metal}, {an_anode} of {metal} is used rather than one of "
        "carbon. Why?",
        rng.wording,
        thing=thing,
        metal=metal,
    )
    reason = say(
        "{The_anode} dissolves and keeps the concentration of {metal} ions up.",
        rng.wording,
        metal=metal,
    )
    watch = f"{formula},anode={metal}"
    return choice_question(text, choice(rng, right, wrong, reason), watch=watch)


@maker("pure copper", topic="applications", level=14, version=1)
def purifying(rng: RandomSource) -> Question:
    """Ask how copper is purified, and what becomes of its parts."""
    which = rng.number(3)
    watch = "CuSO4,anode=copper,cathode=copper"
    if which == 0:
        right = say(
            "impure copper as {the_anode}, pure copper as {the_cathode}, in copper(II) sulfate "
            "solution",
            rng.wording,
        )
        wrong: list[Wrong] = [
            (
                say(
                    "pure copper as {the_anode}, impure copper as {the_cathode}, in copper(II) sulfate "
                    "solution",
                    rng.wording,
                ),
                say(
                    "Copper dissolves at {the_anode}, so it is the impure one. {correction}",
                    rng.wording,
                    correction=correction(6, rng.wording),
                ),
                6,
            ),
            (
                say(
                    "impure copper as {the_anode}, pure copper as {the_cathode}, in sodium chloride "
                    "solution",
                    rng.wording,
                ),
                "The solution must hold copper ions from the start.",
                0,
            ),
            (
                "impure copper for both electrodes, in copper(II) sulfate solution",
                "Pure copper is then deposited on impure copper, and the two are together again.",
                0,
            ),
        ]
        text = "Which cell gives pure copper from impure copper?"
        reason = say(
            "Impure copper dissolves at {the_anode}, and only copper is deposited at "
            "{the_cathode}.",
            rng.wording,
        )
    elif which == 1:
        right = say("{the_anode} becomes lighter and {the_cathode} heavier", rng.wording)
        wrong = [
            (
                say("{the_anode} becomes heavier and {the_cathode} lighter", rng.wording),
                say(
                    "Copper is deposited at {the_cathode}. {correction}",
                    rng.wording,
                    correction=correction(6, rng.wording),
                ),
                6,
            ),
            (
                say("both stay as they are, and oxygen forms at {the_anode}", rng.wording),
                correction(16, rng.wording),
                16,
            ),
            (
                "both become heavier, because copper ions are deposited on both",
                f"Copper ions are positive. {correction(6, rng.wording)}",
                6,
            ),
            (
                "both become lighter, because both dissolve",
                say("At {the_cathode} copper ions gain electrons and are deposited.", rng.wording),
                23,
            ),
        ]
        text = say(
            "Copper is purified between {an_anode} of impure and {a_cathode} of pure copper. What "
            "happens to their masses?",
            rng.wording,
        )
        reason = say(
            "Copper dissolves from {the_anode} and is deposited on {the_cathode}.", rng.wording
        )
    else:
        right = "silver and gold drop to the bottom as a sludge"
        wrong = [
            (
                say("silver and gold are deposited on {the_cathode} with the copper", rng.wording),
                "They are less reactive than copper and do not dissolve, so none of their ions are there.",
                0,
            ),
            (
                say("silver and gold leave as a gas at {the_anode}", rng.wording),
                "They are metals and stay solid.",
                0,
            ),
            (
                "silver and gold dissolve before the copper does",
                "They are less reactive than copper, and harder to oxidise.",
                0,
            ),
        ]
        text = say(
            "Impure copper that contains a little silver and gold is purified as {the_anode} of a "
            "cell. What happens to the silver and gold?",
            rng.wording,
        )
        reason = (
            "They are less reactive than copper, so they fall to the bottom instead of dissolving."
        )
    options = choice(rng, right, wrong, reason)
    return choice_question(text, options, watch=watch)


@maker("aluminium", topic="applications", level=14, version=1)
def aluminium(rng: RandomSource) -> Question:
    """Ask about the melt that gives aluminium."""
    melt = melts()["Al2O3(l)"]
    which = rng.number(3)
    if which == 0:
        right = (
            f"the mixture melts at about {melt.temperature_C:.0f}{NO_BREAK}°C, far below the "
            "oxide's own melting "
            "point"
        )
        wrong: list[Wrong] = [
            (
                "cryolite brings the water whose ions carry the current",
                correction(14, rng.wording),
                14,
            ),
            (
                say("cryolite keeps the carbon {anodes} from burning", rng.wording),
                say(
                    "Oxygen still burns the {anodes}: they are replaced every few weeks.",
                    rng.wording,
                ),
                13,
            ),
            (
                "cryolite gives the aluminium; the oxide only conducts",
                "The oxide is used up and is fed in all the time; the cryolite stays.",
                0,
            ),
        ]
        text = "Why is aluminium oxide dissolved in molten cryolite before it is electrolysed?"
        reason = "A lower temperature needs less energy, and the ions can move in the mixture."
    elif which == 1:
        right = "oxygen forms at them and burns the hot carbon to carbon dioxide"
        wrong = [
            (
                "the current wears them away, as it does in every cell",
                "In most cells carbon is inert; here oxygen meets it very hot.",
                13,
            ),
            (
                "aluminium is deposited on them and makes them too thick",
                say("Aluminium ions are positive: aluminium forms at {the_cathode}.", rng.wording),
                6,
            ),
            (
                say("they dissolve as ions, as an active {anode} does", rng.wording),
                "Carbon forms no ions: it is oxidised to a gas.",
                16,
            ),
        ]
        text = say(
            "Why must the carbon {anodes} of an aluminium cell be replaced again and again?",
            rng.wording,
        )
        reason = say(
            "Oxide ions give oxygen at {the_anode}; at {melt} carbon burns in it.",
            rng.wording,
            melt=f"{melt.temperature_C:.0f}{NO_BREAK}°C",
        )
    else:
        right = "aluminium is more reactive than carbon, so carbon cannot take its oxygen"
        wrong = [
            (
                "aluminium oxide contains no ions until a current makes them",
                "The ions are there in the solid already; melting or dissolving only lets them move.",
                1,
            ),
            (
                "aluminium is less reactive than carbon, so it needs more energy",
                "It is the other way round: a metal less reactive than carbon is extracted with carbon.",
                0,
            ),
            (
                "aluminium oxide does not conduct when it is molten",
                "When it is molten its ions can move, and it conducts.",
                3,
            ),
        ]
        text = (
            "Why is aluminium extracted by electrolysis and not by heating its oxide with carbon?"
        )
        reason = "Only metals less reactive than carbon can be extracted by heating their oxides with it."
    return choice_question(text, choice(rng, right, wrong, reason))
