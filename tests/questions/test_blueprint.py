"""A blueprint decides what a set asks: exactly, or it is refused with what is possible."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fizzplate.questions.blueprint import (
    BlueprintRow,
    blueprint_of,
    is_harder,
    read_blueprint,
    write_blueprint,
)
from fizzplate.questions.maker import TOPICS
from fizzplate.questions.makers import MAKERS
from fizzplate.questions.random_source import EDITION
from fizzplate.questions.set_state import QuestionSet, read_set, write_set
from fizzplate.questions.sets import another, different_questions
from fizzplate.questions.versions import by_demand, marks_by_part, parallel
from fizzplate.words import InputError

rows = st.builds(
    lambda topic, count, share, harder: BlueprintRow(
        topic, count, max(1, round(count * share)), min(harder, count)
    ),
    st.sampled_from(TOPICS),
    st.integers(1, 6),
    st.floats(0.5, 5),
    st.integers(0, 3),
)
blueprints = st.lists(rows, min_size=1, max_size=4, unique_by=lambda row: row.topic).map(tuple)


@settings(max_examples=25, deadline=None)
@given(blueprints, st.integers(0, 99), st.sampled_from([14, 16]))
def test_a_blueprint_is_met_exactly_or_refused_with_what_is_possible(blueprint, seed, level):
    chosen = QuestionSet(seed, level=level, blueprint=blueprint)
    try:
        made = chosen.questions()
    except InputError as refusal:
        follow(refusal, chosen)
        return
    ordered = sorted(blueprint, key=lambda row: TOPICS.index(row.topic))
    assert blueprint_of(made) == tuple(ordered)
    assert len({each.text for each in made}) == len(made)
    assert all(each.level <= level for each in made)
    assert chosen.questions() == made


def follow(refusal, chosen):
    """Do what a refusal says; it must then be met, or something else be refused."""
    row = next(each for each in chosen.blueprint if each.topic == refusal.argument)
    assert str(row) in str(refusal)
    marks = re.search(r"Use (\d+)\D.*marks", str(refusal))
    if marks is None:
        return
    better = BlueprintRow(row.topic, row.count, int(marks[1]), row.harder)
    made = QuestionSet(chosen.seed, level=chosen.level, blueprint=(better,)).questions()
    assert blueprint_of(made) == (better,)


def test_an_impossible_row_is_named_with_what_is_given_and_what_is_possible():
    cases = [
        (BlueprintRow("tests", 3, 20), "Use 3 to 6 marks for so many questions."),
        (BlueprintRow("tests", 3, 5, 1), "not so many can be harder. Use 0 harder."),
        (BlueprintRow("rule and bench", 2, 4), "no questions have this topic for 14 to 16 years"),
    ]
    for row, said in cases:
        with pytest.raises(InputError) as refused:
            QuestionSet(3, level=14, blueprint=(row,)).questions()
        assert str(row) in str(refused.value)
        assert said in str(refused.value)
        assert refused.value.argument == row.topic
    many = BlueprintRow("words", 90, 120)
    with pytest.raises(InputError, match=r"Use at most \d+ questions on this topic"):
        QuestionSet(3, level=14, blueprint=(many,)).questions()


@pytest.mark.parametrize(
    ("numbers", "named"),
    [
        ((0, 1, 0), "questions"),
        ((2, 0, 0), "marks"),
        ((2, 3, 3), "harder"),
        ((2.5, 3, 0), "questions"),
    ],
)
def test_a_row_of_odd_numbers_is_refused(numbers, named):
    with pytest.raises(InputError, match=f"tests, {named}"):
        BlueprintRow("tests", *numbers)


def test_a_blueprint_is_kept_in_the_link_and_a_bad_one_left_out_with_a_sentence():
    chosen = QuestionSet(
        5, level=16, blueprint=(BlueprintRow("what is left", 2, 3), BlueprintRow("tests", 3, 5))
    )
    assert chosen.count == 5
    assert chosen.topics == ("what is left", "tests")
    assert "blueprint=what%20is%20left:2:3:0;tests:3:5:0" in write_set(chosen)
    again, remarks = read_set(write_set(chosen))
    assert (again, remarks) == (chosen, [])
    plain, remarks = read_set("?set=5&level=14&blueprint=tests:3:50:0")
    assert plain.blueprint == ()
    assert "3 questions, 0 harder, 50 marks" in remarks[0]
    for bad in ("cooking:1:1:0", "tests:1:1", "tests:x:1:0", "tests:1:1:0:9", "tests:-1:1:0"):
        kept, remarks = read_blueprint(f"{bad};charts:1:1:0")
        assert [row.topic for row in kept] == ["charts"]
        assert len(remarks) == 1
    assert write_blueprint(read_blueprint("tests:2:3:0;tests:9:9:9")[0]) == "tests:2:3:0"


def test_harder_is_what_is_of_the_higher_level_or_worth_four_marks():
    harder = {name: is_harder(another(name, 1)) for name in MAKERS}
    assert harder["mole ratio"]  # level 16, two marks
    assert harder["carbon or copper"]  # level 14, four marks
    assert not harder["charge"]
    for name, is_hard in harder.items():
        question = another(name, 1)
        assert is_hard == (question.level == 16 or question.marks >= 4)


def test_of_questions_that_fit_the_first_of_the_set_are_taken():
    row = BlueprintRow("drift", 3, 3)
    made = QuestionSet(7, level=14, blueprint=(row,)).questions()
    assert made == questions_of_topic("drift", 7)[:3]


def questions_of_topic(topic, seed):
    return different_questions(
        seed, 10, topic=topic, level=14, strict=False, wording=None, edition=EDITION
    )


def test_versions_of_a_planned_paper_stay_parallel_within_a_mark_in_every_part():
    plan = (
        BlueprintRow("products", 3, 8, 1),
        BlueprintRow("quantities", 4, 14, 3),
        BlueprintRow("half-equations", 3, 5),
    )
    first = by_demand(QuestionSet(4, level=16, blueprint=plan).questions())
    second = parallel(first, 1)
    for one, other in zip(first, second, strict=True):
        for a, b in zip(marks_by_part(one), marks_by_part(other), strict=True):
            assert abs(a - b) <= 1
        assert is_harder(one) == is_harder(other) or abs(one.marks - other.marks) == 1
    assert sum(one.text == other.text for one, other in zip(first, second, strict=True)) <= 1


def test_a_paper_asks_nothing_twice_with_another_solution_where_it_can_do_without():
    """Two charges of two and three marks would be the same question with other numbers."""
    for seed in range(30, 34):
        for row in (
            BlueprintRow("quantities", 2, 5),
            BlueprintRow("observations", 2, 2),
            BlueprintRow("words", 2, 2),
        ):
            made = QuestionSet(seed, level=14, blueprint=(row,)).questions()
            assert len({each.maker for each in made}) == len(made), (seed, row)
