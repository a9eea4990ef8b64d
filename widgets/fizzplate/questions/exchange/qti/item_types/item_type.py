"""What each type of question says of itself in an item: how it is asked, marked and read back."""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, ClassVar, Generic, TypeVar

from fizzplate.questions.exchange.qti.item_elements import correct_values, declaration
from fizzplate.questions.exchange.qti.markup import node, without_tags
from fizzplate.questions.question_types import Question

if TYPE_CHECKING:
    from collections.abc import Iterable
    from xml.etree.ElementTree import Element

    from fizzplate.questions.exchange.qti.extra_data import ExtraData

RESPONSE = "RESPONSE"
AnyQuestion = TypeVar("AnyQuestion", bound=Question)


def response_name(k: int) -> str:
    """Name one of several responses of an item, from 0.

    Examples
    --------
    >>> response_name(0)
    'RESPONSE_1'
    """
    return f"{RESPONSE}_{k + 1}"


@dataclass(frozen=True, slots=True)
class OwnItem:
    """An item that this program wrote, as it was found.

    Parameters
    ----------
    item
        The item.
    interactions
        Its elements that take an answer.
    extra
        The extra data that this program wrote.
    common
        What questions of all types hold, by the names of their fields.
    name
        How remarks name it.
    remarks
        Remarks are added here.
    """

    item: Element
    interactions: list[Element]
    extra: ExtraData
    common: dict[str, Any]
    name: str
    remarks: list[str]

    def correct(self, interaction: Element) -> str:
        """Return the right answer to an interaction as plain text; nothing where there is none."""
        values = correct_values(declaration(self.item, interaction))
        return without_tags(" ".join(values[:1]))


@dataclass(frozen=True, slots=True)
class Feedback:
    """A reason that is shown once an outcome has its name."""

    outcome: str
    name: str
    reason: str


class ItemType(ABC, Generic[AnyQuestion]):
    """How a type of question is written as an item; a method ignores what it does not need."""

    #: whether a person marks it
    by_person: ClassVar[bool] = False

    @abstractmethod
    def interactions(self, extra: ExtraData) -> tuple[tuple[str, ...], ...]:
        """Return the elements that take the answer, by the standard's names, for each way to write it."""

    @abstractmethod
    def declare_responses(self, item: Element, question: AnyQuestion) -> None:
        """Add what is answered, with the right answer."""

    @abstractmethod
    def add_interactions(self, body: Element, question: AnyQuestion) -> None:
        """Add the elements that take the answer."""

    def scheme_lines(self, question: AnyQuestion) -> list[str]:  # noqa: ARG002  # others have lines
        """Return what earns the marks, line by line, for a scorer."""
        return []

    def feedback(self, question: AnyQuestion) -> Iterable[Feedback]:  # noqa: ARG002  # others have some
        """Return the reasons that may be shown."""
        return ()

    def add_rules(self, rules: Element, question: AnyQuestion) -> None:
        """Add how answers are marked, unless a person does it."""

    @abstractmethod
    def read(self, found: OwnItem) -> AnyQuestion | None:
        """Read the question back; None if another program changed too much."""


def declare_response(item: Element, name: str, base: str, correct: str = "") -> Element:
    """Add the declaration of an answer.

    Examples
    --------
    >>> from xml.etree.ElementTree import Element
    >>> declare_response(Element("item"), "RESPONSE", "string", "2H+").get("base-type")
    'string'
    """
    kind = {"identifier": name, "cardinality": "single", "base-type": base}
    declared = node(item, "qti-response-declaration", kind)
    if correct:
        node(node(declared, "qti-correct-response"), "qti-value", text=correct)
    return declared
