"""Makers of questions for a longer answer of six marks, which is marked by levels."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.chemistry import melts, solutions, species_name
from fizzplate.questions.content import Point
from fizzplate.questions.maker import UNDECLARED, maker
from fizzplate.questions.makers.parts import ions_in_words, rule_of, solution_name, why_product
from fizzplate.questions.question_types import LevelsQuestion
from fizzplate.questions.tables import edition_rows
from fizzplate.words import begin, board_slots, say

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.questions.question_types import Question
    from fizzplate.questions.random_source import RandomSource
    from fizzplate.words import Wording

#: two liquids to compare; a formula with (l) is a melt
COMPARED = (
    *(("NaCl(l)", "NaCl"), ("NaCl", "CuCl2"), ("Na2SO4", "CuSO4"), ("KI", "AgNO3")),
    *(("CuSO4", "CuCl2"), ("KBr", "Na2SO4"), ("NaCl", "AgNO3"), ("HCl", "H2SO4")),
)
#: how the answers about a melt and a solution differ
PREDICTION_LEVELS = (
    "Names some products, or some ions, with little explanation.",
    (
        "Gives most products rightly and explains some of them: which ions are there, or which of two "
        "ions is discharged."
    ),
    (
        "Gives the products at both electrodes of both cells, and uses the ions that are there to explain "
        "why they are the same or differ."
    ),
)
WITH_EQUATIONS = "Include half-equations."
#: what each level says besides, where half-equations are asked for
EQUATIONS_OF_LEVELS = (
    "Half-equations are missing or wrong.",
    "Some half-equations are right.",
    "Nearly all half-equations are right.",
)


def levels_question(
    text: str, content: Sequence[str], levels: Sequence[str], *, watch: str = ""
) -> Question:
    """Return a question for a longer answer, with what it may say and what each level is like."""
    points = tuple(Point(each, ()) for each in content)
    why = "; ".join(content)
    return LevelsQuestion(*UNDECLARED, text, why, levels=tuple(levels), points=points, watch=watch)


@maker("longer answer", topic="applications", level=14, version=3)
def longer_answer(rng: RandomSource) -> Question:
    """Ask for an account, a comparison or a plan, as a table has them."""
    rows = edition_rows("extended_answers", rng.edition)
    name = rng.one_of(list(dict.fromkeys(row["question"] for row in rows)))

    equations = _equations(rng.wording)

    def told(role: str) -> list[str]:
        own = edition_rows("extended_answers", rng.edition, question=name, role=role)
        return [say(row.text("text"), rng.wording, **equations) for row in own]

    return levels_question(rng.one_of(told("question")), told("content"), told("level"))


def _equations(wording: Wording) -> dict[str, str]:
    """Return half-equations as the board writes them, by the slots of the table."""
    copper = rule_of("CuSO4", wording, "copper", "copper")
    oxide = rule_of("Al2O3(l)", wording)
    at = {
        "copper_deposited": copper.cathode,
        "copper_dissolves": copper.anode,
        "aluminium_forms": oxide.cathode,
        "oxide_discharged": oxide.anode,
        "chloride_discharged": rule_of("NaCl", wording).anode,
    }
    return {name: each.half_equation.pretty() for name, each in at.items()}


@maker("longer answer on products", topic="products", level=16, version=3)
def longer_prediction(rng: RandomSource) -> Question:
    """Ask to predict and explain what two liquids give at inert electrodes."""
    two = rng.shuffled(rng.one_of(COMPARED))
    names = [_name(each, rng) for each in two]
    text = rng.one_of(
        (
            (
                f"Predict what forms at each inert electrode when {names[0]} is electrolysed, and when "
                f"{names[1]} is. Explain your predictions."
            ),
            (
                f"{begin(names[0])} and {names[1]} are electrolysed with inert electrodes. Compare the "
                f"products and explain them. {WITH_EQUATIONS}"
            ),
        )
    )
    content = [
        f"{name}: {told}"
        for formula, name in zip(two, names, strict=True)
        for told in _products(formula, rng)
    ]
    watch = ";".join(each for each in two if each not in melts())
    levels: tuple[str, ...] = PREDICTION_LEVELS
    if text.endswith(WITH_EQUATIONS):
        levels = tuple(map("{} {}".format, levels, EQUATIONS_OF_LEVELS))
    return levels_question(text, content, levels, watch=watch)


def _name(formula: str, rng: RandomSource) -> str:
    return melts()[formula].name if formula in melts() else solution_name(formula, rng.wording)


def _products(formula: str, rng: RandomSource) -> list[str]:
    """Say which ions a liquid holds and what forms at each electrode, by the rule."""
    rule = rule_of(formula, rng.wording)
    board = board_slots(rng.wording)
    if formula in melts():
        told = [f"it contains only {ions_in_words(melts()[formula].ions)}"]
    else:
        ions = [each for each in solutions()[formula].ions if each not in {"H+", "OH-"}]
        told = [f"it contains {ions_in_words((*ions, 'H+', 'OH-'))}"]
    for role, at in (("cathode", rule.cathode), ("anode", rule.anode)):
        why = why_product(formula, role, rule, rng.wording).rstrip(".")
        why = f"{why[0].lower()}{why[1:]}"
        told.append(
            f"{species_name(at.product)} at the {board[role]}, {at.half_equation.pretty()} ({why})"
        )
    return told
