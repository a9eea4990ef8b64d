"""Charts that came from a file: whatever their texts are, they are drawn as they stand."""

from __future__ import annotations

import pytest
from defusedxml.ElementTree import fromstring

from fizzplate.questions.content import Chart, ChartLine
from fizzplate.views.figures.question_charts import question_chart

SVG = "{http://www.w3.org/2000/svg}"


def words(text):
    """Return the words in a drawing whose texts are all the same."""
    line = ChartLine(text, (0.0, 10.0), (0.0, 6.0))
    top = fromstring(question_chart("c", Chart(text, text, text, (line,))))
    return ["".join(each.itertext()) for each in top.iter(f"{SVG}text")]


@pytest.mark.parametrize(
    "text",
    [
        "mass $\\frac{ in g$",
        "x$^$",
        "$x^2$",
        "a \\$ and a $",
        "_hidden",
        "\\mathrm{g}",
        "<b>&amp;",
        "{}%s",
    ],
)
def test_a_text_is_drawn_as_it_stands(text):
    assert words(text).count(text) == 3  # both axes, and the line's name


def test_signs_that_no_drawing_may_hold_become_spaces():
    assert words("a\0b\x07c\nd").count("a b c d") == 3


def test_a_chart_without_lines_is_drawn():
    assert "time / min" in question_chart("c", Chart("a", "time / min", "b", ()))
