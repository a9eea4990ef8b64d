"""Questions as they stand on paper: the text, what it is worth, and room for the answer."""

from __future__ import annotations

from functools import singledispatch

from markupsafe import Markup

from fizzplate.questions.question_types import (
    ChecklistQuestion,
    ChoiceQuestion,
    EquationQuestion,
    NumberQuestion,
    Question,
    TextQuestion,
    missing_for,
)
from fizzplate.views.figures import asked_chart
from fizzplate.views.paper.typesetting import marks_in_words, typeset
from fizzplate.views.web import render, trusted

LINES_A_MARK = 2  # to write on, for sentences
BLOCK = 4  # lines that stay on one page


def question_html(asked: Question, name: str) -> Markup:
    """Write a question as an item of the paper's list.

    Parameters
    ----------
    asked
        The question.
    name
        Every id in its chart begins with it.

    Examples
    --------
    >>> from fizzplate.questions.content import Part
    >>> from fizzplate.questions.question_types import NumberQuestion
    >>> part = Part(450.0, "C", ("Q = 0.50 A × 900 s = 450 C.",))
    >>> asked = NumberQuestion("charge", "quantities", 14, "?", "", parts=(part,))
    >>> "[1 mark]" in question_html(asked, "paper-1-1")
    True
    """
    several = len(asked.parts) > 1
    chart = asked.chart
    return render(
        "paper/templates/question.html.j2",
        text=typeset(asked.text),
        worth="" if several else marks_in_words(asked.marks),
        caption=typeset(chart.title) if chart else "",
        drawing=trusted(asked_chart(name, chart)) if chart else "",
        room=answer_room(asked),
    )


@singledispatch
def answer_room(asked: Question) -> Markup:
    """Leave room for the answer to a question of this type."""
    raise missing_for(asked, "room for its answer on paper", "answer_room")


@answer_room.register
def _(asked: ChoiceQuestion) -> Markup:
    options = [typeset(option.text) for option in asked.options]
    return render("paper/templates/options.html.j2", options=options)


@answer_room.register
def _(asked: NumberQuestion) -> Markup:
    parts = [
        {
            "asks": typeset(part.asks),
            "worth": marks_in_words(len(part.steps)),
            "marks": len(part.steps),
            "unit": part.unit,
        }
        for part in asked.parts
    ]
    return render("paper/templates/numbers.html.j2", parts=parts, strict=asked.strict)


@answer_room.register
def _(asked: EquationQuestion) -> Markup:  # noqa: ARG001  # each has one line
    return _lines(1)


@answer_room.register(TextQuestion)
@answer_room.register(ChecklistQuestion)
def _(asked: Question) -> Markup:
    return _lines(LINES_A_MARK * asked.marks)


def _lines(count: int) -> Markup:
    """Rule lines, in blocks that a page's end does not cut."""
    blocks = [min(BLOCK, count - k) for k in range(0, count, BLOCK)]
    return render("paper/templates/lines.html.j2", blocks=blocks)
