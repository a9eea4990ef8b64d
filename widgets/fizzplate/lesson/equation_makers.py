"""Makers of questions about equations, which are written and marked point by point."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.chemistry import (
    pretty,
)
from fizzplate.lesson.equation_tasks import half_task, overall_task
from fizzplate.lesson.marking import Question
from fizzplate.lesson.question_parts import (
    SALTS,
    begin,
    cell_of,
    solution_name,
)

if TYPE_CHECKING:
    from fizzplate.lesson.dice import Dice


def _half(dice: Dice) -> tuple[str, str, Question]:
    formula = dice.one_of(SALTS)
    role = dice.one_of(("cathode", "anode"))
    electrode = getattr(cell_of(formula).rule(), role)
    task = half_task(electrode.half_equation, electrode.product, role)
    question = Question(
        "half-equation",
        "half-equations",
        14,
        f"{begin(solution_name(formula))} is electrolysed with carbon electrodes. {task.asks}",
        "equation",
        2,
        str(electrode.half_equation),
        f"{electrode.half_equation.pretty()}: atoms and charge balance.",
        task=task,
        watch=formula,
    )
    return role, electrode.product, question


def write_half(dice: Dice) -> Question:
    """Ask for a half-equation."""
    return _half(dice)[2]


def correct_half(dice: Dice) -> Question:
    """Ask for the correction of a half-equation that has one mistake."""
    formula = dice.one_of(SALTS)
    role = dice.one_of(("cathode", "anode"))
    electrode = getattr(cell_of(formula).rule(), role)
    equation = electrode.half_equation
    terms = [species for _, species in (*equation.reactants, *equation.products)]
    broken = dice.one_of(terms)
    sides = []
    for side in (equation.reactants, equation.products):
        parts = []
        for count, species in side:
            shown = (
                count + 1 if species == broken and count == 1 else 1 if species == broken else count
            )
            parts.append(f"{shown if shown > 1 else ''}{pretty(species)}")
        sides.append(" + ".join(parts))
    task = half_task(equation, electrode.product, role)
    return Question(
        "correct a half-equation",
        "half-equations",
        14,
        f"A student writes {sides[0]} → {sides[1]} for the {role} in {solution_name(formula)}. One number is "
        "wrong. Write it "
        "correctly.",
        "equation",
        2,
        str(equation),
        f"{equation.pretty()}: atoms and charge balance.",
        task=task,
        watch=formula,
    )


def write_overall(dice: Dice) -> Question:
    """Ask for the overall equation."""
    formula = dice.one_of(SALTS)
    rule = cell_of(formula).rule()
    task = overall_task(
        rule.cathode.half_equation,
        rule.cathode.product,
        rule.anode.half_equation,
        rule.anode.product,
    )
    if task is None:
        raise AssertionError("graphite electrodes never undo each other")
    shown = task.hints[-1]
    return Question(
        "overall equation",
        "half-equations",
        16,
        f"{begin(solution_name(formula))} is electrolysed with carbon electrodes. The half-equations are "
        f"{rule.cathode.half_equation.pretty()} and {rule.anode.half_equation.pretty()}. {task.asks}",
        "equation",
        2,
        shown,
        f"{shown}: the electrons are made equal and cancel.",
        task=task,
        watch=formula,
    )
