"""Items that another program wrote, as far as they can be asked and marked here."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from fizzplate.questions.content import Option, Part, Point
from fizzplate.questions.exchange.qti.item_elements import (
    body_of,
    correct_values,
    declaration,
    feedback_of,
    inside,
    interactions,
    marks_of,
    number_of,
    tolerance_of,
)
from fizzplate.questions.exchange.qti.markup import (
    cut,
    has_pictures,
    local_name,
    plain_text,
    without_tags,
)
from fizzplate.questions.exchange.question_checks import (
    IMPORTED,
    IMPORTED_LEVEL,
    MAX_MARKS,
    search_form,
)
from fizzplate.questions.question_types import (
    ChecklistQuestion,
    ChoiceQuestion,
    NumberQuestion,
    Question,
    TextQuestion,
)
from fizzplate.words import InputError

if TYPE_CHECKING:
    from collections.abc import Iterator
    from xml.etree.ElementTree import Element

CHOICE = "qti-choice-interaction"
ENTRY = "qti-text-entry-interaction"
TEXT = "qti-extended-text-interaction"
SUPPORTED = "a choice of one answer, text entries, or one extended text"
SHORT_WORD = 3  # letters; so short a word counts only alone
MAX_FIGURES = 8


class UnsupportedItem(Exception):  # noqa: N818  # it names a kind of item; no one made an error
    """A kind of interaction that cannot be asked here."""


def read_other_item(item: Element, name: str, remarks: list[str]) -> Question:
    """Read an item that another program wrote.

    Parameters
    ----------
    item
        The item.
    name
        How remarks name it.
    remarks
        Remarks are added here.

    Raises
    ------
    UnsupportedItem
        If it asks in a way that is not offered here.
    InputError
        If it lacks what marking needs.

    Examples
    --------
    >>> from fizzplate.questions.exchange.qti.markup import read_xml
    >>> item = read_xml(
    ...     b'<qti-assessment-item title="Copper"><qti-response-declaration identifier="R" '
    ...     b'cardinality="single" base-type="float"><qti-correct-response><qti-value>8.96</qti-value>'
    ...     b"</qti-correct-response></qti-response-declaration><qti-item-body><p>Its density is "
    ...     b'<qti-text-entry-interaction response-identifier="R"/> g/cm3.</p></qti-item-body>'
    ...     b"</qti-assessment-item>",
    ...     "",
    ... )
    >>> question = read_other_item(item, "", [])
    >>> question.kind, question.text, question.mark("8.96").earned
    ('number', 'Its density is ____ g/cm3.', 1)
    """
    body = body_of(item)
    found = interactions(body)
    kinds = {local_name(each) for each in found}
    if kinds == {CHOICE} and len(found) == 1:
        question: Question = read_choice(item, body, found[0], name, remarks)
    elif kinds == {ENTRY}:
        question = _entries(item, body, found, name, remarks)
    elif kinds == {TEXT} and len(found) == 1:
        question = _extended(item, body, found[0], name, remarks)
    else:
        raise UnsupportedItem(_kind_in_words(kinds, len(found)))
    if has_pictures(body):
        remarks.append(f"{name}: its pictures, sounds or videos were left out.")
    if next(inside(item, "qti-assessment-stimulus-ref"), None) is not None:
        remarks.append(f"{name}: the text that it refers to was left out.")
    return question


def _kind_in_words(kinds: set[str], count: int) -> str:
    others = sorted(kinds - {CHOICE, ENTRY, TEXT})
    if others:
        return f"An item with {' and '.join(others)} (only {SUPPORTED} can be asked here)"
    if not count:
        return f"An item without an interaction (only {SUPPORTED} can be asked here)"
    return f"An item with several interactions (only {SUPPORTED} can be asked here)"


def _about(item: Element) -> tuple[str, str, int]:
    """Return maker, topic and level; an item of another program is about what its title says."""
    topic = " ".join(without_tags(item.get("title", "")).split())[:80]
    return IMPORTED, topic or IMPORTED, IMPORTED_LEVEL


def _stem(body: Element, name: str, remarks: list[str], prompt: Element | None = None) -> str:
    text = plain_text(body)
    prompt_text = "" if prompt is None else plain_text(prompt)
    if prompt_text and prompt_text not in text:
        text = f"{text}\n{prompt_text}".strip()
    return cut(text, f"{name}: the question", remarks)


def _marks(item: Element, name: str, remarks: list[str]) -> int:
    marks = marks_of(item)
    if marks > MAX_MARKS:
        remarks.append(f"{name}: it has {marks} marks; at most {MAX_MARKS} are allowed here.")
    return min(marks, MAX_MARKS)


def read_choice(
    item: Element, body: Element, interaction: Element, name: str, remarks: list[str]
) -> ChoiceQuestion:
    """Read a choice of one answer.

    Raises
    ------
    UnsupportedItem
        If it takes several answers.
    InputError
        If none of its options is right.
    """
    declared = declaration(item, interaction)
    if declared is None or declared.get("cardinality") != "single":
        raise UnsupportedItem(f"A choice of several answers (only {SUPPORTED} can be asked here)")
    choices = list(inside(interaction, "qti-simple-choice"))
    right = correct_values(declared)[:1]
    if not any([each.get("identifier")] == right for each in choices):
        raise InputError("right answer", "".join(right), "the identifier of one of the options")
    texts = [cut(plain_text(each), f"{name}: an option", remarks) for each in choices]
    answer = next(
        text for text, each in zip(texts, choices, strict=True) if [each.get("identifier")] == right
    )
    options = tuple(
        Option(text, is_right, _reason(item, each, answer, name, remarks, is_right=is_right))
        for text, each in zip(texts, choices, strict=True)
        for is_right in ([each.get("identifier")] == right,)
    )
    prompt = next(inside(interaction, "qti-prompt"), None)
    why = next(option.reason for option in options if option.right)
    text, marks = _stem(body, name, remarks, prompt), _marks(item, name, remarks)
    return ChoiceQuestion(*_about(item), text, why, options=options, marks=marks)


def _reason(
    item: Element, choice: Element, answer: str, name: str, remarks: list[str], *, is_right: bool
) -> str:
    """Return the reason of an option: the item's own feedback, or which option is right."""
    inline = next(inside(choice, "qti-feedback-inline"), None)
    own = feedback_of(item, choice.get("identifier", ""))
    if not own and inline is not None:
        own = " ".join(" ".join(inline.itertext()).split())
    usual = "That is the right answer." if is_right else f"The right answer is: {answer}"
    return cut(without_tags(own) or usual, f"{name}: a reason", remarks)


def _entries(
    item: Element, body: Element, found: list[Element], name: str, remarks: list[str]
) -> Question:
    """Read entries of measured numbers as parts, entries of words and of exact numbers as points."""
    text = _stem(body, name, remarks)
    accepted = [correct_values(declaration(item, each)) for each in found]
    if not all(accepted):
        raise InputError("right answer", "", "a right answer for each entry")
    parts = tuple(
        _part(item, entry, values[0]) for entry, values in zip(found, accepted, strict=True)
    )
    if all(parts):
        return _numbers(item, tuple(filter(None, parts)), text, name, remarks)
    points = tuple(
        Point(f"the answer is “{without_tags(values[0])}”", tuple(_words(values)))
        for values in accepted
    )
    answer = "; ".join(without_tags(values[0]) for values in accepted)
    why = f"The answer is {answer}."
    return TextQuestion(*_about(item), text, why, points=points, answer=answer)


def _words(values: list[str]) -> Iterator[str]:
    """Yield accepted answers as they are looked for; short words and numbers only by themselves."""
    for value in values:
        plain = search_form(without_tags(value).strip())
        if len(plain) <= SHORT_WORD or number_of(plain) is not None:
            yield from (f" {plain}{end}" for end in (" ", ";", ", ", ". "))
        else:
            yield plain


def _part(item: Element, entry: Element, text: str) -> Part | None:
    """Return the part for a number; nothing for words, and for a whole number that must be exact.

    A count such as 29 is not right as 30, which a part would take as 29 rounded.
    """
    value = number_of(text.replace(",", "."))
    if value is None:
        return None
    tolerance = tolerance_of(item, entry.get("response-identifier", ""), value)
    if value.is_integer() and not tolerance:
        return None
    digits = re.sub(r"[eE].*|[^0-9]", "", text).lstrip("0")
    figures = min(max(len(digits), 1), MAX_FIGURES)
    part = Part(value, "", (f"The answer is {value:g}.",), figures=figures)
    return part if tolerance is None else replace(part, tolerance=min(tolerance, 0.5))


def _numbers(
    item: Element, parts: tuple[Part, ...], text: str, name: str, remarks: list[str]
) -> Question:
    """Return the question for numbers; marks beyond one for each are the last one's."""
    marks = max(_marks(item, name, remarks), len(parts))
    last = replace(parts[-1], steps=parts[-1].steps * (marks - len(parts) + 1))
    return NumberQuestion(*_about(item), text, "", parts=(*parts[:-1], last))


def _extended(
    item: Element, body: Element, interaction: Element, name: str, remarks: list[str]
) -> Question:
    """Read an extended text as a list that learners mark themselves by the scorer's rubric."""
    rubrics = [
        each
        for each in inside(body, "qti-rubric-block")
        if "scorer" in each.get("view", "").split() or each.get("use") == "scoring"
    ]
    listed = [plain_text(each) for rubric in rubrics for each in inside(rubric, "li")]
    if not any(listed):
        listed = [plain_text(each) for rubric in rubrics for each in inside(rubric, "p")]
    listed_points = [text for text in listed if text]
    if len(listed_points) > MAX_MARKS:
        remarks.append(f"{name}: of {len(listed_points)} points the first {MAX_MARKS} were taken.")
    points = tuple(
        Point(cut(text, f"{name}: a point", remarks), ()) for text in listed_points[:MAX_MARKS]
    )
    points = points or (Point("says what is asked for", ()),)
    prompt = next(inside(interaction, "qti-prompt"), None)
    model = " ".join(correct_values(declaration(item, interaction)))
    why = cut(without_tags(model), f"{name}: the answer", remarks)
    text = _stem(body, name, remarks, prompt)
    return ChecklistQuestion(*_about(item), text, why, points=points)
