"""What a conclusion of an investigation should say, and that the model answer says it."""

from dataclasses import asdict

import pytest

from fizzplate import data
from fizzplate.lesson.classroom import investigations
from fizzplate.questions import Point
from fizzplate.questions.marking.words import mark_point
from fizzplate.views.controls.setup_bar import CONTROLS

INVESTIGATIONS = {each.name: each for each in investigations()}


def test_every_investigation_has_points_and_every_point_an_investigation():
    named = {row["investigation"] for row in data.rows("investigation_points")}
    assert named == set(INVESTIGATIONS)
    assert all(3 <= len(each.points) <= 4 for each in INVESTIGATIONS.values())


@pytest.mark.parametrize("name", INVESTIGATIONS)
def test_the_model_answer_makes_its_own_points_and_no_answer_makes_none(name):
    chosen = INVESTIGATIONS[name]
    answer = chosen.answer()
    for point in chosen.points:
        asked = Point(point.name, point.words)
        assert mark_point(asked, answer).earned, (point.name, answer)
        assert not mark_point(asked, "I do not know.").earned


@pytest.mark.parametrize("name", INVESTIGATIONS)
def test_an_investigation_names_all_controls_in_which_its_cells_differ(name):
    chosen = INVESTIGATIONS[name]
    assert set(chosen.controls) <= set(CONTROLS)
    first, last = (asdict(setup) for setup in (chosen.setups[0], chosen.setups[-1]))
    differing = {each.replace("supply_V", "supply") for each in first if first[each] != last[each]}
    assert set(chosen.controls) >= differing
