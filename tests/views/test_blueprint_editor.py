"""The blueprint of a paper is changed in the page; where it cannot be met, the last paper stays."""

from __future__ import annotations

import pytest
from tests.views.parts import page_text

from fizzplate.questions import BlueprintRow, blueprint_of
from fizzplate.views.controls.fields import controls_by_key
from fizzplate.views.pages.revise import Revise


@pytest.fixture
def page():
    made = Revise()
    made.open_query("?set=5&count=6&level=16&topics=tests;quantities")
    controls_by_key(made.widget)["blueprint"].value = True
    return made


def type_in(page, **texts):
    """Type into fields of the blueprint, by topic and column."""
    fields = controls_by_key(page.widget)
    for name, text in texts.items():
        fields[f"blueprint-{name.replace('_', '-')}"].value = text


def texts(page, topic):
    fields = controls_by_key(page.widget)
    return [fields[f"blueprint-{topic}-{k}"].value for k in range(3)]


def test_it_begins_with_the_blueprint_that_the_set_has(page):
    for row in blueprint_of(page.questions):
        assert texts(page, row.topic) == [str(row.count), str(row.marks), str(row.harder)]
    assert texts(page, "charts") == ["0", "0", "0"]
    marks = sum(each.marks for each in page.questions)
    assert f"In all 6 questions, {marks} marks, about {marks} minutes" in page_text(page.widget)


def test_a_blueprint_that_can_be_met_makes_the_set_the_paper_and_the_link(page):
    page.papers_panel.show("2")
    page.papers_panel.make()
    type_in(page, tests_0="2", tests_1="3", quantities_0="3", quantities_1="11", quantities_2="3")
    assert "In all 5 questions, 14 marks" in page_text(page.widget)
    assert "3 of the questions (60 %) harder" in page_text(page.widget)
    page.blueprint_editor.use()
    plan = (BlueprintRow("tests", 2, 3), BlueprintRow("quantities", 3, 11, 3))
    assert set(blueprint_of(page.questions)) == set(plan)
    assert "blueprint=tests:2:3:0;quantities:3:11:3" in page.link_of(page.state)
    assert len(page.printing.sheets) == 4, "the papers that were there are made again"
    assert "14 marks" in page.printing.sheets[0]["html"]
    again = Revise()
    again.open_query("?" + page.link_of(page.state))
    assert again.questions == page.questions
    assert again.question_set.count == 5


def test_an_impossible_blueprint_names_what_is_possible_and_the_last_paper_stays(page):
    page.papers_panel.make()
    before = page.questions, page.printing.sheets, page.link_of(page.state)
    for given, said in (
        ({"tests_0": "3", "tests_1": "40"}, "marks for so many questions"),
        ({"tests_1": "3", "tests_2": "2"}, "not so many can be harder"),
        ({"tests_2": "x"}, "Tests, harder"),
        ({"tests_2": "0", "tests_0": "1.5"}, "a whole number"),
    ):
        type_in(page, **given)
        page.blueprint_editor.use()
        assert said in page_text(page.widget)
        assert (page.questions, page.printing.sheets, page.link_of(page.state)) == before
    wrong = [
        name
        for name, each in controls_by_key(page.widget).items()
        if "fp-wrong" in each._dom_classes
    ]
    assert wrong == ["blueprint-tests-0"]


def test_other_topics_or_another_count_leave_the_blueprint_and_another_level_keeps_it(page):
    type_in(page, quantities_0="0", quantities_1="0", quantities_2="0", tests_0="3", tests_1="5")
    page.blueprint_editor.use()
    assert page.question_set.blueprint == (BlueprintRow("tests", 3, 5),)
    fields = controls_by_key(page.widget)
    fields["level"].value = 14
    assert page.question_set.blueprint == (BlueprintRow("tests", 3, 5),)
    fields["set-number"].value = "9"
    assert page.question_set.blueprint == (BlueprintRow("tests", 3, 5),)
    assert fields["count"].value == "3"
    fields["count"].value = "4"
    assert page.question_set.blueprint == ()
    assert len(page.questions) == 4


def test_nothing_but_noughts_is_no_blueprint(page):
    type_in(page, **{f"{t}_{k}": "0" for t in ("tests", "quantities") for k in range(3)})
    page.blueprint_editor.use()
    assert "at least one question on one topic" in page_text(page.widget)
