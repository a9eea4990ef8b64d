"""One question as a QTI 3.0 assessment item.

A choice is a choice interaction with a feedback for each option; each number a text entry with a
tolerance, its near misses and errors carried forward in the response processing; an equation a text
entry with a map of accepted spellings; a text and a list an extended text that a person marks. A rubric
for the scorer holds the mark scheme to read, and beside it what the standard has no place for
(:mod:`fizzplate.questions.exchange.scheme`).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.questions.exchange.qti.markup import (
    OURS,
    QTI,
    QTI_SCHEMA,
    document,
    node,
    paragraphs,
    root,
)
from fizzplate.questions.exchange.scheme import write_scheme
from fizzplate.questions.exchange.spelling import spell, spellings

if TYPE_CHECKING:
    from collections.abc import Iterable
    from xml.etree.ElementTree import Element

    from fizzplate.questions.question import Chart, Part, Point, Question

RESPONSE = "RESPONSE"


def option_name(k: int) -> str:
    """Name an option, from 0.

    Examples
    --------
    >>> option_name(0), option_name(25)
    ('A', 'Z')
    """
    return chr(ord("A") + k)


def part_name(k: int) -> str:
    """Name the response to a number, from 0.

    Examples
    --------
    >>> part_name(0)
    'RESPONSE_1'
    """
    return f"{RESPONSE}_{k + 1}"


def write_item(asked: Question, name: str, title: str) -> bytes:
    """Write a question as an assessment item.

    Parameters
    ----------
    asked
        The question.
    name
        The item's identifier.
    title
        The item's title.

    Examples
    --------
    >>> from fizzplate.questions.question import Option, Question
    >>> options = (Option("Na⁺", True, "A cation."), Option("Cl⁻", False, "An anion."))
    >>> asked = Question("", "ions", 14, "Which?", "choice", 1, "Na⁺", "", options=options)
    >>> b"<qti-choice-interaction" in write_item(asked, "q001", "Ions")
    True
    """
    item = root(
        "qti-assessment-item",
        QTI,
        QTI_SCHEMA,
        {
            "identifier": name,
            "title": title,
            "adaptive": "false",
            "time-dependent": "false",
            "xml:lang": "en-GB",
        },
    )
    # the standard's order: declarations, body, processing, feedback
    _declare_responses(item, asked)
    _declare_outcomes(item, asked)
    body = node(item, "qti-item-body")
    paragraphs(body, asked.text)
    if asked.chart is not None:
        _chart_table(body, asked.chart)
    _interactions(body, asked)
    _rubric(body, asked)
    _processing(item, asked)
    for identifier, reason in _feedback(asked):
        shown = {"outcome-identifier": "FEEDBACK", "show-hide": "show", "identifier": identifier}
        paragraphs(node(node(item, "qti-modal-feedback", shown), "qti-content-body"), reason)
    return document(item)


def _declare_responses(item: Element, asked: Question) -> None:
    if asked.kind == "choice":
        right = next(k for k, option in enumerate(asked.options) if option.right)
        _declare_response(item, RESPONSE, "identifier", option_name(right))
    for k, part in enumerate(asked.parts):
        _declare_response(item, part_name(k), "float", repr(part.value))
    if asked.kind == "equation":
        declared = _declare_response(item, RESPONSE, "string", asked.answer)
        mapping = node(declared, "qti-mapping", {"default-value": "0"})
        for spelling in _spellings(asked):
            entry = {"map-key": spelling, "mapped-value": str(asked.marks)}
            node(mapping, "qti-map-entry", {**entry, "case-sensitive": "true"})
    if asked.kind == "text":
        _declare_response(item, RESPONSE, "string", asked.answer)
    if asked.kind == "list":
        _declare_response(item, RESPONSE, "string")


def _declare_response(item: Element, name: str, base: str, correct: str = "") -> Element:
    kind = {"identifier": name, "cardinality": "single", "base-type": base}
    declared = node(item, "qti-response-declaration", kind)
    if correct:
        node(node(declared, "qti-correct-response"), "qti-value", text=correct)
    return declared


def _spellings(asked: Question) -> Iterable[str]:
    accepted = asked.task.accepted if asked.task else ()
    written = (spelling for form in accepted for spelling in spellings(form))
    return dict.fromkeys((asked.answer, *written))


def _declare_outcomes(item: Element, asked: Question) -> None:
    number = {"cardinality": "single", "base-type": "float"}
    score = {"identifier": "SCORE", **number, "normal-maximum": str(asked.marks)}
    if asked.kind in {"text", "list"}:
        score["external-scored"] = "human"
    _default(node(item, "qti-outcome-declaration", score), "0")
    most = {"identifier": "MAXSCORE", **number}
    _default(node(item, "qti-outcome-declaration", most), str(asked.marks))
    if any(_feedback(asked)):
        several = "single" if asked.kind == "choice" else "multiple"
        said = {"identifier": "FEEDBACK", "cardinality": several, "base-type": "identifier"}
        node(item, "qti-outcome-declaration", said)


def _default(declared: Element, value: str) -> None:
    node(node(declared, "qti-default-value"), "qti-value", text=value)


def _chart_table(body: Element, chart: Chart) -> None:
    """Add the figures of a chart as a table, a row a point."""
    table = node(body, "table", {OURS: "chart"})
    node(table, "caption", text=chart.title)
    heading = node(node(table, "thead"), "tr")
    for title in ("", chart.x_label, chart.y_label):
        node(heading, "th", {"scope": "col"}, title)
    rows = node(table, "tbody")
    for line in chart.lines:
        for x, y in zip(line.x, line.y, strict=True):
            row = node(rows, "tr")
            for cell in (line.name, f"{x:.4g}", f"{y:.4g}"):
                node(row, "td", text=cell)


def _interactions(body: Element, asked: Question) -> None:
    bound = {"response-identifier": RESPONSE}
    if asked.kind == "choice":
        choice = node(
            body, "qti-choice-interaction", {**bound, "shuffle": "false", "max-choices": "1"}
        )
        for k, option in enumerate(asked.options):
            node(choice, "qti-simple-choice", {"identifier": option_name(k)}, option.text)
    for k, part in enumerate(asked.parts):
        line = node(body, "p", {OURS: "entry"}, f"{part.asks} ".lstrip())
        entry = {"response-identifier": part_name(k), "expected-length": "12"}
        node(line, "qti-text-entry-interaction", entry).tail = f" {part.unit}".rstrip()
    if asked.kind == "equation":
        line = node(body, "p", {OURS: "entry"})
        node(line, "qti-text-entry-interaction", {**bound, "expected-length": "40"})
    if asked.kind in {"text", "list"}:
        lines = {"expected-lines": str(2 * asked.marks)}
        node(body, "qti-extended-text-interaction", {**bound, **lines})


def _rubric(body: Element, asked: Question) -> None:
    """Add the mark scheme for the scorer, with what the standard has no place for."""
    seen = {"use": "scoring", "view": "scorer", OURS: write_scheme(asked)}
    content = node(node(body, "qti-rubric-block", seen), "qti-content-body")
    paragraphs(content, f"Answer: {asked.answer}")
    if asked.why != asked.answer:
        paragraphs(content, asked.why)
    marks = [step for part in asked.parts for step in part.steps]
    marks += [_point_text(point) for point in asked.points]
    if asked.task is not None:
        marks += [f"Accept {spell(form)}" for form in asked.task.accepted]
    if marks:
        listed = node(content, "ol")
        for mark in marks:
            node(listed, "li", text=mark)


def _point_text(point: Point) -> str:
    """Write a point with what earns it and what does not, as a scorer reads it."""
    ways = (
        ("Accept", point.words),
        ("Not with", point.contradictions),
        ("Too little alone", point.too_little),
        ("Said of", point.within),
    )
    said = [
        f"{name}: {', '.join(word.strip() for word in words)}." for name, words in ways if words
    ]
    return " ".join((f"{point.says}.", *said))


def _processing(item: Element, asked: Question) -> None:
    if asked.kind in {"text", "list"}:
        return  # a person marks it
    rules = node(item, "qti-response-processing")
    if asked.kind == "choice":
        right = node(node(rules, "qti-response-condition"), "qti-response-if")
        match = node(right, "qti-match")
        node(match, "qti-variable", {"identifier": RESPONSE})
        node(match, "qti-correct", {"identifier": RESPONSE})
        _set(right, "SCORE", "qti-variable", {"identifier": "MAXSCORE"})
        _set(rules, "FEEDBACK", "qti-variable", {"identifier": RESPONSE})
    if asked.kind == "equation":
        _set(rules, "SCORE", "qti-map-response", {"identifier": RESPONSE})
    for k, part in enumerate(asked.parts):
        _part_rules(node(rules, "qti-response-condition"), k, part)


def _set(rules: Element, outcome: str, tag: str, attributes: dict[str, str]) -> None:
    node(node(rules, "qti-set-outcome-value", {"identifier": outcome}), tag, attributes)


def _part_rules(condition: Element, k: int, part: Part) -> None:
    """Give marks for a number: right, right from the answer before, or a near miss."""
    right = node(condition, "qti-response-if")
    equal = _equal(right, part, part.value)
    node(equal, "qti-correct", {"identifier": part_name(k)})
    node(equal, "qti-variable", {"identifier": part_name(k)})
    _add_marks(right, len(part.steps))
    if k and part.factor:
        carried = node(condition, "qti-response-else-if")
        equal = _equal(carried, part, part.factor)
        product = node(equal, "qti-product")
        node(product, "qti-base-value", {"base-type": "float"}, repr(part.factor))
        node(product, "qti-variable", {"identifier": part_name(k - 1)})
        node(equal, "qti-variable", {"identifier": part_name(k)})
        _add_marks(carried, len(part.steps))
    for j, miss in enumerate(part.near_misses):
        near = node(condition, "qti-response-else-if")
        equal = _equal(near, part, miss.value)
        node(equal, "qti-base-value", {"base-type": "float"}, repr(miss.value))
        node(equal, "qti-variable", {"identifier": part_name(k)})
        _add_marks(near, len(part.steps) - len(set(miss.lost)))
        said = node(near, "qti-set-outcome-value", {"identifier": "FEEDBACK"})
        together = node(said, "qti-multiple")
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
    return f"{part_name(k)}_MISS_{j + 1}"


def _feedback(asked: Question) -> Iterable[tuple[str, str]]:
    """Yield what is said, with the outcome that calls for it."""
    for k, option in enumerate(asked.options):
        yield option_name(k), option.reason
    for k, part in enumerate(asked.parts):
        for j, miss in enumerate(part.near_misses):
            yield _miss_name(k, j), miss.reason
