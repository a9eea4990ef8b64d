"""A choice as an item: a choice interaction, with a feedback for each option."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from fizzplate.questions.exchange.qti.item_types.item_type import (
    RESPONSE,
    Feedback,
    ItemType,
    OwnItem,
    declare_response,
)
from fizzplate.questions.exchange.qti.item_types.response_rules import set_outcome
from fizzplate.questions.exchange.qti.markup import node
from fizzplate.questions.exchange.qti.other_items import CHOICE, UnsupportedItem, read_other_item
from fizzplate.questions.question_types import ChoiceQuestion

if TYPE_CHECKING:
    from collections.abc import Iterable
    from xml.etree.ElementTree import Element

    from fizzplate.questions.exchange.qti.extra_data import ExtraData


def option_name(k: int) -> str:
    """Name an option, from 0.

    Examples
    --------
    >>> option_name(0), option_name(25)
    ('A', 'Z')
    """
    return chr(ord("A") + k)


class ChoiceItems(ItemType[ChoiceQuestion]):
    """How a choice is written as an item."""

    def interactions(self, extra: ExtraData) -> tuple[tuple[str, ...], ...]:  # noqa: ARG002  # always one
        """Return the one choice."""
        return ((CHOICE,),)

    def declare_responses(self, item: Element, question: ChoiceQuestion) -> None:
        """Add the right option."""
        right = next(k for k, option in enumerate(question.options) if option.right)
        declare_response(item, RESPONSE, "identifier", option_name(right))

    def add_interactions(self, body: Element, question: ChoiceQuestion) -> None:
        """Add the options."""
        bound = {"response-identifier": RESPONSE, "shuffle": "false", "max-choices": "1"}
        choice = node(body, CHOICE, bound)
        for k, option in enumerate(question.options):
            node(choice, "qti-simple-choice", {"identifier": option_name(k)}, option.text)

    def feedback(self, question: ChoiceQuestion) -> Iterable[Feedback]:
        """Return the reason of each option."""
        return [
            Feedback("FEEDBACK", option_name(k), option.reason)
            for k, option in enumerate(question.options)
        ]

    def add_rules(self, rules: Element, question: ChoiceQuestion) -> None:  # noqa: ARG002  # all alike
        """Give all marks for the right option, and the reason of the one that was chosen."""
        right = node(node(rules, "qti-response-condition"), "qti-response-if")
        match = node(right, "qti-match")
        node(match, "qti-variable", {"identifier": RESPONSE})
        node(match, "qti-correct", {"identifier": RESPONSE})
        set_outcome(right, "SCORE", "qti-variable", {"identifier": "MAXSCORE"})
        set_outcome(rules, "FEEDBACK", "qti-variable", {"identifier": RESPONSE})

    def read(self, found: OwnItem) -> ChoiceQuestion | None:
        """Read the options from the item, and the ideas behind them from the extra data."""
        try:
            plain = read_other_item(found.item, found.name, found.remarks)
        except UnsupportedItem:  # it may take several answers now, which the caller then finds too
            return None
        if not isinstance(plain, ChoiceQuestion):
            return None
        options, ideas = plain.options, found.extra.ideas
        if len(options) == len(ideas):
            options = tuple(
                replace(option, misconception=0 if option.right else idea)
                for option, idea in zip(options, ideas, strict=True)
            )
        return ChoiceQuestion(**found.common, options=options, marks=plain.marks)
