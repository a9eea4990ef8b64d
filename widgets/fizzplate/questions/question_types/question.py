"""What all types of question share: who made it, what it asks, and how its answer is marked."""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import KW_ONLY, dataclass
from typing import TYPE_CHECKING, ClassVar, Self

from fizzplate.questions.marking import plain_answer

if TYPE_CHECKING:
    from fizzplate.questions.content import Chart, Option, Part, Point
    from fizzplate.questions.marking import MarkedAnswer


@dataclass(frozen=True, slots=True)
class Question(ABC):
    """A question with its marks; each type says what answers it and how that is marked.

    Parameters
    ----------
    maker, topic, level
        Which maker made it, about what, and for whom: 14 or 16.
    text
        What is asked.
    why
        The reason, as a sentence.
    chart
        What is read, if anything is.
    watch
        Cells that show it, as links write them, with semicolons between them.
    """

    #: the type's name in files and on the page
    kind: ClassVar[str]

    maker: str
    topic: str
    level: int
    text: str
    why: str
    _: KW_ONLY
    chart: Chart | None = None
    watch: str = ""

    @property
    @abstractmethod
    def answer(self) -> str:
        """A full answer, as a learner gives it."""

    @property
    @abstractmethod
    def marks(self) -> int:
        """How many marks there are."""

    @abstractmethod
    def _mark_plain(self, answer: str) -> MarkedAnswer:
        """Mark an answer whose signs are plain."""

    def mark(self, answer: str) -> MarkedAnswer:
        """Mark an answer; every mark has its reason.

        Parameters
        ----------
        answer
            The text of the option, the numbers with semicolons between them, the equation, the text, or the
            numbers of the points that a learner ticked. Characters beyond 10,000 are not read.

        Examples
        --------
        >>> from fizzplate.questions.sets import questions
        >>> question = questions(seed=1, count=1)[0]
        >>> question.mark(question.answer).earned == question.marks
        True
        """
        return self._mark_plain(plain_answer(answer))

    @property
    def shown_chart(self) -> Chart | None:
        """The chart that is shown with what is asked; none where the chart is the answer."""
        return self.chart

    @property
    def options(self) -> tuple[Option, ...]:
        """What is offered to choose from; nothing, unless it is a choice."""
        return ()

    @property
    def parts(self) -> tuple[Part, ...]:
        """Numbers to find; none, unless numbers are asked for."""
        return ()

    @property
    def points(self) -> tuple[Point, ...]:
        """What earns a mark each; nothing, unless the answer is in words."""
        return ()

    @property
    def sections(self) -> tuple[Question, ...]:
        """Parts that are questions themselves; none, unless it is structured."""
        return ()

    @property
    def comparison_key(self) -> str:
        """What two questions of one maker share if they ask the same thing in other words."""
        return self.answer

    def with_strict_units(self, *, strict: bool) -> Self:  # noqa: ARG002  # only numbers have units
        """Return the question with units and figures that cost a mark, or do not, where it asks for any."""
        return self


def missing_for(question: Question, what: str, function: str) -> TypeError:
    """Return the error that tells who adds a type of question what is still to be written for it."""
    name = type(question).__name__
    return TypeError(f"{name} has no {what} yet: register one with {function}.register")
