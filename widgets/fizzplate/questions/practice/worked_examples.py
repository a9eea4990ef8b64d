"""Worked examples that fade: whole, then without the last step, then without two, then alone."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fizzplate.questions.content import Part
    from fizzplate.questions.question_types import NumberQuestion

#: how many steps are left to the learner
WHOLE, ALONE = 0, 3


@dataclass(frozen=True, slots=True)
class WorkedExample:
    """A calculation of which some steps are shown.

    Parameters
    ----------
    question
        What is left to do: only steps that are left earn marks. Of a whole example, all of the question.
    shown
        The steps that are shown, those of each part behind what it asks.
    left
        How many steps are left: :data:`WHOLE`, 1, 2 or :data:`ALONE`.
    """

    question: NumberQuestion
    shown: tuple[str, ...]
    left: int


def steps_of(question: NumberQuestion) -> int:
    """Return how many steps the working of all its parts has."""
    return sum(len(part.steps) for part in question.parts)


def worked_example(question: NumberQuestion, left: int) -> WorkedExample:
    """Show the first steps of a calculation and leave the last ones.

    Parameters
    ----------
    question
        The calculation.
    left
        How many steps are left: :data:`WHOLE` shows all. Where no fewer are shown than left, or with
        :data:`ALONE`, none is shown.

    Examples
    --------
    >>> from fizzplate.questions.sets import another
    >>> example = worked_example(another("charge", 1), 1)
    >>> len(example.shown), example.question.marks
    (1, 1)
    """
    steps = steps_of(question)
    if left == WHOLE:
        return WorkedExample(question, _shown(question.parts), WHOLE)
    if left == ALONE or left >= steps:
        return WorkedExample(question, (), ALONE)
    to_show = steps - left
    shown: list[Part] = []
    asked: list[Part] = []
    for part in question.parts:
        here = min(to_show, len(part.steps))
        to_show -= here
        if here:
            shown.append(replace(part, steps=part.steps[:here]))
        if here < len(part.steps):
            # an answer that is shown was not the learner's, so no error of it is carried on
            follows = asked and not part.formula and not part.afterwards
            asked.append(_rest(part if follows else part.by_itself(), here))
    return WorkedExample(replace(question, parts=tuple(asked)), _shown(tuple(shown)), left)


def _rest(part: Part, shown: int) -> Part:
    """Return a part without its first steps, and without near misses that only these steps could lead to."""
    misses = tuple(
        replace(miss, lost=tuple(step - shown for step in miss.lost if step >= shown))
        for miss in part.near_misses
        if any(step >= shown for step in miss.lost)
    )
    return replace(
        part,
        steps=part.steps[shown:],
        step_values=part.step_values[shown:],
        step_units=part.step_units[shown:],
        near_misses=misses,
    )


def _shown(parts: tuple[Part, ...]) -> tuple[str, ...]:
    return tuple(
        f"{part.prompt} {step}" if k == 0 and part.prompt else step
        for part in parts
        for k, step in enumerate(part.steps)
    )


def next_left(left: int, steps: int, *, earned: bool, sure: bool) -> int:
    """Return how many steps the next example leaves.

    Parameters
    ----------
    left
        How many this one left.
    steps
        How many its working has.
    earned
        Whether its answer earned every mark; a whole example was read, which earns its mark.
    sure
        Whether the learner was sure: who is sure and right goes on alone.

    Examples
    --------
    >>> next_left(WHOLE, 4, earned=True, sure=False), next_left(1, 4, earned=True, sure=False)
    (1, 2)
    >>> next_left(1, 4, earned=True, sure=True) == ALONE, next_left(ALONE, 4, earned=False, sure=True)
    (True, 2)
    """
    if not earned:
        return min(left - 1, max(steps - 1, WHOLE)) if left else WHOLE
    further = ALONE if sure else min(left + 1, ALONE)
    return ALONE if further >= steps else further
