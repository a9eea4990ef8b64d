"""Questions as they stand on paper: the text, what it is worth, and room for the answer."""

from __future__ import annotations

from functools import singledispatch
from html import escape
from typing import TYPE_CHECKING

from fizzplate.questions.question_types import (
    ChecklistQuestion,
    ChoiceQuestion,
    EquationQuestion,
    NumberQuestion,
    Question,
    TextQuestion,
)
from fizzplate.questions.question_types.question import missing_for
from fizzplate.views.figures.question_charts import asked_chart
from fizzplate.views.paper.typesetting import marks_in_words, typeset

if TYPE_CHECKING:
    from fizzplate.questions.content import Chart, Part

LINES_A_MARK = 2  # to write on, for sentences
BLOCK = 4  # lines that stay on one page


def question_html(asked: Question, name: str) -> str:
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
    stem = _stem(asked.text, 0 if several else asked.marks)
    chart = _chart(asked.chart, name) if asked.chart else ""
    return f'<li class="fp-paper-question">{stem}{chart}{answer_room(asked)}</li>'


def _stem(text: str, marks: int) -> str:
    worth = f' <span class="fp-paper-worth">[{marks_in_words(marks)}]</span>' if marks else ""
    return f'<p class="fp-paper-stem"><span>{typeset(text)}</span>{worth}</p>'


@singledispatch
def answer_room(asked: Question) -> str:
    """Leave room for the answer to a question of this type."""
    raise missing_for(asked, "room for its answer on paper", "answer_room")


@answer_room.register
def _(asked: ChoiceQuestion) -> str:
    listed = "".join(
        f'<li><span class="fp-paper-box"></span>{typeset(option.text)}</li>'
        for option in asked.options
    )
    return f'<ol class="fp-paper-options" type="A">{listed}</ol>'


@answer_room.register
def _(asked: NumberQuestion) -> str:
    if len(asked.parts) == 1:
        part = asked.parts[0]
        return (_stem(part.asks, 0) if part.asks else "") + _working(part, strict=asked.strict)
    listed = "".join(
        f"<li>{_stem(part.asks, len(part.steps))}{_working(part, strict=asked.strict)}</li>"
        for part in asked.parts
    )
    return f'<ol class="fp-paper-parts" type="a">{listed}</ol>'


@answer_room.register
def _(asked: EquationQuestion) -> str:  # noqa: ARG001  # each has one line
    return _lines(1)


@answer_room.register(TextQuestion)
@answer_room.register(ChecklistQuestion)
def _(asked: Question) -> str:
    return _lines(LINES_A_MARK * asked.marks)


def _working(part: Part, *, strict: bool) -> str:
    """Leave room to work in, and a line for the answer with its unit given or left to write."""
    unit = f" {escape(part.unit)}" if part.unit else ""
    if part.unit and strict:
        unit = ' Unit <span class="fp-paper-short"></span>'
    return (
        f'<div class="fp-paper-working" style="--marks: {len(part.steps)}"></div>'
        f'<p class="fp-paper-answer">Answer <span class="fp-paper-blank"></span>{unit}</p>'
    )


def _lines(count: int) -> str:
    """Rule lines, in blocks that a page's end does not cut."""
    blocks = [min(BLOCK, count - k) for k in range(0, count, BLOCK)]
    return "".join(f'<div class="fp-paper-lines">{"<div></div>" * n}</div>' for n in blocks)


def _chart(chart: Chart, name: str) -> str:
    caption = f"<figcaption>{typeset(chart.title)}</figcaption>"
    return f'<figure class="fp-paper-figure">{caption}{asked_chart(name, chart)}</figure>'
