"""Makers of questions about practical work: plans and evaluations, which learners mark with a list."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.questions.maker import maker
from fizzplate.questions.makers.mark_points import acts, draw_results, ways_of
from fizzplate.questions.makers.parts import (
    checklist_question,
    choice,
    choice_question,
    solution_name,
)
from fizzplate.questions.misconceptions import Idea, correction
from fizzplate.questions.tables import edition_rows
from fizzplate.words import begin, say

if TYPE_CHECKING:
    from fizzplate.questions.makers.parts import Wrong
    from fizzplate.questions.question_types import Question
    from fizzplate.questions.random_source import RandomSource


@maker("plan", topic="practical work", level=14, version=3, since=1)
def plan(rng: RandomSource) -> Question:
    """Ask for a plan, marked by the learner with a list."""
    plan = rng.one_of(edition_rows("plans", rng.edition))
    formula = rng.one_of(plan.text("solutions").split())
    solution = solution_name(formula, rng.wording)
    metal = "silver" if formula == "AgNO3" else "copper"
    what = say(plan.text("text"), rng.wording, solution=solution, metal=metal)
    points = edition_rows("plan_points", rng.edition, plan=plan["plan"])
    statements = tuple(say(each.text("text"), rng.wording) for each in points)
    text = f"Plan an experiment to find {what}. Write your plan."
    return checklist_question(text, statements, watch=formula)


@maker("evaluate", topic="practical work", level=16, version=3, since=1)
def evaluate(rng: RandomSource) -> Question:
    """Ask for a cause of the difference from theory, how it acts and what helps, marked with a list."""
    results = draw_results(rng)
    while not 1 <= len(results.sufficient_causes) <= 4:
        results = draw_results(rng)
    # a cause that leaves the other rod unexplained is no cause of these results
    possible, off = results.sufficient_causes, results.off_percent
    causes = [each.cause.how_in(rng.wording) for each in possible]
    ways = dict.fromkeys(ways_of(each, off) for each in possible)
    improvements = [each.cause.improvement_in(rng.wording) for each in possible]
    statements = (
        f"names a cause that the results allow, such as: {'; or '.join(causes)}",
        f"says how that cause acts: it makes {', or '.join(ways)}",
        f"improves just that, such as: {'; or '.join(improvements)}",
        "compares the difference with the uncertainty, or repeats to see the scatter",
    )
    text = (
        f"{results.text} Suggest one cause of the difference, say how it acts on the result, suggest an "
        "improvement for it, and say how you would find out whether the difference matters."
    )
    return checklist_question(text, statements, watch=results.watch)


@maker("possible cause", topic="practical work", level=16, version=1)
def possible_cause(rng: RandomSource) -> Question:
    """Ask which cause results allow, the others being ruled out by the results themselves."""
    results = draw_results(rng)
    while not (results.sufficient_causes and len(results.excluded_causes) >= 2):
        results = draw_results(rng)
    right = rng.one_of(results.sufficient_causes)
    wrong: list[Wrong] = [
        (
            each.cause.sentence_in(rng.wording),
            f"{each.sentence} {acts(each, results.off_percent)}",
            0,
        )
        for each in results.excluded_causes
    ]
    if len(wrong) < 3:
        wrong.append(
            (
                "The two electrodes passed different numbers of electrons.",
                correction(Idea.ELECTRODES_PASS_DIFFERENT_CHARGES, rng.wording),
                Idea.ELECTRODES_PASS_DIFFERENT_CHARGES,
            )
        )
    text = f"{results.text} Which of these causes do the results allow?"
    reason = f"{right.sentence} {acts(right, results.off_percent)}"
    options = choice(rng, right.cause.sentence_in(rng.wording), wrong, reason)
    return choice_question(text, options, watch=results.watch)


DEPOSITING = (("CuSO4", "copper"), ("AgNO3", "silver"), ("Cu(NO3)2", "copper"), ("CuCl2", "copper"))
TIMES = {"double": "twice", "treble": "three times"}


@maker("double the mass", topic="quantities", level=14, version=1)
def double_mass(rng: RandomSource) -> Question:
    """Ask which change multiplies the mass deposited."""
    formula, metal = rng.one_of(DEPOSITING)
    name = solution_name(formula, rng.wording)
    verb = rng.one_of(list(TIMES))
    times = TIMES[verb]
    right = rng.one_of(
        (f"the same current for {times} as long", f"{times} the current for the same time")
    )
    wrong: list[Wrong] = [
        (
            f"{times} the voltage for the same time",
            (
                f"{begin(times)} the charge gives {times} the mass. At the bench {times} the voltage does "
                f"not give exactly {times} the current: that depends on the cell and the lamp."
            ),
            Idea.VOLTAGE_DOUBLES_MASS,
        ),
        (
            f"the same current and time, with {times} the concentration",
            "The same charge deposits the same mass, however many ions are there.",
            0,
        ),
        (
            say(
                "the same current and time, with {a_cathode} {times} as large",
                rng.wording,
                times=times,
            ),
            "The same charge deposits the same mass; it is only spread more thinly.",
            0,
        ),
        (
            "the same current and time, with the wires swapped",
            (
                "Then the metal is deposited on the other rod, but no more of it. "
                f"{correction(Idea.SWAPPING_CHANGES_NOTHING, rng.wording)}"
            ),
            Idea.SWAPPING_CHANGES_NOTHING,
        ),
    ]
    text = rng.one_of(
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
    options = choice(rng, right, wrong, reason, keep=1)
    return choice_question(text, options, watch=formula)
