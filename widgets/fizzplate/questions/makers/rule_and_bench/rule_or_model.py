"""Makers of questions for 16 to 18: where the classroom rule and the bench differ."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.cell import Cell
from fizzplate.chemistry import species_name
from fizzplate.questions.maker import maker
from fizzplate.questions.makers.charts import CHARGE, CHLORINE, COLLECTED, ZINC, stored_run
from fizzplate.questions.makers.parts import choice, choice_question
from fizzplate.questions.misconceptions import Idea, correction
from fizzplate.words import NO_BREAK, begin, say

if TYPE_CHECKING:
    from fizzplate.questions.makers.parts import Wrong
    from fizzplate.questions.question_types import Question
    from fizzplate.questions.random_source import RandomSource


@maker("dilute", topic="rule and bench", level=16, version=1)
def dilute(rng: RandomSource) -> Question:
    """Ask what dilution changes at the anode, as the board sees it or as the bench does."""
    formula, name = rng.one_of(
        (("NaCl", "sodium chloride"), ("KCl", "potassium chloride"), ("HCl", "hydrochloric acid"))
    )
    strength = rng.one_of((0.005, 0.01, 0.02))
    cell = Cell(formula, concentration_mol_dm3=strength)
    board_says = cell.rule(rng.wording).anode.product
    metal = "sodium" if formula == "NaCl" else "potassium" if formula == "KCl" else "hydrogen"
    liquid = name if formula == "HCl" else f"{name} solution"
    bench = "At the bench both gases form, and the more dilute it is the more oxygen."
    other: list[Wrong] = [
        (
            metal,
            say("It comes from positive ions, which drift to {the_cathode}.", rng.wording),
            Idea.CATIONS_DRIFT_TO_ANODE,
        ),
        (
            "nothing, because there are too few ions to react",
            say("There is water as well, and it gives oxygen at {the_anode}.", rng.wording),
            Idea.WATER_NEVER_REACTS,
        ),
    ]
    if board_says == "O2":
        right = "oxygen, by the rule for dilute solutions"
        wrong: list[Wrong] = [
            (
                "chlorine, just as from a concentrated solution",
                correction(Idea.CONCENTRATION_NEVER_MATTERS, rng.wording),
                Idea.CONCENTRATION_NEVER_MATTERS,
            ),
            *other,
        ]
        reason = f"There are few chloride ions, so the rule counts it as dilute. {bench}"
    else:
        right = "still chlorine, but with more oxygen as well"
        wrong = [
            (
                "chlorine alone, because the concentration changes nothing",
                correction(Idea.CONCENTRATION_NEVER_MATTERS, rng.wording),
                Idea.CONCENTRATION_NEVER_MATTERS,
            ),
            *other,
        ]
        reason = say(
            "Few chloride ions reach {the_anode}, so oxygen forms from {oxygen_source} too. {bench}",
            rng.wording,
            bench=bench,
        )
    text = say(
        "{Liquid} is diluted to {strength} and electrolysed with inert electrodes. "
        "What does {the_anode} give?",
        rng.wording,
        liquid=liquid,
        strength=f"{strength:g}{NO_BREAK}mol/dm³",
    )
    watch = f"{formula},c={strength:g},lamp=none"
    options = choice(rng, right, wrong, reason)
    return choice_question(text, options, watch=watch)


@maker("rule and bench", topic="rule and bench", level=16, version=3, since=1)
def differs(rng: RandomSource) -> Question:
    """Ask why the bench does not do what the rule says."""
    return rng.one_of((_zinc, _iron, _little_chlorine, _little_oxygen))(rng)


def _zinc(rng: RandomSource) -> Question:
    run = stored_run("zinc")
    metal = run.quantity(ZINC)[-1]
    charge = run.quantity(CHARGE)[-1]
    share = run.share_of_charge("Zn")
    right = "hydrogen needs a much higher voltage on zinc than its place in the series suggests"
    wrong: list[Wrong] = [
        (
            "zinc is less reactive than hydrogen, so zinc ions are discharged first",
            "Zinc is more reactive: it gives hydrogen with acids.",
            0,
        ),
        (
            "zinc is a metal, and metals are discharged before hydrogen",
            (
                "It does not matter that zinc is a metal: sodium is never deposited from water. "
                f"{correction(Idea.SODIUM_FROM_SOLUTION, rng.wording)}"
            ),
            Idea.IRON_WITHOUT_HYDROGEN,
        ),
        (
            say(
                "water takes no part, so that zinc ions are the only ones at {the_cathode}",
                rng.wording,
            ),
            say("Hydrogen ions of the water come to {the_cathode} as well.", rng.wording),
            Idea.WATER_NEVER_REACTS,
        ),
    ]
    text = (
        "By the rule zinc sulfate solution gives hydrogen. In a modelled run "
        f"{charge:.0f}{NO_BREAK}C deposited {metal:.0f}{NO_BREAK}mg of zinc, which takes "
        f"{100 * share:.0f}{NO_BREAK}% of the charge. "
        "Why does zinc form?"
    )
    reason = (
        "Hydrogen forms slowly on zinc, but the rule says nothing about how fast a reaction is."
    )
    options = choice(rng, right, wrong, reason)
    return choice_question(text, options, watch="ZnSO4")


def _iron(rng: RandomSource) -> Question:
    ion = rng.one_of(("Fe2+", "Ni2+", "Zn2+"))
    formula = {"Fe2+": "FeSO4", "Ni2+": "NiSO4", "Zn2+": "ZnSO4"}[ion]
    metal = data.find("reactivity", ion=ion)["element"]
    right = f"the rule says hydrogen; at the bench {metal} is deposited as well"
    wrong: list[Wrong] = [
        (
            f"the rule says {metal}, because it is a metal; at the bench the same happens",
            "By the rule the less reactive is discharged, and that is hydrogen. "
            f"{correction(Idea.IRON_WITHOUT_HYDROGEN, rng.wording)}"
            if ion == "Fe2+"
            else "By the rule the less reactive is discharged, and that is hydrogen.",
            Idea.IRON_WITHOUT_HYDROGEN,
        ),
        (
            "the rule says hydrogen; at the bench nothing else ever forms",
            f"Hydrogen forms slowly on {metal}, so {metal} is deposited as well.",
            0,
        ),
        (
            "the rule says nothing about it; you can only try it",
            (
                f"{correction(Idea.PRODUCTS_UNPREDICTABLE, rng.wording)} "
                f"At the bench {metal} is deposited as well."
            ),
            Idea.PRODUCTS_UNPREDICTABLE,
        ),
    ]
    text = say(
        "What does the classroom rule expect at {the_cathode} in {ion} sulfate solution, and "
        "what does the bench show?",
        rng.wording,
        ion=species_name(ion),
    )
    reason = (
        f"{begin(metal)} is more reactive than hydrogen, so the rule expects hydrogen; but hydrogen forms "
        f"slowly on {metal}, and the rule leaves rates out."
    )
    options = choice(rng, right, wrong, reason)
    return choice_question(text, options, watch=formula)


def _little_chlorine(rng: RandomSource) -> Question:
    run = stored_run("brine")
    made = run.quantity(CHLORINE)[-1]
    caught = run.quantity(COLLECTED)[-1]
    right = say(
        "chlorine dissolves, and reacts with the alkali of {the_cathode}",
        rng.wording,
    )
    wrong: list[Wrong] = [
        (
            say("{the_anode} passes fewer electrons than {the_cathode}", rng.wording),
            "Then electrons would pile up somewhere: both pass the same number in the same time.",
            Idea.ELECTRODES_PASS_DIFFERENT_CHARGES,
        ),
        (
            "the lamp and the wires use up part of the current",
            correction(Idea.LAMP_USES_UP_CURRENT, rng.wording),
            Idea.LAMP_USES_UP_CURRENT,
        ),
        (
            "one molecule of chlorine needs more electrons than one of hydrogen",
            "Both need two, so equal volumes are made.",
            0,
        ),
        (
            say(
                "the carbon of {the_anode} takes up the chlorine to make the products", rng.wording
            ),
            correction(Idea.CARBON_REACTS, rng.wording),
            Idea.CARBON_REACTS,
        ),
    ]
    text = (
        f"In a modelled run with sodium chloride solution the charge made {made:.1f}{NO_BREAK}cm³ of "
        f"chlorine, but only {caught:.1f}{NO_BREAK}cm³ of it could be collected. Why?"
    )
    reason = "More than two volumes of chlorine dissolve in one of water, and with hydroxide it makes bleach."
    return choice_question(
        text,
        choice(rng, right, wrong, reason),
        watch="NaCl",
    )


def _little_oxygen(rng: RandomSource) -> Question:
    right = say(
        "some oxygen dissolves, and some burns the carbon of {the_anode} to carbon dioxide",
        rng.wording,
    )
    wrong: list[Wrong] = [
        (
            "water gives two volumes of oxygen for one of hydrogen",
            correction(Idea.TWICE_AS_MUCH_OXYGEN, rng.wording),
            Idea.TWICE_AS_MUCH_OXYGEN,
        ),
        (
            "some sulfate ions are discharged instead and give sulfur dioxide",
            correction(Idea.SULFUR_DIOXIDE_FROM_SULFATE, rng.wording),
            Idea.SULFUR_DIOXIDE_FROM_SULFATE,
        ),
        (
            say("fewer electrons pass at {the_anode} than at {the_cathode}", rng.wording),
            correction(Idea.ELECTRODES_PASS_DIFFERENT_CHARGES, rng.wording),
            Idea.ELECTRODES_PASS_DIFFERENT_CHARGES,
        ),
        (
            "oxygen is heavier than hydrogen, so it rises more slowly",
            "Bubbles of either rise at once; the mass of a molecule plays no part in that.",
            0,
        ),
    ]
    text = rng.one_of(
        (
            (
                "Sodium sulfate solution is electrolysed with carbon electrodes, and less than half as much "
                "oxygen as hydrogen is collected. Why?"
            ),
            (
                "A class collects hydrogen and oxygen from sodium sulfate solution with carbon electrodes. "
                "The ratio comes out larger than 2 : 1. Why?"
            ),
        )
    )
    reason = "The rule's ratio is 2 : 1; at the bench the oxygen that dissolves or burns carbon is missing."
    options = choice(rng, right, wrong, reason, keep=1)
    return choice_question(text, options, watch="Na2SO4")
