"""A question in parts of different types, all about one situation."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, ClassVar, Self

from fizzplate.questions.marking import Line, MarkedAnswer
from fizzplate.questions.question_types.equation import EquationQuestion
from fizzplate.questions.question_types.number import NumberQuestion
from fizzplate.questions.question_types.question import Question

if TYPE_CHECKING:
    from collections.abc import Iterator

#: stands between the answers to the parts; nobody types it
BETWEEN = "¦"
LETTERS = "abcdefgh"


def labelled(texts: tuple[str, ...]) -> Iterator[str]:
    """Yield texts of parts behind the parts' letters.

    Examples
    --------
    >>> list(labelled(("copper", "450 C")))
    ['(a) copper', '(b) 450 C']
    """
    return (f"({letter}) {text}" for letter, text in zip(LETTERS, texts, strict=False))


@dataclass(frozen=True, slots=True, kw_only=True)
class StructuredQuestion(Question):
    """A situation with parts (a), (b) and so on, each a question of its own type.

    Parameters
    ----------
    sections
        The parts, at most eight; their maker, topic and level are those of the whole, and so
        is what can be watched.

    Examples
    --------
    >>> from fizzplate.questions.content import Option, Part
    >>> from fizzplate.questions.question_types import ChoiceQuestion, NumberQuestion
    >>> options = (Option("Cu²⁺", True, "It is positive."), Option("SO₄²⁻", False, "It is negative."))
    >>> ion = ChoiceQuestion("", "", 14, "Which ion drifts to the cathode?", "", options=options)
    >>> charge = Part(450.0, "C", ("Q = 0.50 A × 900 s = 450 C.",))
    >>> number = NumberQuestion("", "", 14, "What charge passes?", "", parts=(charge,))
    >>> question = StructuredQuestion("", "ions", 14, "A cell.", "", sections=(ion, number))
    >>> question.answer, question.marks, question.sections[0].topic
    ('Cu²⁺ ¦ 450 C', 2, 'ions')
    >>> [line.reason for line in question.mark("SO₄²⁻ ¦ 450 C").lines if not line.earned]
    ['(a) It is negative.']
    """

    kind: ClassVar[str] = "structured"

    sections: tuple[Question, ...] = field()

    def __post_init__(self) -> None:
        """Let the parts be by the same maker, about the same topic and for the same level."""
        sections = tuple(
            replace(each, maker=self.maker, topic=self.topic, level=self.level, watch="")
            for each in self.sections
        )
        object.__setattr__(self, "sections", sections)

    @property
    def answer(self) -> str:
        """The answers to the parts."""
        return f" {BETWEEN} ".join(each.answer for each in self.sections)

    @property
    def marks(self) -> int:
        """The marks of all parts."""
        return sum(each.marks for each in self.sections)

    @property
    def comparison_key(self) -> str:
        """What the parts ask and how they are answered."""
        return " ".join(f"{each.text} {each.comparison_key}" for each in self.sections)

    def mark(self, answer: str) -> MarkedAnswer:
        """Mark the answer to each part by its own rules; a number may follow from the equation before it."""
        given = answer.split(BETWEEN)[: len(self.sections)]
        given += [""] * (len(self.sections) - len(given))
        marked = []
        from_equation = None
        for each, text in zip(self.sections, given, strict=True):
            if isinstance(each, NumberQuestion):
                marked.append(each.mark_after(text, from_equation))
            else:
                marked.append(each.mark(text))
            if isinstance(each, EquationQuestion):
                from_equation = each.made_for_an_electron(text)
        return MarkedAnswer(
            tuple(
                Line(line.earned, f"({letter}) {line.reason}")
                for letter, each in zip(LETTERS, marked, strict=False)
                for line in each.lines
            ),
            misconception=next((each.misconception for each in marked if each.misconception), 0),
        )

    def _mark_plain(self, answer: str) -> MarkedAnswer:
        return self.mark(answer)

    def with_strict_units(self, *, strict: bool) -> Self:
        """Return the question with units that cost a mark, or do not, in every part."""
        sections = tuple(each.with_strict_units(strict=strict) for each in self.sections)
        return replace(self, sections=sections)
