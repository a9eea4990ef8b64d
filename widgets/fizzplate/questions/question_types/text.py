"""A question that is answered in words."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, ClassVar

from fizzplate.questions.marking import MarkedAnswer, mark_point, plain_answer
from fizzplate.questions.question_types.question import Question

if TYPE_CHECKING:
    from fizzplate.questions.content import Point


@dataclass(frozen=True, slots=True, kw_only=True)
class TextQuestion(Question):
    """A question that is answered in words, with a mark for each point.

    Parameters
    ----------
    points
        What earns the marks.
    answer
        A full answer.

    Examples
    --------
    >>> from fizzplate.questions.content import Point
    >>> points = (Point("it fizzes", ("fizz", "bubbl")),)
    >>> question = TextQuestion("", "tests", 14, "What is seen?", "", points=points, answer="bubbles")
    >>> question.mark("It fizzes.").earned, question.mark("No bubbles.").earned
    (1, 0)
    """

    kind: ClassVar[str] = "text"

    points: tuple[Point, ...] = field()
    answer: str = field()

    @property
    def marks(self) -> int:
        """A mark for each point."""
        return len(self.points)

    def mark(self, answer: str) -> MarkedAnswer:
        """Mark an answer; a new line begins a new sentence."""
        return self._mark_plain(plain_answer(answer.replace("\n", ". ")))

    def _mark_plain(self, answer: str) -> MarkedAnswer:
        return MarkedAnswer(tuple(mark_point(point, answer) for point in self.points))
