"""How the quantities of a calculation are drawn, again and again until they suit a school."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.lesson.measure import significant
from fizzplate.questions.calculations.quantities import Coulombs, Flow
from fizzplate.questions.tables import offered

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from fizzplate.questions.calculations.contexts import Scene
    from fizzplate.questions.calculations.derivations import Passed
    from fizzplate.questions.content import Part
    from fizzplate.questions.dice import Dice
    from fizzplate.questions.question_types import Question

TRIES = 60
DEFAULT_RANGE = (0.001, 2e5)
#: least and most answer in each unit where that is not the usual range
RANGES = {
    "kg": (0.001, 1e6),
    "min": (1.0, 900.0),
    "A": (0.02, 200.0),
    "%": (5.0, 99.5),
    "": (0.0, 9.0),
}
ROUND_FARADAY_IS_OFF = 1.6e-4  # by 96 500 instead of 96 485 C/mol


def settled(dice: Dice, draw: Callable[[Dice], Question]) -> Question:
    """Draw until the answers suit: in range, and the same with the round constant and rounded twice."""
    asked = draw(dice)
    for _ in range(TRIES):
        if all(_suits(part) for part in asked.parts):
            break
        asked = draw(dice)
    return asked


def phrase(dice: Dice, name: str) -> str:
    """Return one of the ways to say something, as a template."""
    return dice.one_of(
        [row["text"] for row in offered("calculation_phrases", dice.edition, phrase=name)]
    )


def without_side_reactions(dice: Dice, says: str, *, beside: bool) -> str:
    """Add to a situation, where it needs it, that the metal alone forms."""
    if not beside:
        return says
    alone = phrase(dice, "no side reaction")
    return f"{says} {alone}"


def drawn_flow(dice: Dice, scene: Scene, *, short: bool = False) -> Flow:
    """Return a current for a time that suits a scene, now and then in milliamperes.

    Parameters
    ----------
    dice, scene
        What to draw with, and from.
    short
        Whether a question is long enough without milliamperes.
    """
    current_A, (time, unit) = dice.one_of(scene.currents_A), dice.one_of(scene.times)
    milli = not short and (current_A < 0.1 or (current_A < 1 and dice.number(4) == 0))
    return Flow(current_A, time, unit, milli, dice.one_of(("flows", "passes")))


def drawn_passed(dice: Dice, scene: Scene, *, short: bool = False) -> Passed:
    """Return a current for a time, or now and then the charge itself."""
    flow = drawn_flow(dice, scene, short=short)
    if dice.number(5):
        return flow
    return Coulombs(float(f"{flow.charge_C:.1e}"), power=flow.charge_C >= 5e4)


def rounded(value: float, figures: int) -> float:
    """Round a number to significant figures, as data are given."""
    return float(f"{value:.{figures - 1}e}")


def found(dice: Dice, value: float, percentages: Sequence[float]) -> float:
    """Return what a measurement finds instead of a value: a percentage of it, to three figures."""
    return rounded(value * dice.one_of(percentages) / 100, 3)


def _suits(part: Part) -> bool:
    least, most = RANGES.get(part.unit, DEFAULT_RANGE)
    if not least <= part.value <= most:
        return False
    nearby = (1 - ROUND_FARADAY_IS_OFF, 1.0, 1 + ROUND_FARADAY_IS_OFF)
    shown = {significant(part.value * factor, part.figures) for factor in nearby}
    shown.add(
        significant(rounded(part.value, part.figures + 1), part.figures)
    )  # rounded in two steps
    return len(shown) == 1
