"""Graphs to plot: readings near Faraday's law but for one, and the graph shown only as the answer."""

from __future__ import annotations

import re
import sys
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from zipfile import ZipFile

import periodictable
import pytest

from fizzplate.questions.exchange import from_csv, to_csv, to_qti
from fizzplate.views.paper.mark_scheme import scheme_html
from fizzplate.views.paper.paper_questions import question_html
from fizzplate.views.quiz import plain_question
from fizzplate.words.refusals import InputError

sys.path.insert(0, str(Path(__file__).parent))
from question_checks import made, made_by  # beside this file

NAME = "plot a graph"
FARADAY_C_MOL = 96485.33
#: what a coulomb makes, by hand, in the unit of the vertical axis
A_COULOMB = {
    "copper": 1000 * periodictable.Cu.mass / 2 / FARADAY_C_MOL,
    "silver": 1000 * periodictable.Ag.mass / FARADAY_C_MOL,
    "hydrogen": 24_000 / 2 / FARADAY_C_MOL,
}


def numbers_in(text):
    return [float(each) for each in re.findall(r"[0-9]+(?:\.[0-9]+)?", text)]


def left_out(question):
    return numbers_in(question.points[2].statement)[0]


def test_all_readings_but_the_one_that_is_left_out_follow_faradays_law():
    for question in made_by(NAME):
        assert "invented" in question.text
        metal = next(each for each in A_COULOMB if each in question.chart.y_label)
        slope = 60 * numbers_in(question.text.split(" A ")[0].replace("\xa0", " "))[0]
        slope *= A_COULOMB[metal]
        readings = question.chart.lines[0]
        largest = slope * readings.x[-1]
        off = {x: abs(y - slope * x) / largest for x, y in zip(readings.x, readings.y, strict=True)}
        odd = left_out(question)
        assert off.pop(odd) > 0.12
        assert max(off.values()) < 0.021  # the scatter, and what is lost by rounding
        assert odd in readings.x[1:-1]


def test_the_values_of_a_row_have_as_many_decimal_places_each():
    for question in made_by(NAME):
        for _, values in question.table:
            assert len({len(each.partition(".")[2]) for each in values}) == 1, values


def test_the_answer_is_read_from_the_line_that_is_shown():
    uses = set()
    for question in made_by(NAME):
        end = question.chart.lines[1]
        slope = end.y[1] / end.x[1]
        said = question.points[3].statement
        given, low, high = numbers_in(said.replace("\u202f", "").split(": ")[1].replace("cm³", ""))
        gradient = "gradient" in said
        uses.add(gradient)
        right = slope if gradient else slope * numbers_in(said.split(": ")[0])[0]
        assert given == pytest.approx(right, rel=0.006)
        assert low == pytest.approx(0.95 * right, rel=0.006)
        assert high == pytest.approx(1.05 * right, rel=0.006)
    assert uses == {True, False}


def test_a_paper_prints_readings_and_an_empty_grid_and_the_scheme_the_graph():
    question = made(NAME, 1)
    paper, scheme = question_html(question, "paper-1-1"), scheme_html([question])
    grid = re.search(r'<svg class="fp-paper-grid" aria-hidden="true".*?</svg>', paper, re.DOTALL)[0]
    width, height = map(float, re.findall(r'(?:width|height)="([0-9]+)mm"', grid))
    assert (width, height) == (
        152,
        112,
    )  # with a millimetre round it, so a unit of it is a millimetre
    small, bold = re.findall(r'<path d="(.*?)"', grid)
    assert [float(x) for x in re.findall(r"M([0-9]+) 0V", small)] == [*range(0, 151, 2)]
    assert [float(y) for y in re.findall(r"M0 ([0-9]+)H", small)] == [*range(0, 111, 2)]
    assert re.findall(r"M([0-9]+) 0V", bold) == [str(10 * k) for k in range(16)]
    assert paper.count("<svg") == 1
    assert "line of best fit" not in re.sub(r"<p.*?</p>", "", paper)
    assert paper.count("<th scope=") == 2
    assert paper.count("<td>") == 2 * len(question.chart.lines[0].x)
    assert "<svg" in scheme
    assert "fp-paper-grid" not in scheme


def test_the_graph_that_is_the_answer_has_scales_that_a_learner_would_choose():
    """Steps in ones, twos or fives with five squares each, a thin line, and room for every reading."""
    for question in made_by(NAME)[:20]:
        graph = plain_question(question)["model"]
        numbers = [
            float(each) for each in re.findall(r">\s*([0-9]+(?:\.[0-9]+)?)\s*</text>", graph)
        ]
        noughts = [k for k, each in enumerate(numbers) if each == 0]
        across, up = numbers[: noughts[1]], numbers[noughts[1] :]
        for ticks, values in (
            (across, question.chart.lines[0].x),
            (up, question.chart.lines[0].y),
        ):
            step = ticks[1]
            assert float(f"{step:e}".split("e")[0]) in {1, 2, 5}, ticks
            assert ticks == pytest.approx([k * step for k in range(len(ticks))])
            assert 0.5 * ticks[-1] < max(values) <= ticks[-1]


def test_the_page_is_given_the_graph_as_the_answer_and_no_chart_to_read():
    data = plain_question(made(NAME, 1))
    assert data["chart"] == ""
    assert data["table"][0][0] == "Time, minutes"
    assert "line of best fit" in data["model"]
    assert [len(values) for _, values in data["table"]] == [7, 7]


def test_each_tick_earns_its_mark():
    question = made(NAME, 1)
    assert question.marks == 4
    assert [question.mark(given).earned for given in ("", "1", "1 4", "1 2 3 4")] == [0, 1, 2, 4]


def test_an_item_has_the_table_and_the_graph_in_words_for_the_scorer_alone():
    question = made(NAME, 1)
    with ZipFile(BytesIO(to_qti([question], "Graph"))) as package:
        assert not [each for each in package.namelist() if each.endswith(".svg")]
        item = package.read("items/q001.xml").decode()
    body, rubric = item.split("<qti-rubric-block")
    assert body.count("<tr>") == 2
    assert "qti-extended-text-interaction" in body
    assert 'external-scored="human"' in body
    assert "best fit: 0 at 0" not in body
    assert 'view="scorer"' in rubric
    assert "best fit: 0 at 0" in rubric


def test_a_graph_without_its_line_is_refused():
    question = made(NAME, 1)
    for lines in ((), question.chart.lines[:1]):
        row = to_csv([replace(question, chart=replace(question.chart, lines=lines))])
        with pytest.raises(InputError, match="two lines"):
            from_csv(row)
