"""Finding what the standard puts in an item: its body, interactions, right answers, marks, feedback."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from fizzplate.questions.exchange.qti.markup import local_name, plain_text
from fizzplate.words import InputError

if TYPE_CHECKING:
    from collections.abc import Iterator
    from xml.etree.ElementTree import Element


def inside(element: Element, name: str) -> Iterator[Element]:
    """Yield the elements of a name that are in an element, at any depth.

    Examples
    --------
    >>> from fizzplate.questions.exchange.qti.markup import read_xml
    >>> [each.text for each in inside(read_xml(b"<a><b><c>1</c></b><c>2</c></a>", ""), "c")]
    ['1', '2']
    """
    return (each for each in element.iter() if local_name(each) == name)


def body_of(item: Element) -> Element:
    """Return an item's body, which every item that asks something has.

    Raises
    ------
    InputError
        If there is none.

    Examples
    --------
    >>> from fizzplate.questions.exchange.qti.markup import read_xml
    >>> body_of(read_xml(b"<item><qti-item-body>Why?</qti-item-body></item>", "")).text
    'Why?'
    """
    body = next(inside(item, "qti-item-body"), None)
    if body is None:
        raise InputError("item", "no qti-item-body", "an item with a body")
    return body


def interactions(body: Element) -> list[Element]:
    """Return the elements of a body that take an answer, in order.

    Examples
    --------
    >>> from fizzplate.questions.exchange.qti.markup import read_xml
    >>> body = read_xml(b"<b><p><qti-text-entry-interaction/></p><qti-order-interaction/></b>", "")
    >>> [each.tag for each in interactions(body)]
    ['qti-text-entry-interaction', 'qti-order-interaction']
    """
    return [
        each
        for each in body.iter()
        if local_name(each).startswith("qti-") and local_name(each).endswith("-interaction")
    ]


def declaration(item: Element, interaction: Element) -> Element | None:
    """Return the declaration of the response that an interaction is bound to.

    Examples
    --------
    >>> from fizzplate.questions.exchange.qti.markup import read_xml
    >>> declared = b'<i><qti-response-declaration identifier="R" base-type="float"/></i>'
    >>> entry = read_xml(b'<qti-text-entry-interaction response-identifier="R"/>', "")
    >>> declaration(read_xml(declared, ""), entry).get("base-type")
    'float'
    """
    wanted = interaction.get("response-identifier", "")
    declared = inside(item, "qti-response-declaration")
    return next((each for each in declared if each.get("identifier") == wanted), None)


def correct_values(declared: Element | None) -> list[str]:
    """Return the right answers that a declaration gives, those of its map with the most marks too.

    Examples
    --------
    >>> from fizzplate.questions.exchange.qti.markup import read_xml
    >>> declared = (
    ...     b"<d><qti-correct-response><qti-value>brass</qti-value></qti-correct-response><qti-mapping>"
    ...     b'<qti-map-entry map-key="yellow brass" mapped-value="1"/></qti-mapping></d>'
    ... )
    >>> correct_values(read_xml(declared, ""))
    ['brass', 'yellow brass']
    """
    if declared is None:
        return []
    given = [
        value.text or ""
        for correct in inside(declared, "qti-correct-response")
        for value in inside(correct, "qti-value")
    ]
    entries = [
        (_float(each.get("mapped-value")), each) for each in inside(declared, "qti-map-entry")
    ]
    most = max((marks for marks, _ in entries), default=0.0)
    given += [each.get("map-key", "") for marks, each in entries if most and marks == most]
    return [value for value in dict.fromkeys(given) if value.strip()]


def marks_of(item: Element) -> int:
    """Return the marks of an item as a whole number, 1 where it does not say.

    Examples
    --------
    >>> from fizzplate.questions.exchange.qti.markup import read_xml
    >>> scored = b'<i><qti-outcome-declaration identifier="SCORE" normal-maximum="2.0"/></i>'
    >>> marks_of(read_xml(scored, "")), marks_of(read_xml(b"<i/>", ""))
    (2, 1)
    """
    for declared in inside(item, "qti-outcome-declaration"):
        if declared.get("identifier") == "MAXSCORE":
            values = [_float(value.text) for value in inside(declared, "qti-value")]
            if values and values[0] > 0:
                return math.ceil(values[0])
    for declared in inside(item, "qti-outcome-declaration"):
        most = _float(declared.get("normal-maximum"))
        if declared.get("identifier") == "SCORE" and most > 0:
            return math.ceil(most)
    return 1


def feedback_of(item: Element, identifier: str) -> str:
    """Return the feedback to an answer of this name, or nothing.

    Examples
    --------
    >>> from fizzplate.questions.exchange.qti.markup import read_xml
    >>> shown = b'<i><qti-modal-feedback identifier="A">Well read.</qti-modal-feedback></i>'
    >>> feedback_of(read_xml(shown, ""), "A"), feedback_of(read_xml(shown, ""), "B")
    ('Well read.', '')
    """
    for shown in inside(item, "qti-modal-feedback"):
        if shown.get("identifier") == identifier and shown.get("show-hide") != "hide":
            return plain_text(shown)
    return ""


def range_of(item: Element, identifier: str) -> tuple[float, float] | None:
    """Return the first range that the response is compared with; None if there is none.

    Examples
    --------
    >>> from fizzplate.questions.exchange.qti.markup import read_xml
    >>> ends = "".join(
    ...     f'<qti-{name}><qti-variable identifier="R"/><qti-base-value>{end}</qti-base-value></qti-{name}>'
    ...     for name, end in (("gte", 8.5), ("lte", 9.5))
    ... )
    >>> range_of(read_xml(f"<i><qti-and>{ends}</qti-and></i>".encode(), ""), "R")
    (8.5, 9.5)
    """
    for both in inside(item, "qti-and"):
        ends: dict[str, float | None] = {}
        for compared in both:
            parts = {local_name(each): each for each in compared}
            variable, base = parts.get("qti-variable"), parts.get("qti-base-value")
            if variable is not None and variable.get("identifier") == identifier:
                ends[local_name(compared)] = None if base is None else number_of(base.text)
        low, high = ends.get("qti-gte"), ends.get("qti-lte")
        if low is not None and high is not None:
            return low, high
    return None


def tolerance_of(item: Element, identifier: str, value: float) -> float | None:
    """Return how far off the response may be, as a fraction of the right value; None if it is not said.

    Examples
    --------
    >>> from fizzplate.questions.exchange.qti.markup import read_xml
    >>> equal = (
    ...     b'<i><qti-equal tolerance-mode="relative" tolerance="5"><qti-correct identifier="R"/>'
    ...     b'<qti-variable identifier="R"/></qti-equal></i>'
    ... )
    >>> tolerance_of(read_xml(equal, ""), "R", 8.9), tolerance_of(read_xml(equal, ""), "S", 8.9)
    (0.05, None)
    """
    for equal in inside(item, "qti-equal"):
        compared = {(local_name(each), each.get("identifier")) for each in equal}
        right = {("qti-correct", identifier), ("qti-variable", identifier)}
        if ("qti-variable", identifier) not in compared or not (
            compared == right or ("qti-base-value", None) in compared
        ):
            continue
        bases = [each.text for each in equal if local_name(each) == "qti-base-value"]
        if bases and _float(bases[0]) != value:
            continue  # a comparison with another number than the right one
        widths = [_float(width) for width in equal.get("tolerance", "0").split()]
        mode = equal.get("tolerance-mode", "exact")
        width = min(widths, default=0.0) if mode in {"relative", "absolute"} else 0.0
        scale = 100.0 if mode == "relative" else abs(value)
        return width / scale if scale else 0.0
    ends = range_of(item, identifier)
    if ends is None or not value or not ends[0] <= value <= ends[1]:
        return None
    return max(value - ends[0], ends[1] - value) / abs(value)


def number_of(text: str | None) -> float | None:
    """Read a number as the standard writes it, with a point; nothing where it is none.

    Examples
    --------
    >>> number_of(" 1.5e-3 "), number_of("nan"), number_of("one")
    (0.0015, None, None)
    """
    try:
        value = float(text or "")
    except ValueError:
        return None
    return value if math.isfinite(value) else None


def _float(text: str | None) -> float:
    return number_of(text) or 0.0
