"""A question whose answer is a number, or several that may follow from each other."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, ClassVar, Self

from fizzplate.questions.content import data_sentence
from fizzplate.questions.marking import lines_joined, mark_parts, plain_answer
from fizzplate.questions.question_types.question import Question

if TYPE_CHECKING:
    from collections.abc import Collection

    from fizzplate.questions.content import Constant, Part
    from fizzplate.questions.marking import MarkedAnswer


@dataclass(frozen=True, slots=True, kw_only=True)
class NumberQuestion(Question):
    """A question for numbers, with a mark for each step of the working.

    Parameters
    ----------
    parts
        The numbers, in order.
    stem, data
        The text without the data that end it, and those data, where the text is made of both: how it is
        printed, not what is asked, so that a question from a file, which has its text alone, is the same.
    strict
        Whether a missing unit, or more figures than the data allow, cost the last mark of a number.

    Examples
    --------
    >>> from fizzplate.questions.content import Part
    >>> charge = Part(450.0, "C", ("Q = 0.50 A × 900 s = 450 C.",))
    >>> question = NumberQuestion("charge", "quantities", 14, "What charge?", "", parts=(charge,))
    >>> question.answer, question.mark("0.45 kC").earned
    ('450 C', 1)
    """

    kind: ClassVar[str] = "number"

    parts: tuple[Part, ...] = field()
    stem: str = field(default="", compare=False)
    data: tuple[str | Constant, ...] = field(default=(), compare=False)
    strict: bool = False

    @property
    def answer(self) -> str:
        """The numbers with their units, with semicolons between them."""
        return "; ".join(part.answer for part in self.parts)

    @property
    def marks(self) -> int:
        """A mark for each step."""
        return sum(len(part.steps) for part in self.parts)

    def mark(self, answer: str) -> MarkedAnswer:
        """Mark an answer; a new line begins the next step, or the next number."""
        return self._mark_plain(plain_answer(lines_joined(answer)))

    def _mark_plain(self, answer: str) -> MarkedAnswer:
        return mark_parts(self.parts, answer, strict=self.strict)

    def mark_after(self, answer: str, from_equation: float | None) -> MarkedAnswer:
        """Mark an answer that may follow from an equation in a section before.

        Parameters
        ----------
        answer
            As for :meth:`mark`.
        from_equation
            Atoms or molecules that the equation, right or wrong, makes for each electron; None if unknown.
        """
        plain = plain_answer(lines_joined(answer))
        return mark_parts(self.parts, plain, strict=self.strict, from_equation=from_equation)

    def with_strict_units(self, *, strict: bool) -> Self:
        """Return the question with units and figures that cost a mark, or do not."""
        return replace(self, strict=strict)

    def without(self, constants: Collection[Constant]) -> Self:
        """Return the question without some of its data: they are given elsewhere.

        Examples
        --------
        >>> from fizzplate.questions.content import Constant
        >>> faraday = Constant("Faraday constant", "F = 96 500 C/mol")
        >>> data = (faraday, "M(Cu) = 63.5 g/mol")
        >>> question = NumberQuestion("mass", "", 14, "", "", parts=(), stem="How much?", data=data)
        >>> question.without({faraday}).text
        'How much? Take M(Cu) = 63.5 g/mol.'
        """
        if not any(each in constants for each in self.data):
            return self
        left = tuple(each for each in self.data if each not in constants)
        text = f"{self.stem} {data_sentence(*left)}" if left else self.stem
        return replace(self, text=text, data=left)
