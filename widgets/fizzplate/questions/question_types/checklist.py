"""A question whose answer the learner marks with a list of points."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, ClassVar

from fizzplate.questions.marking import Line, MarkedAnswer, plain_answer
from fizzplate.questions.question_types.question import Question

if TYPE_CHECKING:
    from fizzplate.questions.content import Point


@dataclass(frozen=True, slots=True, kw_only=True)
class ChecklistQuestion(Question):
    """A question that learners mark themselves: they tick the points that their own answer holds.

    Parameters
    ----------
    points
        What a good answer holds.

    Examples
    --------
    >>> from fizzplate.questions.content import Point
    >>> points = (Point("weighs the electrode first", ()), Point("repeats it", ()))
    >>> question = ChecklistQuestion("plan", "practical work", 14, "Plan it.", "", points=points)
    >>> question.answer, question.mark("2").earned
    ('weighs the electrode first; repeats it', 1)
    """

    kind: ClassVar[str] = "list"

    points: tuple[Point, ...] = field()

    @property
    def answer(self) -> str:
        """What its points say: a full answer."""
        return "; ".join(point.statement for point in self.points)

    @property
    def marks(self) -> int:
        """A mark for each point."""
        return len(self.points)

    @property
    def comparison_key(self) -> str:
        """What its points say."""
        return self.why

    def _mark_plain(self, answer: str) -> MarkedAnswer:
        ticked = {int(number) for number in re.findall(r"[0-9]{1,2}", answer)}
        if answer == plain_answer(self.answer):
            ticked.update(range(1, len(self.points) + 1))
        return MarkedAnswer(
            tuple(
                Line(k in ticked, f"{point.statement} (own judgement)")
                for k, point in enumerate(self.points, start=1)
            ),
            "Marked by yourself.",
        )
