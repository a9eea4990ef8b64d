"""Numbers as an item: an entry for each, with its range, near misses and errors carried forward."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from fizzplate.questions.exchange.qti.item_elements import number_of, range_of, tolerance_of
from fizzplate.questions.exchange.qti.item_types.item_type import (
    Feedback,
    ItemType,
    OwnItem,
    declare_response,
    response_name,
)
from fizzplate.questions.exchange.qti.item_types.response_rules import (
    add_marks,
    add_range,
    set_name,
)
from fizzplate.questions.exchange.qti.markup import OURS, node
from fizzplate.questions.exchange.qti.other_items import ENTRY
from fizzplate.questions.question_types import NumberQuestion

if TYPE_CHECKING:
    from collections.abc import Iterable
    from xml.etree.ElementTree import Element

    from fizzplate.questions.content import Part
    from fizzplate.questions.exchange.qti.extra_data import ExtraData


class NumberItems(ItemType[NumberQuestion]):
    """How numbers are written as an item."""

    def interactions(self, extra: ExtraData) -> tuple[tuple[str, ...], ...]:
        """Return an entry for each number."""
        return ((ENTRY,) * len(extra.parts),)

    def declare_responses(self, item: Element, question: NumberQuestion) -> None:
        """Add the right numbers, rounded as a learner gives them."""
        for k, part in enumerate(question.parts):
            declare_response(item, response_name(k), "float", f"{_rounded(part):.10g}")

    def add_interactions(self, body: Element, question: NumberQuestion) -> None:
        """Add an entry for each number, with its unit behind it."""
        for k, part in enumerate(question.parts):
            line = node(body, "p", {OURS: "entry"}, f"{part.prompt} ".lstrip())
            entry = {"response-identifier": response_name(k), "expected-length": "12"}
            node(line, ENTRY, entry).tail = f" {part.unit}".rstrip()

    def scheme_lines(self, question: NumberQuestion) -> list[str]:
        """Return the steps."""
        return [step for part in question.parts for step in part.steps]

    def feedback(self, question: NumberQuestion) -> Iterable[Feedback]:
        """Return what went wrong at each near miss."""
        return [
            Feedback(_feedback_name(k), _miss_name(k, j), miss.reason)
            for k, part in enumerate(question.parts)
            for j, miss in enumerate(part.near_misses)
        ]

    def add_rules(self, rules: Element, question: NumberQuestion) -> None:
        """Mark each number."""
        for k, part in enumerate(question.parts):
            _add_part_rules(node(rules, "qti-response-condition"), k, part)

    def read(self, found: OwnItem) -> NumberQuestion:
        """Read the numbers with the values and tolerances that the item gives them now."""
        parts: list[Part] = []
        changed = changed_before = False
        for entry, part in zip(found.interactions, found.extra.parts, strict=True):
            given = number_of(found.correct(entry))
            far = bool(part.formula or part.afterwards)  # follows from more than the part before
            followed = part.by_itself() if changed or (far and changed_before) else part
            # the item holds the number as a learner gives it, or whole where it is an older one
            changed = given not in {None, part.value, number_of(f"{_rounded(part):.10g}")}
            changed_before |= changed
            if changed and given is not None:
                followed = replace(followed.by_itself(), value=given, near_misses=())
                found.remarks.append(
                    f"{found.name}: the answer {part.answer} was changed elsewhere to {given:g}; "
                    "its near misses were left out."
                )
            identifier = entry.get("response-identifier", "")
            parts.append(_with_tolerance(found.item, identifier, followed))
        return NumberQuestion(**found.common, parts=tuple(parts), strict=found.extra.strict)


def _rounded(part: Part) -> float:
    """Return the number with the figures that the data allow."""
    return float(f"{part.value:.{part.figures}g}")


def _range(part: Part, value: float) -> tuple[float, float]:
    """Return the least and the greatest number that count as a value."""
    width = part.tolerance * abs(value)
    return value - width, value + width


def _right_range(part: Part) -> tuple[float, float]:
    """Return the range of the right answer, in which the rounded one lies too."""
    low, high = _range(part, part.value)
    return min(low, _rounded(part)), max(high, _rounded(part))


def _with_tolerance(item: Element, identifier: str, part: Part) -> Part:
    """Return a part with the item's tolerance, which may have been changed elsewhere."""
    if range_of(item, identifier) == _right_range(part):
        return part
    given = tolerance_of(item, identifier, part.value)
    if not part.value or given is None or math.isclose(given, part.tolerance, rel_tol=1e-6):
        return part
    return replace(part, tolerance=min(given, 0.5))


def _add_part_rules(condition: Element, k: int, part: Part) -> None:
    """Give marks for a number: right, right from the answer before, or a near miss."""
    right = node(condition, "qti-response-if")
    add_range(right, response_name(k), *_right_range(part))
    add_marks(right, len(part.steps))
    if k and part.factor:
        carried_forward = node(condition, "qti-response-else-if")
        add_range(
            carried_forward,
            response_name(k),
            *_range(part, part.factor),
            times=response_name(k - 1),
        )
        add_marks(carried_forward, len(part.steps))
    for j, miss in enumerate(part.near_misses):
        near = node(condition, "qti-response-else-if")
        add_range(near, response_name(k), *_range(part, miss.value))
        add_marks(near, len(part.steps) - len(set(miss.lost)))
        set_name(near, _feedback_name(k), _miss_name(k, j))


def _feedback_name(k: int) -> str:
    """Name what is said of a number: each has its own, because not every player adds to a list."""
    return f"FEEDBACK_{k + 1}"


def _miss_name(k: int, j: int) -> str:
    return f"{response_name(k)}_MISS_{j + 1}"
