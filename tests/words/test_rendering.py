"""A value is written plainly or in Unicode: pages, paper and drawings hold the same letters."""

import re
from pathlib import Path

import pytest

import fizzplate as fp
from fizzplate.chemistry import pretty
from fizzplate.questions import Chart, ChartLine
from fizzplate.views.figures import charts
from fizzplate.views.figures.question_charts import question_chart
from fizzplate.words.rendering import Rendering, number_text, unit_text

PACKAGE = Path(fp.__file__).parent
SIGNS = "⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻₀₁₂₃₄₅₆₇₈₉"
#: what turns letters into raised or lowered ones: Unicode, and marks of HTML, LaTeX, matplotlib and SVG
UNICODE = re.compile(rf"(?:maketrans|translate|replace)\w*\([^)\n]*, [^)\n]*[{SIGNS}]")
MARKS = re.compile(r"<su[bp]>|\\mathrm|mathtext|\$[_^]|baseline-shift")
#: formulae, equations of these, and an example of what a reader of strangers' files is given
WITH_MARKS = {
    "chemistry/notation.py",
    "chemistry/equation.py",
    "questions/exchange/qti/markup/words.py",
}


def sources():
    for path in PACKAGE.rglob("*"):
        if path.suffix in {".py", ".js", ".j2", ".html", ".css"}:
            yield path.relative_to(PACKAGE).as_posix(), path.read_text("utf-8")


def test_raised_and_lowered_signs_are_made_in_one_place():
    assert [name for name, text in sources() if UNICODE.search(text)] == ["words/rendering.py"]
    assert {name for name, text in sources() if MARKS.search(text)} == WITH_MARKS


@pytest.mark.parametrize(
    "line",
    [
        'label = f"CO<sub>2</sub>"',
        'made = str.maketrans("0123", "⁰¹²³")',
        'label = unit.replace("3", "³")',
        'axes.set_title("$_2$")',
    ],
)
def test_code_that_makes_its_own_is_found(line):
    assert UNICODE.search(line) or MARKS.search(line)


def test_a_drawing_holds_the_letters_of_the_page():
    drawn = "".join(chart.svg for chart in charts(fp.Cell("CuSO4").run(minutes=1, samples=5)))
    assert f"{unit_text('cm3', Rendering.PAGE)}" in drawn
    assert pretty("O2") in drawn or pretty("Cu2+") in drawn
    assert "<sub" not in drawn
    assert "tspan" not in drawn


def test_a_chart_read_aloud_has_the_numbers_of_the_page():
    x, y = (0.0, 1.0), (-0.5, 2e-6)
    chart = Chart("loss", "time, min", "mass, g", (ChartLine("loss", x, y),))
    drawn = question_chart("q", chart)
    assert f"{number_text(-0.5, Rendering.PAGE)} at 0" in drawn
    assert f"{number_text(2e-6, Rendering.PAGE)} at 1" in drawn
