"""Makers of questions about what is seen: observations, tests of gases, which solution it was."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.chemistry import electrodes, species_name
from fizzplate.chemistry.substances import observation_of, standard_test
from fizzplate.lesson.rule import residue
from fizzplate.questions.content import Point
from fizzplate.questions.maker import maker
from fizzplate.questions.makers.mark_points import mark_points
from fizzplate.questions.makers.parts import (
    CARBON,
    cell_of,
    choice,
    choice_question,
    draw_salt,
    rule_of,
    salts,
    set_up,
    solution_name,
    text_question,
)
from fizzplate.questions.tables import edition_rows
from fizzplate.words import begin, board_slots, say

if TYPE_CHECKING:
    from fizzplate.questions.makers.parts import Wrong
    from fizzplate.questions.question_types import Question
    from fizzplate.questions.random_source import RandomSource

#: words that say too little for a point of an observation, where its row names no others
TOO_LITTLE = (
    "gas",
    "hydrogen",
    "oxygen",
    "chlorine",
    "bromine",
    "iodine",
    "copper",
    "silver",
)
ACTIVE = (("CuSO4", "copper"), ("AgNO3", "silver"))


@maker("observation", topic="observations", level=14, version=1)
def observation(rng: RandomSource) -> Question:
    """Ask what is seen."""
    role = rng.one_of(("cathode", "anode"))
    if role == "anode" and rng.number(5) == 0:
        formula, material = rng.one_of(ACTIVE)
    else:
        formula, material = draw_salt(rng), CARBON
    electrode = board_slots(rng.wording)[role]
    product = getattr(rule_of(formula, rng.wording, material, material), role).product
    answer = observation_of(product)
    stem = set_up(rng, formula, "" if material == CARBON else material)
    text = f"{stem} " + rng.one_of(
        (
            f"Describe what is seen at the {electrode}.",
            f"State what a student observes at the {electrode}.",
            f"What would you see at the {electrode}? Do not name the product.",
        )
    )
    why = (
        f"The electrode's own metal goes into the solution: {answer}."
        if electrodes()[material].active and role == "anode"
        else f"It is {species_name(product)}, and you see this: {answer}."
    )
    watch = formula if material == CARBON else f"{formula},anode={material},cathode={material}"
    return text_question(
        text, begin(answer), observation_words(product), why=why, watch=watch, wording=rng.wording
    )


def observation_words(product: str) -> tuple[Point, ...]:
    """Return what an observation should say, with what takes it back and what is too little."""
    return tuple(
        Point(
            row["point"],
            (*row.text.split("|"), *_words(row["further_words"])),
            _words(row["contradictions"]),
            _words(row["too_little"]) or TOO_LITTLE,
        )
        for row in data.rows("observation_points")
        if product in row["product"].split() and row["id"] != "electrode"  # the question names it
    )


def _words(cell: str) -> tuple[str, ...]:
    return tuple(filter(None, cell.split("|")))


@maker("gas test", topic="tests", level=14, version=1)
def gas_test(rng: RandomSource) -> Question:
    """Ask for the test of a gas, or of iodine."""
    product = rng.one_of(("H2", "O2", "Cl2", "H2", "O2", "Cl2", "CO2", "I2"))
    name = species_name(product)
    if product == "CO2":
        answer = "Shake or bubble the gas with limewater: it turns cloudy."
    else:
        test = standard_test(product)
        answer = begin(f"{test.action}: {test.result}.")
    text = rng.one_of(
        (
            f"Describe a test for {name}, and its result.",
            f"How can a student show that {name} has formed? Give the test and what is seen.",
            f"Give the chemical test for {name} and the result if it is there.",
        )
    )
    points = mark_points(f"test for {product}", rng.edition)
    return text_question(text, answer, points, wording=rng.wording)


#: a gas and a test whose result is hard to tell from another
UNCLEAR = {("H2", "glowing splint")}


@maker("test result", topic="tests", level=14, version=1)
def test_result(rng: RandomSource) -> Question:
    """Ask what a test of the gas from an electrode shows."""
    tests = {row["test"]: row for row in edition_rows("gas_test_questions", rng.edition)}
    gas = test = ""
    while gas not in {"H2", "O2", "Cl2"} or (gas, test) in UNCLEAR:
        formula, role = draw_salt(rng), rng.one_of(("cathode", "anode"))
        gas, test = getattr(rule_of(formula, rng.wording), role).product, rng.one_of(list(tests))
    electrode, name = board_slots(rng.wording)[role], species_name(gas)
    rows = {
        row["gas"]: row
        for row in data.rows("gas_tests")
        if row["test"] == test and row["gas"] in {"H2", "O2", "Cl2", "CO2"}
    }
    done = tests[test].text("text")
    more = (tests[test].text("wrong"), tests[test].text("reason"), 0)
    by_result: dict[str, list[str]] = {}
    for other, row in rows.items():
        # one splint that goes out looks like another that goes out smoking
        if other == gas or row["picture"] != rows[gas]["picture"]:
            by_result.setdefault(row.text, []).append(species_name(other))
    wrong: list[Wrong] = [
        (seen, f"That is seen with {' or '.join(gases)}; here the gas is {name}.", 0)
        for seen, gases in by_result.items()
        if seen != rows[gas].text
    ]
    text = f"{set_up(rng, formula)} Then {done} from the {electrode}. What is seen?"
    means = say(rows[gas].caveat, it="the result")
    reason = f"The gas is {name}. {means}."
    options = choice(rng, rows[gas].text, [*wrong, more], reason, keep=len(wrong))
    return choice_question(text, options, watch=formula)


@maker("identify the solution", topic="observations", level=14, version=1)
def identify(rng: RandomSource) -> Question:
    """Ask which solution gives what was seen: computed so that one option fits."""
    known = [formula for formula in salts(rng) if formula != "NaF"]
    formula = rng.one_of(known)
    mine = _signs(formula, rng)
    others = [each for each in rng.shuffled(known) if _signs(each, rng) != mine]
    # first those that agree at one electrode: only the other electrode distinguishes them
    others.sort(key=lambda each: sum(a != b for a, b in zip(_signs(each, rng), mine, strict=True)))
    wrong: list[Wrong] = [
        (solution_name(each, rng.wording), _differs(each, mine, rng), 0) for each in others[:5]
    ]
    cathode, anode, left = mine
    also = (
        f" The products are taken away; the solution that is left, once mixed, is {left}."
        if left
        else ""
    )
    text = say(
        "An unknown solution is electrolysed with carbon electrodes. At {the_cathode}: "
        "{cathode}. At {the_anode}: {anode}.{also} Which solution can it be?",
        rng.wording,
        cathode=cathode,
        anode=anode,
        also=also,
    )
    rule = rule_of(formula, rng.wording)
    made = " and ".join(species_name(each.product) for each in (rule.cathode, rule.anode))
    right = solution_name(formula, rng.wording)
    leaves = f" and leaves a solution that is {left}" if left else ""
    reason = f"It gives {made}{leaves}, and no other of these solutions does all that."
    options = choice(rng, right, wrong, reason)
    return choice_question(text, options, watch=formula)


def _signs(formula: str, rng: RandomSource) -> tuple[str, str, str]:
    """Return what is seen at both electrodes, and what the solution has become."""
    rule = rule_of(formula, rng.wording)
    ions = cell_of(formula).ions_mol_dm3
    turns = residue(rule, ions).acidity
    if turns == "as before":
        turns = "acid" if "H+" in ions else "alkaline" if "OH-" in ions else "neutral"
    if rule.cathode.product == "Cu" and rule.anode.product != "O2":
        turns = ""  # copper(II) chloride: weakly acid before and after, nothing to tell it by
    return observation_of(rule.cathode.product), observation_of(rule.anode.product), turns


def _differs(formula: str, wanted: tuple[str, str, str], rng: RandomSource) -> str:
    """Say by what a solution can be ruled out."""
    has = _signs(formula, rng)
    if has[0] != wanted[0]:
        return say("At {the_cathode} it would give something else: {has}.", rng.wording, has=has[0])
    if has[1] != wanted[1]:
        return say("At {the_anode} it would give something else: {has}.", rng.wording, has=has[1])
    return f"It would leave a solution that is {has[2]}."
