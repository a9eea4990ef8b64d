"""A question for a longer answer, which a person marks as a whole, by levels."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, ClassVar

from fizzplate.questions.marking import Line, MarkedAnswer
from fizzplate.questions.question_types.question import Question

if TYPE_CHECKING:
    from fizzplate.questions.content import Point

MARKS_A_LEVEL = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class LevelsQuestion(Question):
    """A question whose answer is held against levels, by its writer or a teacher, two marks a level.

    Parameters
    ----------
    levels
        What an answer of each level is like, the lowest first.
    points
        Indicative content: what a good answer may hold.

    Examples
    --------
    >>> from fizzplate.questions.content import Point
    >>> levels = ("Names a product.", "Explains one product.", "Explains both products.")
    >>> points = (Point("copper ions gain electrons", ()),)
    >>> question = LevelsQuestion("", "products", 14, "Explain.", "", levels=levels, points=points)
    >>> question.marks, question.mark("4").earned, question.mark("4").lines[4].reason
    (6, 4, 'Level 3: Explains both products. (own judgement)')
    """

    kind: ClassVar[str] = "levels"

    levels: tuple[str, ...] = field()
    points: tuple[Point, ...] = field()

    @property
    def answer(self) -> str:
        """All of its marks, as a number."""
        return str(self.marks)

    @property
    def marks(self) -> int:
        """Two marks for each level."""
        return MARKS_A_LEVEL * len(self.levels)

    @property
    def comparison_key(self) -> str:
        """What it asks: its answer is only a number."""
        return self.why

    def _mark_plain(self, answer: str) -> MarkedAnswer:
        found = re.search(r"[0-9]{1,2}", answer)
        earned = int(found[0]) if found else 0
        return MarkedAnswer(
            tuple(
                Line(k < earned, f"Level {k // MARKS_A_LEVEL + 1}: {level} (own judgement)")
                for k in range(self.marks)
                for level in [self.levels[k // MARKS_A_LEVEL]]
            ),
            "Marked by yourself.",
        )
