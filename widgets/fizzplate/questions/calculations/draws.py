"""How the quantities of a calculation are drawn, again and again until they suit a school."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.lesson.measure import significant
from fizzplate.questions.calculations.quantities import Coulombs, Flow
from fizzplate.questions.tables import edition_rows

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from fizzplate.questions.calculations.contexts import Scene
    from fizzplate.questions.calculations.derivations import ChargeSource
    from fizzplate.questions.content import Part
    from fizzplate.questions.question_types import Question
    from fizzplate.questions.random_source import RandomSource

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


def draw_until_suitable(rng: RandomSource, draw: Callable[[RandomSource], Question]) -> Question:
    """Draw until the answers suit: in range, and the same with the round constant and rounded twice."""
    question = draw(rng)
    for _ in range(TRIES):
        if all(_suits(part) for part in question.parts):
            break
        question = draw(rng)
    return question


def phrase(rng: RandomSource, name: str) -> str:
    """Return one of the ways to say something, as a template."""
    return rng.one_of(
        [row["text"] for row in edition_rows("calculation_phrases", rng.edition, phrase=name)]
    )


def without_side_reactions(rng: RandomSource, situation: str, *, beside: bool) -> str:
    """Add to a situation, where it needs it, that the metal alone forms."""
    if not beside:
        return situation
    alone = phrase(rng, "no side reaction")
    return f"{situation} {alone}"


def draw_flow(rng: RandomSource, scene: Scene, *, short: bool = False) -> Flow:
    """Return a current for a time that suits a scene, now and then in milliamperes.

    Parameters
    ----------
    rng, scene
        What to draw with, and from.
    short
        Whether a question is long enough without milliamperes.
    """
    current_A, (time, unit) = rng.one_of(scene.currents_A), rng.one_of(scene.times)
    milli = not short and (current_A < 0.1 or (current_A < 1 and rng.number(4) == 0))
    return Flow(current_A, time, unit, milli, rng.one_of(("flows", "passes")))


def draw_charge(rng: RandomSource, scene: Scene, *, short: bool = False) -> ChargeSource:
    """Return a current for a time, or now and then the charge itself."""
    flow = draw_flow(rng, scene, short=short)
    if rng.number(5):
        return flow
    return Coulombs(float(f"{flow.charge_C:.1e}"), power=flow.charge_C >= 5e4)


def rounded(value: float, figures: int) -> float:
    """Round a number to significant figures, as data are given."""
    return float(f"{value:.{figures - 1}e}")


def draw_measurement(rng: RandomSource, value: float, percentages: Sequence[float]) -> float:
    """Return what a measurement finds instead of a value: a percentage of it, to three figures."""
    return rounded(value * rng.one_of(percentages) / 100, 3)


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
