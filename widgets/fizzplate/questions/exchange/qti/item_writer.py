"""One question as a QTI 3.0 assessment item.

What is asked and marked depends on the question's type (:mod:`fizzplate.questions.exchange.qti.item_types`).
A rubric for the scorer holds the mark scheme to read, and the extra data that the standard has no place
for (:mod:`fizzplate.questions.exchange.qti.extra_data`).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from fizzplate.questions.exchange.qti.chart_picture import in_words
from fizzplate.questions.exchange.qti.extra_data import write_extra_data
from fizzplate.questions.exchange.qti.item_types import (
    ChecklistItems,
    ChoiceItems,
    EquationItems,
    LevelsItems,
    NumberItems,
    PlotItems,
    StructuredItems,
    TextItems,
)
from fizzplate.questions.exchange.qti.markup import (
    OURS,
    QTI,
    QTI_SCHEMA,
    document,
    node,
    paragraphs,
    root,
)
from fizzplate.questions.question_types import (
    ChecklistQuestion,
    ChoiceQuestion,
    EquationQuestion,
    LevelsQuestion,
    NumberQuestion,
    PlotQuestion,
    Question,
    StructuredQuestion,
    TextQuestion,
    missing_for,
)

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

    from fizzplate.questions.exchange.qti.item_types import ItemType

#: how the types of question stand in an item
ITEM_TYPES: dict[type[Question], ItemType[Any]] = {
    ChoiceQuestion: ChoiceItems(),
    NumberQuestion: NumberItems(),
    EquationQuestion: EquationItems(),
    TextQuestion: TextItems(),
    ChecklistQuestion: ChecklistItems(),
    PlotQuestion: PlotItems(),
    LevelsQuestion: LevelsItems(),
    StructuredQuestion: StructuredItems(),
}


def picture_path(name: str) -> str:
    """Return where in the package the picture of an item's chart is.

    Examples
    --------
    >>> picture_path("q001")
    'images/q001.svg'
    """
    return f"images/{name}.svg"


def write_item(question: Question, name: str, title: str) -> bytes:
    """Write a question as an assessment item.

    Parameters
    ----------
    question
        The question.
    name
        The item's identifier.
    title
        The item's title.

    Raises
    ------
    TypeError
        If nothing says how its type stands in an item.

    Examples
    --------
    >>> from fizzplate.questions.content import Option
    >>> options = (Option("Na⁺", True, "A cation."), Option("Cl⁻", False, "An anion."))
    >>> question = ChoiceQuestion("", "ions", 14, "Which?", "", options=options)
    >>> b"<qti-choice-interaction" in write_item(question, "q001", "Ions")
    True
    """
    if type(question) not in ITEM_TYPES:
        raise missing_for(question, "item type", "ITEM_TYPES")
    own = ITEM_TYPES[type(question)]
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
    own.declare_responses(item, question)
    _declare_outcomes(item, question, own)
    body = node(item, "qti-item-body")
    paragraphs(body, question.text)
    if question.shown_chart is not None:
        shown = {"src": f"../{picture_path(name)}", "alt": in_words(question.shown_chart)}
        node(node(body, "p"), "img", {**shown, OURS: "chart"})
    own.add_interactions(body, question)
    _rubric(body, question, own.scheme_lines(question))
    if not own.by_person:
        own.add_rules(node(item, "qti-response-processing"), question)
    for each in own.feedback(question):
        shown = {"outcome-identifier": each.outcome, "show-hide": "show", "identifier": each.name}
        paragraphs(node(node(item, "qti-modal-feedback", shown), "qti-content-body"), each.reason)
    return document(item)


def _declare_outcomes(item: Element, question: Question, own: ItemType[Any]) -> None:
    number = {"cardinality": "single", "base-type": "float"}
    score = {"identifier": "SCORE", **number, "normal-maximum": str(question.marks)}
    if own.by_person:
        score["external-scored"] = "human"
    _default(node(item, "qti-outcome-declaration", score), "0")
    most = {"identifier": "MAXSCORE", **number}
    _default(node(item, "qti-outcome-declaration", most), str(question.marks))
    for outcome in dict.fromkeys(each.outcome for each in own.feedback(question)):
        name = {"identifier": outcome, "cardinality": "single", "base-type": "identifier"}
        node(item, "qti-outcome-declaration", name)


def _default(declared: Element, value: str) -> None:
    node(node(declared, "qti-default-value"), "qti-value", text=value)


def _rubric(body: Element, question: Question, lines: list[str]) -> None:
    """Add the mark scheme for the scorer, with what the standard has no place for."""
    seen = {"use": "scoring", "view": "scorer", OURS: write_extra_data(question)}
    content = node(node(body, "qti-rubric-block", seen), "qti-content-body")
    paragraphs(content, f"Answer: {question.answer}")
    if question.why != question.answer:
        paragraphs(content, question.why)
    if lines:
        listed = node(content, "ol")
        for line in lines:
            node(listed, "li", text=line)
