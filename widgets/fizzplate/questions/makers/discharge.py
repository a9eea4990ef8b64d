"""Makers of questions about what forms at an electrode: computed from the rule and the tables."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.chemistry import solutions, species_name
from fizzplate.lesson.classroom import DISSOLVES, NOTHING, choice_of, product_choices
from fizzplate.questions.maker import maker
from fizzplate.questions.makers.parts import (
    CARBON,
    cell_of,
    choice,
    choice_question,
    draw_salt,
    rule_of,
    set_up,
    solution_name,
    why_product,
)
from fizzplate.questions.misconceptions import Idea, correction
from fizzplate.questions.tables import candidates
from fizzplate.words import begin, board_slots, say

if TYPE_CHECKING:
    from fizzplate.chemistry import Rule
    from fizzplate.questions.makers.parts import Wrong
    from fizzplate.questions.question_types import Question
    from fizzplate.questions.random_source import RandomSource
    from fizzplate.words import Wording

TEMPTING = {11, 18, 21, 27}
#: what learners expect with any ions: the number of the idea behind it, or why it does not form
EXPECTED_ANYWHERE: dict[str, int | str] = {
    NOTHING: Idea.INERT_ELECTRODES_ALLOW_NOTHING,
    DISSOLVES: Idea.CARBON_REACTS,
    "sulfur dioxide": Idea.SULFUR_DIOXIDE_FROM_SULFATE,
    "nitrogen": "Nitrate ions are not discharged from a solution: by the rule they stay.",
    "fluorine": "Fluoride ions are never discharged from a solution.",
}
#: what dissolves in what: the ions of the solution are the electrode's own, or are none that it discharges
ACTIVE = (
    ("CuSO4", "copper"),
    ("Cu(NO3)2", "copper"),
    ("AgNO3", "silver"),
    ("ZnSO4", "zinc"),
    ("NiSO4", "nickel"),
    ("H2SO4", "copper"),
    ("Na2SO4", "copper"),
)


@maker("product at the cathode", topic="products", level=14, version=2, since=1)
def cathode_product(rng: RandomSource) -> Question:
    """Ask what forms at an inert cathode."""
    return _product(rng, "cathode")


@maker("product at the anode", topic="products", level=14, version=3, since=1)
def anode_product(rng: RandomSource) -> Question:
    """Ask what forms at an inert anode."""
    return _product(rng, "anode")


def _product(rng: RandomSource, role: str) -> Question:
    formula = "NaF" if role == "anode" and rng.number(12) == 0 else draw_salt(rng)
    electrode = board_slots(rng.wording)[role]
    prompt = rng.one_of(
        (
            f"What forms at the {electrode}?",
            f"Which product is expected at the {electrode}?",
            f"What is expected at the {electrode}?",
        )
    )
    cell = set_up(rng, formula)
    if formula == "NaF":  # no rule that is taught says so
        cell = f"{cell} Fluoride ions are not discharged from a solution."
    return product_question(rng, formula, role, f"{cell} {prompt}")


def product_question(rng: RandomSource, formula: str, role: str, text: str) -> Question:
    """Ask what forms at an inert electrode in a solution, in the words that are given."""
    rule = rule_of(formula, rng.wording)
    right = choice_of(getattr(rule, role).product, CARBON)
    wrong = [
        _why_not(name, role, formula, rule, rng.wording)
        for name in product_choices(cell_of(formula))
        if name != right
    ]
    # what learners expect of just this solution is always offered
    wrong.sort(key=lambda each: each[2] not in TEMPTING)
    tempting = sum(each[2] in TEMPTING for each in wrong)
    reason = why_product(formula, role, rule, rng.wording)
    options = choice(rng, right, wrong, reason, keep=tempting)
    return choice_question(text, options, watch=formula)


def _why_not(name: str, role: str, formula: str, rule: Rule, wording: Wording) -> Wrong:
    """Say why a product does not form at an electrode, and which idea is behind expecting it."""
    if name in EXPECTED_ANYWHERE:
        return _not_anywhere(name, role, wording)
    expected = species_name(getattr(rule, role).product)
    metals = {row["element"]: row["ion"] for row in data.rows("reactivity")}
    idea: int
    if name not in metals:  # a halogen, or oxygen
        if role == "cathode":
            idea = (
                Idea.ANIONS_OXIDISED_AT_CATHODE
                if name == "bromine"
                else Idea.CATIONS_DRIFT_TO_ANODE
            )
            reason = say("It comes from negative ions, which drift to {the_anode}.", wording)
            if name == "bromine" and formula == "KBr":
                reason = f"{reason} {correction(Idea.ANIONS_OXIDISED_AT_CATHODE, wording)}"
            return name, reason, idea
        if name == "oxygen":
            return (
                name,
                f"Where there are many halide ions, {expected} forms rather than oxygen.",
                0,
            )
        raise AssertionError(f"nothing gives {name} at the {role}")
    if role == "anode":
        reason = (
            "It comes from positive ions, and positive ions, the cations, drift to {the_cathode}."
        )
        return name, say(reason, wording), Idea.CATIONS_DRIFT_TO_ANODE
    if name == "hydrogen":
        idea = Idea.COPPER_HARDER_THAN_HYDROGEN if expected == "copper" else 0
        easily = f"{begin(expected)} ions are discharged more easily."
        return name, correction(Idea.COPPER_HARDER_THAN_HYDROGEN, wording) if idea else easily, idea
    idea = Idea.SODIUM_FROM_SOLUTION if metals[name] in solutions()[formula].ions else 0
    reason = f"{begin(name)} is more reactive than hydrogen: its ions stay."
    if formula == "NaCl":
        reason = f"{reason} {correction(Idea.SODIUM_FROM_SOLUTION, wording)}"
    return name, reason, idea


def _not_anywhere(name: str, role: str, wording: Wording) -> Wrong:
    """Say why a product forms at neither electrode."""
    why = EXPECTED_ANYWHERE[name]
    if not isinstance(why, int):
        return name, why, 0
    corrected = correction(why, wording)
    if name == DISSOLVES:
        corrected = f"Inert electrodes do not dissolve. {corrected}"
    if name == "sulfur dioxide" and role == "cathode":
        away = say("Sulfate ions are negative: they drift to {the_anode}.", wording)
        corrected = f"{away} {corrected}"
    return name, corrected, why


@maker("active anode", topic="products", level=14, version=1)
def active_anode(rng: RandomSource) -> Question:
    """Ask what an active anode does."""
    formula, metal = rng.one_of(ACTIVE)
    right = say("the {metal} of {the_anode} dissolves and forms ions", rng.wording, metal=metal)
    deposits = choice_of(rule_of(formula, rng.wording, metal, CARBON).cathode.product, CARBON)
    wrong: list[Wrong] = [
        (
            say("oxygen forms, just as at a carbon {anode}", rng.wording),
            f"{begin(metal)} loses electrons more easily than any ion in the solution.",
            Idea.COPPER_ANODE_GIVES_OXYGEN,
        ),
        (
            f"{deposits} forms there",
            say(
                "{Deposits} comes from positive ions, which drift to {the_cathode}.",
                rng.wording,
                deposits=deposits,
            ),
            Idea.CATIONS_DRIFT_TO_ANODE,
        ),
        (
            say("{the_anode} only carries the current, and stays as it is", rng.wording),
            f"Carbon and platinum do that; {metal} dissolves.",
            Idea.COPPER_ANODE_GIVES_OXYGEN,
        ),
        (
            f"{metal} is deposited on it, because it is oxidised",
            "Oxidation is loss of electrons: it makes ions of the metal, and so dissolves it.",
            Idea.OXIDATION_IS_GAIN,
        ),
    ]
    stem = f"{begin(solution_name(formula, rng.wording))} is electrolysed with {metal} electrodes."
    text = f"{stem} " + rng.one_of(
        (
            say("What happens at {the_anode}?", rng.wording),
            say("Which change is expected at {the_anode}?", rng.wording),
        )
    )
    reason = say(
        "A {metal} {anode} is active: its atoms lose electrons and go into the solution as ions.",
        rng.wording,
        metal=metal,
    )
    watch = f"{formula},anode={metal},cathode={metal}"
    options = choice(rng, right, wrong, reason, keep=1)
    return choice_question(text, options, watch=watch)


@maker("melt", topic="melts", level=14, version=1)
def melt_products(rng: RandomSource) -> Question:
    """Ask what a molten salt gives."""
    formula = rng.one_of(candidates("melt", rng.edition))
    rule = rule_of(formula, rng.wording)
    metal, other = (species_name(each.product) for each in (rule.cathode, rule.anode))
    right = say(
        "{metal} at {the_cathode}, {other} at {the_anode}", rng.wording, metal=metal, other=other
    )
    wrong: list[Wrong] = [
        (
            say("hydrogen at {the_cathode}, {other} at {the_anode}", rng.wording, other=other),
            correction(Idea.WATER_IN_MELT, rng.wording),
            Idea.WATER_IN_MELT,
        ),
        (
            say(
                "{other} at {the_cathode}, {metal} at {the_anode}",
                rng.wording,
                other=other,
                metal=metal,
            ),
            f"The metal comes from cations. {correction(Idea.CATIONS_DRIFT_TO_ANODE, rng.wording)}",
            Idea.CATIONS_DRIFT_TO_ANODE,
        ),
    ]
    if other != "oxygen":
        wrong.append(
            (
                say("{metal} at {the_cathode}, oxygen at {the_anode}", rng.wording, metal=metal),
                correction(Idea.WATER_IN_MELT, rng.wording),
                Idea.WATER_IN_MELT,
            )
        )
    else:
        wrong.append(
            (
                say("{metal} at {the_cathode}, fluorine at {the_anode}", rng.wording, metal=metal),
                "Fluoride ions of the cryolite are harder to discharge than oxide ions.",
                0,
            )
        )
    reason = say(
        "There is no water in the melt, so {metal} ions are discharged at {the_cathode}, and {other} "
        "forms at {the_anode}. The ions of the cryolite are harder to discharge."
        if other == "oxygen"
        else "A melt contains only the ions of the salt, so {metal} ions are discharged at "
        "{the_cathode} and {other} forms at {the_anode}.",
        rng.wording,
        metal=metal,
        other=other,
    )
    text = f"{set_up(rng, formula)} What forms at the two electrodes?"
    return choice_question(text, choice(rng, right, wrong, reason))


@maker("molten or dissolved", topic="melts", level=14, version=1)
def melt_or_solution(rng: RandomSource) -> Question:
    """Ask what a salt gives when it is molten and when it is dissolved."""
    formula = rng.one_of(("NaCl", "ZnCl2"))
    melt, dissolved = (rule_of(each, rng.wording) for each in (f"{formula}(l)", formula))
    metal, gas = (species_name(each.cathode.product) for each in (melt, dissolved))
    name = solutions()[formula].name
    right = f"{metal} when molten, {gas} when dissolved"
    bench = (
        " At the bench some zinc is deposited from the solution as well." if metal == "zinc" else ""
    )
    wrong: list[Wrong] = [
        (
            f"{metal} both times",
            (
                f"In the solution hydrogen ions of the water are there too, and hydrogen is less reactive "
                f"than {metal}.{bench}"
            ),
            Idea.SODIUM_FROM_SOLUTION,
        ),
        (f"{gas} both times", correction(Idea.WATER_IN_MELT, rng.wording), Idea.WATER_IN_MELT),
        (
            f"{gas} when molten, {metal} when dissolved",
            (
                "Only the solution contains water, and so hydrogen ions. "
                f"{correction(Idea.WATER_IN_MELT, rng.wording)}"
            ),
            Idea.WATER_IN_MELT,
        ),
        (
            f"{species_name(melt.anode.product)} both times",
            say("That forms at {the_anode}.", rng.wording),
            Idea.CATIONS_DRIFT_TO_ANODE,
        ),
    ]
    text = rng.one_of(
        (
            (
                say(
                    "{Name} is electrolysed with inert electrodes, once molten and once dissolved in "
                    "water. What does the rule expect at {the_cathode}?",
                    rng.wording,
                    name=name,
                )
            ),
            (
                say(
                    "A current passes through molten {name}, and then through a solution of it, between "
                    "inert electrodes. What forms at {the_cathode} by the rule?",
                    rng.wording,
                    name=name,
                )
            ),
        )
    )
    reason = (
        f"The melt contains {metal} ions only; in the solution hydrogen ions of the water are there as well, "
        f"and hydrogen is less reactive.{bench}"
    )
    options = choice(rng, right, wrong, reason, keep=2)
    return choice_question(text, options, watch=formula)
