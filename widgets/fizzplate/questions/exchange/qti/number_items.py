"""Numbers as an item: an entry for each, with its tolerance, near misses and errors carried forward."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from fizzplate.questions.exchange.qti.item_elements import number_of, tolerance_of
from fizzplate.questions.exchange.qti.item_types import (
    RESPONSE,
    ItemType,
    OwnItem,
    declare_response,
)
from fizzplate.questions.exchange.qti.other_items import ENTRY
from fizzplate.questions.exchange.qti.xml_writer import OURS, node
from fizzplate.questions.question_types import NumberQuestion

if TYPE_CHECKING:
    from collections.abc import Iterable
    from xml.etree.ElementTree import Element

    from fizzplate.questions.content import Part
    from fizzplate.questions.exchange.qti.extra_data import ExtraData


def response_name(k: int) -> str:
    """Name the response to a number, from 0.

    Examples
    --------
    >>> response_name(0)
    'RESPONSE_1'
    """
    return f"{RESPONSE}_{k + 1}"


class NumberItems(ItemType[NumberQuestion]):
    """How numbers are written as an item."""

    interaction = ENTRY

    def declare_responses(self, item: Element, question: NumberQuestion) -> None:
        """Add the right numbers."""
        for k, part in enumerate(question.parts):
            declare_response(item, response_name(k), "float", repr(part.value))

    def add_interactions(self, body: Element, question: NumberQuestion) -> None:
        """Add an entry for each number, with its unit behind it."""
        for k, part in enumerate(question.parts):
            line = node(body, "p", {OURS: "entry"}, f"{part.prompt} ".lstrip())
            entry = {"response-identifier": response_name(k), "expected-length": "12"}
            node(line, ENTRY, entry).tail = f" {part.unit}".rstrip()

    def scheme_lines(self, question: NumberQuestion) -> list[str]:
        """Return the steps."""
        return [step for part in question.parts for step in part.steps]

    def feedback(self, question: NumberQuestion) -> Iterable[tuple[str, str]]:
        """Return what went wrong at each near miss."""
        return [
            (_miss_name(k, j), miss.reason)
            for k, part in enumerate(question.parts)
            for j, miss in enumerate(part.near_misses)
        ]

    def add_rules(self, rules: Element, question: NumberQuestion) -> None:
        """Mark each number."""
        for k, part in enumerate(question.parts):
            _add_part_rules(node(rules, "qti-response-condition"), k, part)

    def count_interactions(self, extra: ExtraData) -> int:
        """Return how many numbers there are."""
        return len(extra.parts)

    def read(self, found: OwnItem) -> NumberQuestion:
        """Read the numbers with the values and tolerances that the item gives them now."""
        parts: list[Part] = []
        changed = False
        for entry, part in zip(found.interactions, found.extra.parts, strict=True):
            given = number_of(found.correct(entry))
            value = part.value if given is None else given
            followed = replace(part, factor=0.0) if changed else part
            changed = value != part.value
            if changed:
                followed = replace(followed, value=value, factor=0.0, near_misses=())
                found.remarks.append(
                    f"{found.name}: the answer {part.answer} was changed elsewhere to {value:g}; "
                    "its near misses were left out."
                )
            identifier = entry.get("response-identifier", "")
            parts.append(_with_tolerance(found.item, identifier, followed))
        return NumberQuestion(**found.common, parts=tuple(parts), strict=found.extra.strict)


def _with_tolerance(item: Element, identifier: str, part: Part) -> Part:
    """Return a part with the item's tolerance, which may have been changed elsewhere."""
    given = tolerance_of(item, identifier, part.value)
    if not part.value or given is None or math.isclose(given, part.tolerance, rel_tol=1e-6):
        return part
    return replace(part, tolerance=min(given, 0.5))


def _add_part_rules(condition: Element, k: int, part: Part) -> None:
    """Give marks for a number: right, right from the answer before, or a near miss."""
    right = node(condition, "qti-response-if")
    equal = _equal(right, part, part.value)
    node(equal, "qti-correct", {"identifier": response_name(k)})
    node(equal, "qti-variable", {"identifier": response_name(k)})
    _add_marks(right, len(part.steps))
    if k and part.factor:
        carried_forward = node(condition, "qti-response-else-if")
        equal = _equal(carried_forward, part, part.factor)
        product = node(equal, "qti-product")
        node(product, "qti-base-value", {"base-type": "float"}, repr(part.factor))
        node(product, "qti-variable", {"identifier": response_name(k - 1)})
        node(equal, "qti-variable", {"identifier": response_name(k)})
        _add_marks(carried_forward, len(part.steps))
    for j, miss in enumerate(part.near_misses):
        near = node(condition, "qti-response-else-if")
        equal = _equal(near, part, miss.value)
        node(equal, "qti-base-value", {"base-type": "float"}, repr(miss.value))
        node(equal, "qti-variable", {"identifier": response_name(k)})
        _add_marks(near, len(part.steps) - len(set(miss.lost)))
        shown = node(near, "qti-set-outcome-value", {"identifier": "FEEDBACK"})
        together = node(shown, "qti-multiple")
        node(together, "qti-variable", {"identifier": "FEEDBACK"})
        node(together, "qti-base-value", {"base-type": "identifier"}, _miss_name(k, j))


def _equal(rule: Element, part: Part, value: float) -> Element:
    """Add a comparison with the part's tolerance, which the standard writes in per cent."""
    if not part.tolerance or not value:
        return node(rule, "qti-equal", {"tolerance-mode": "exact"})
    mode, size = "relative", part.tolerance * 100
    if value < 0:  # a range in per cent would have its lower end above its upper one
        mode, size = "absolute", part.tolerance * -value
    return node(
        rule, "qti-equal", {"tolerance-mode": mode, "tolerance": f"{size:.10g} {size:.10g}"}
    )


def _add_marks(rule: Element, marks: int) -> None:
    total = node(node(rule, "qti-set-outcome-value", {"identifier": "SCORE"}), "qti-sum")
    node(total, "qti-variable", {"identifier": "SCORE"})
    node(total, "qti-base-value", {"base-type": "float"}, str(marks))


def _miss_name(k: int, j: int) -> str:
    return f"{response_name(k)}_MISS_{j + 1}"
