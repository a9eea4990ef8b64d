"""An equation as an item: an entry of text, with a map of the spellings that are accepted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.questions.exchange.equation_forms import spell, spellings
from fizzplate.questions.exchange.qti.item_elements import marks_of
from fizzplate.questions.exchange.qti.item_types import (
    RESPONSE,
    ItemType,
    OwnItem,
    declare_response,
    set_outcome,
)
from fizzplate.questions.exchange.qti.other_items import ENTRY
from fizzplate.questions.exchange.qti.xml_writer import OURS, node
from fizzplate.questions.question_types import EquationQuestion

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element


class EquationItems(ItemType[EquationQuestion]):
    """How an equation is written as an item."""

    interaction = ENTRY

    def declare_responses(self, item: Element, question: EquationQuestion) -> None:
        """Add the equation, and every spelling that earns the marks."""
        declared = declare_response(item, RESPONSE, "string", question.answer)
        mapping = node(declared, "qti-mapping", {"default-value": "0"})
        accepted = (text for form in question.task.accepted for text in spellings(form))
        for text in dict.fromkeys((question.answer, *accepted)):
            entry = {"map-key": text, "mapped-value": str(question.marks), "case-sensitive": "true"}
            node(mapping, "qti-map-entry", entry)

    def add_interactions(self, body: Element, question: EquationQuestion) -> None:  # noqa: ARG002
        """Add a line to write on."""
        line = node(body, "p", {OURS: "entry"})
        node(line, ENTRY, {"response-identifier": RESPONSE, "expected-length": "40"})

    def scheme_lines(self, question: EquationQuestion) -> list[str]:
        """Return the forms that are accepted."""
        return [f"Accept {spell(form)}" for form in question.task.accepted]

    def add_rules(self, rules: Element, question: EquationQuestion) -> None:  # noqa: ARG002  # all alike
        """Give the marks of the spelling."""
        set_outcome(rules, "SCORE", "qti-map-response", {"identifier": RESPONSE})

    def read(self, found: OwnItem) -> EquationQuestion | None:
        """Read the answer from the item, and the accepted forms from the extra data."""
        if found.extra.task is None:
            return None
        return EquationQuestion(
            **found.common,
            task=found.extra.task,
            answer=found.correct(found.interactions[0]),
            marks=marks_of(found.item),
        )
