"""Makers of questions about practical work: plans and evaluations, which learners mark with a list."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.questions.maker import maker
from fizzplate.questions.makers.mark_points import acts, drawn_results
from fizzplate.questions.makers.parts import (
    checklist_question,
    choice,
    choice_question,
    solution_name,
)
from fizzplate.questions.misconceptions import correction
from fizzplate.questions.tables import offered
from fizzplate.words import say

if TYPE_CHECKING:
    from fizzplate.questions.dice import Dice
    from fizzplate.questions.makers.parts import Wrong
    from fizzplate.questions.question_types import Question


@maker("plan", topic="practical work", level=14, version=1)
def plan(dice: Dice) -> Question:
    """Ask for a plan, marked by the learner with a list."""
    plan = dice.one_of(offered("plans", dice.edition))
    formula = dice.one_of(plan.text("solutions").split())
    solution = solution_name(formula, dice.wording)
    metal = "silver" if formula == "AgNO3" else "copper"
    what = say(plan.text("text"), dice.wording, solution=solution, metal=metal)
    points = offered("plan_points", dice.edition, plan=plan["plan"])
    says = tuple(say(each.text("text"), dice.wording) for each in points)
    text = f"Plan an experiment to find out {what}. Write your plan."
    return checklist_question(text, says, watch=formula)


@maker("evaluate", topic="practical work", level=16, version=1)
def evaluate(dice: Dice) -> Question:
    """Ask why results differ from theory and what to do about it, marked with a list."""
    results = drawn_results(dice)
    while not 2 <= len(results.allowed) <= 4:
        results = drawn_results(dice)
    says = [each.cause.with_improvement_in(dice.wording) for each in results.allowed]
    says.append("compares the difference with the uncertainty, and repeats to see the scatter")
    text = (
        f"{results.text} Suggest what may have caused the differences, say how each cause would act, "
        "and suggest improvements."
    )
    return checklist_question(text, says, watch=results.watch)


@maker("possible cause", topic="practical work", level=16, version=1)
def possible_cause(dice: Dice) -> Question:
    """Ask which cause results allow, the others being ruled out by the results themselves."""
    results = drawn_results(dice)
    while not (results.allowed and len(results.refused) >= 2):
        results = drawn_results(dice)
    right = dice.one_of(results.allowed)
    wrong: list[Wrong] = [
        (
            each.cause.sentence_in(dice.wording),
            f"{each.says} {acts(each, results.off_percent)}",
            0,
        )
        for each in results.refused
    ]
    if len(wrong) < 3:
        wrong.append(
            (
                "The two electrodes passed different numbers of electrons.",
                correction(26, dice.wording),
                26,
            )
        )
    text = f"{results.text} Which of these causes do the results allow?"
    reason = f"{right.says} {acts(right, results.off_percent)}"
    options = choice(dice, right.cause.sentence_in(dice.wording), wrong, reason)
    return choice_question(text, options, watch=results.watch)


DEPOSITING = (("CuSO4", "copper"), ("AgNO3", "silver"), ("Cu(NO3)2", "copper"), ("CuCl2", "copper"))
TIMES = {"double": "twice", "treble": "three times"}


@maker("double the mass", topic="quantities", level=14, version=1)
def double_mass(dice: Dice) -> Question:
    """Ask which change multiplies the mass deposited."""
    formula, metal = dice.one_of(DEPOSITING)
    name = solution_name(formula, dice.wording)
    verb = dice.one_of(list(TIMES))
    times = TIMES[verb]
    right = dice.one_of(
        (f"the same current for {times} as long", f"{times} the current for the same time")
    )
    wrong: list[Wrong] = [
        (f"{times} the voltage for the same time", correction(28, dice.wording), 28),
        (
            f"the same current and time, with {times} the concentration",
            "The same charge deposits the same mass, however many ions are there.",
            0,
        ),
        (
            say(
                "the same current and time, with {a_cathode} {times} as large",
                dice.wording,
                times=times,
            ),
            "The same charge deposits the same mass; it is only spread more thinly.",
            0,
        ),
        (
            "the same current and time, with the wires swapped",
            f"Then the metal is deposited on the other rod, but no more of it. {correction(8, dice.wording)}",
            8,
        ),
    ]
    text = dice.one_of(
        (
            (
                f"A steady current deposits {metal} from {name}. Which change is sure to {verb} the mass of "
                f"{metal}?"
            ),
            (
                f"In one run a steady current deposits {metal} from {name}. What would {verb} its mass "
                "in the next run, whatever the cell?"
            ),
        )
    )
    reason = "The mass is proportional to the charge, which is current × time."
    options = choice(dice, right, wrong, reason, keep=1)
    return choice_question(text, options, watch=formula)
