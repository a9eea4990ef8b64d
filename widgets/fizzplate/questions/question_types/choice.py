"""A question with options, of which one is right."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, ClassVar

from fizzplate.questions.marking import MarkedAnswer, plain_answer, repeat_line
from fizzplate.questions.question_types.question import Question

if TYPE_CHECKING:
    from fizzplate.questions.content import Option


@dataclass(frozen=True, slots=True, kw_only=True)
class ChoiceQuestion(Question):
    """A question with options.

    Parameters
    ----------
    options
        What is offered; one of them is right.
    marks
        What the right one earns.

    Examples
    --------
    >>> from fizzplate.questions.content import Option
    >>> options = (
    ...     Option("Na⁺", right=True, reason="It is positive."),
    ...     Option("Cl⁻", right=False, reason="It is negative."),
    ... )
    >>> question = ChoiceQuestion("", "ions", 14, "Which is a cation?", "It is positive.", options=options)
    >>> question.answer, question.mark("Cl⁻").remark
    ('Na⁺', 'It is negative.')
    """

    kind: ClassVar[str] = "choice"

    options: tuple[Option, ...] = field()
    marks: int = 1

    @property
    def answer(self) -> str:
        """The text of the right option; nothing, where none is right."""
        return next((option.text for option in self.options if option.right), "")

    def _mark_plain(self, answer: str) -> MarkedAnswer:
        for option in self.options:
            if answer == plain_answer(option.text):
                lines = repeat_line(self.marks, option.reason, earned=option.right)
                return MarkedAnswer(
                    lines, option.reason, 0 if option.right else option.misconception
                )
        remark = "None of the options was chosen."
        return MarkedAnswer(repeat_line(self.marks, remark, earned=False), remark)
