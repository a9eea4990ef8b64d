"""Questions as they are printed on paper: the text, what it is worth, and space for the answer."""

from __future__ import annotations

from functools import singledispatch

from markupsafe import Markup

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
from fizzplate.views.figures import question_chart
from fizzplate.views.paper.typesetting import marks_in_words
from fizzplate.views.web import render, trusted_html

LINES_A_MARK = 2  # to write on, for sentences
BLOCK = 4  # lines that stay on one page
GRID_CM = (
    15,
    11,
)  # across and up, to draw a graph on: as on graph paper, a bold line each centimetre
SQUARE_MM = 2


def question_html(question: Question, name: str) -> Markup:
    """Write a question as an item of the paper's list.

    Parameters
    ----------
    question
        The question.
    name
        Every id in its chart begins with it.

    Examples
    --------
    >>> from fizzplate.questions.content import Part
    >>> from fizzplate.questions.question_types import NumberQuestion
    >>> part = Part(450.0, "C", ("Q = 0.50 A × 900 s = 450 C.",))
    >>> question = NumberQuestion("charge", "quantities", 14, "?", "", parts=(part,))
    >>> "[1 mark]" in question_html(question, "paper-1-1")
    True
    """
    several = len(question.parts) > 1 or bool(question.sections)
    chart = question.shown_chart
    return render(
        "paper/templates/question.html.j2",
        text=question.text,
        worth="" if several else marks_in_words(question.marks),
        caption=chart.title if chart else "",
        drawing=trusted_html(question_chart(name, chart)) if chart else "",
        space=answer_space(question),
    )


@singledispatch
def answer_space(question: Question) -> Markup:
    """Leave space for the answer to a question of this type."""
    raise missing_for(question, "room for its answer on paper", "answer_space")


@answer_space.register
def _(question: ChoiceQuestion) -> Markup:
    options = [option.text for option in question.options]
    return render("paper/templates/options.html.j2", options=options)


@answer_space.register
def _(question: NumberQuestion) -> Markup:
    parts = [
        {
            "prompt": part.prompt,
            "worth": marks_in_words(len(part.steps)),
            "marks": len(part.steps),
            "unit": part.unit,
        }
        for part in question.parts
    ]
    return render("paper/templates/numbers.html.j2", parts=parts, strict=question.strict)


@answer_space.register
def _(question: EquationQuestion) -> Markup:  # noqa: ARG001  # each has one line
    return _lines(1)


@answer_space.register
def _(question: StructuredQuestion) -> Markup:
    sections = [
        {
            "text": each.text,
            "worth": marks_in_words(each.marks),
            "space": answer_space(each),
        }
        for each in question.sections
    ]
    return render("paper/templates/sections.html.j2", sections=sections)


@answer_space.register
def _(question: PlotQuestion) -> Markup:
    across, up = (10 * each for each in GRID_CM)
    return render(
        "paper/templates/plot.html.j2",
        table=question.table,
        across=across,
        up=up,
        square=SQUARE_MM,
        lines=_lines(LINES_A_MARK),
    )


@answer_space.register(TextQuestion)
@answer_space.register(ChecklistQuestion)
@answer_space.register(LevelsQuestion)
def _(question: Question) -> Markup:
    return _lines(LINES_A_MARK * question.marks)


def _lines(count: int) -> Markup:
    """Rule lines, in blocks that a page's end does not cut."""
    blocks = [min(BLOCK, count - k) for k in range(0, count, BLOCK)]
    return render("paper/templates/lines.html.j2", blocks=blocks)
