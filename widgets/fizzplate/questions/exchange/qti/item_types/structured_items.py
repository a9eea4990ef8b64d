"""A question in parts as one item: a text for each part, which a person marks by its scheme."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.questions.exchange.qti.item_types.item_type import (
    RESPONSE,
    ItemType,
    OwnItem,
    declare_response,
)
from fizzplate.questions.exchange.qti.markup import OURS, node
from fizzplate.questions.exchange.qti.other_items import TEXT
from fizzplate.questions.question_types import StructuredQuestion, labelled

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

    from fizzplate.questions.exchange.qti.extra_data import ExtraData
    from fizzplate.questions.question_types import Question


class StructuredItems(ItemType[StructuredQuestion]):
    """How a question in parts is written as an item.

    One item gives its marks in one way, and parts may need a person, so a person marks all of it.
    """

    by_person = True

    def interactions(self, extra: ExtraData) -> tuple[tuple[str, ...], ...]:
        """Return a text for each part."""
        return ((TEXT,) * len(extra.sections),)

    def declare_responses(self, item: Element, question: StructuredQuestion) -> None:
        """Add a full answer to each part."""
        for k, each in enumerate(question.sections):
            declare_response(item, f"{RESPONSE}_{k + 1}", "string", each.answer)

    def add_interactions(self, body: Element, question: StructuredQuestion) -> None:
        """Add what each part asks, its options, and lines for its answer."""
        asked = labelled(tuple(_asked(each) for each in question.sections))
        for k, (text, each) in enumerate(zip(asked, question.sections, strict=True)):
            node(body, "p", {OURS: "entry"}, text)
            for option in each.options:
                node(body, "p", {OURS: "entry"}, f"• {option.text}")
            lines = {"response-identifier": f"{RESPONSE}_{k + 1}"}
            node(body, TEXT, lines | {"expected-lines": str(2 * each.marks)})

    def scheme_lines(self, question: StructuredQuestion) -> list[str]:
        """Return the answer to each part with what earns its marks."""
        return list(labelled(tuple(_scheme(each) for each in question.sections)))

    def read(self, found: OwnItem) -> StructuredQuestion:
        """Read the parts from the extra data."""
        return StructuredQuestion(**found.common, sections=found.extra.sections)


def _asked(question: Question) -> str:
    marks = f"[{question.marks} mark{'s' if question.marks > 1 else ''}]"
    return f"{question.text} {marks}"


def _scheme(question: Question) -> str:
    """Write what earns the marks of a part, as a scorer reads it."""
    steps = [step for part in question.parts for step in part.steps]
    return " ".join((f"{question.answer}.", *steps, *(f"{p.statement}." for p in question.points)))
