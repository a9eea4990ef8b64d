"""Sets of questions as links tell of them, and sets that follow one another."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.views.parts import control

from fizzplate.lesson import Wording
from fizzplate.questions.set_state import STYLES, QuestionSet, read_set, write_set
from fizzplate.questions.sets import LEVELS, MAKERS, TOPICS, questions
from fizzplate.views.pages.revise import Revise
from fizzplate.views.quiz.quiz import Quiz
from fizzplate.words.refusals import InputError

WORDINGS = st.builds(
    Wording,
    oxygen_from=st.sampled_from(["OH-", "H2O"]),
    states=st.booleans(),
    electrode_names=st.sampled_from(["cathode", "negative", "both"]),
)
SETS = st.builds(
    QuestionSet,
    seed=st.integers(0, 999_999),
    count=st.integers(1, 100),
    topics=st.lists(st.sampled_from(TOPICS), unique=True).map(tuple),
    level=st.sampled_from([14, 16]),
    style=st.sampled_from(tuple(STYLES)),
    minutes=st.integers(1, 180),
    strict=st.booleans(),
    wording=WORDINGS,
)


@given(SETS)
def test_a_link_carries_a_whole_set(question):
    found, said = read_set(write_set(question))
    kept = (
        found
        if question.style == "clock"
        else QuestionSet(**{**fields(found), "minutes": question.minutes})
    )
    assert (kept, said) == (question, [])


def fields(question):
    return {name: getattr(question, name) for name in QuestionSet.__slots__}


@given(st.text(max_size=300))
def test_any_link_gives_a_set_and_sentences(query):
    found, said = read_set(query)
    assert isinstance(found, QuestionSet)
    assert all(sentence.endswith(".") for sentence in said)


@pytest.mark.parametrize("level", [14, 16])
def test_an_hour_of_sets_that_follow_one_another_never_asks_twice(level):
    texts = [
        question.text
        for seed in range(12, 18)
        for question in QuestionSet(seed=seed, count=20, level=level).questions()
    ]
    assert len(texts) == 120
    assert len(set(texts)) == 120


@pytest.mark.parametrize(
    ("given", "words"),
    [({"minutes": 0}, "minutes"), ({"style": "exam"}, "style"), ({"count": 2.5}, "whole number")],
)
def test_what_is_not_offered_is_refused(given, words):
    with pytest.raises(InputError, match=words):
        QuestionSet(**given)


def test_menus_offer_every_level_and_style_of_a_set_and_begin_with_the_sets_own():
    page = Revise().widget
    level, style, minutes = (control(page, label) for label in ("Level", "Asked", "Minutes"))
    assert [value for _, value in level.options] == list(LEVELS)
    assert [value for _, value in style.options] == list(STYLES)
    usual, quiz = QuestionSet(), Quiz.class_traits()
    assert (level.value, style.value, minutes.value) == (
        usual.level,
        usual.style,
        str(usual.minutes),
    )
    assert quiz["quiz_style"].default() == usual.style
    assert quiz["minutes"].default() == usual.minutes


def test_a_set_does_not_ask_beside_a_question_in_parts_what_one_of_its_parts_asks():
    """A paper that purifies copper in parts asks no second percentage of copper."""
    seen = 0
    for seed in range(40):
        made = questions(seed=seed, count=12, topics=["applications"], level=16)
        names = {each.maker for each in made}
        for each in made:
            seen += bool(MAKERS[each.maker].holds)
            assert not names & set(MAKERS[each.maker].holds), (seed, names)
            asked = {part.text for part in each.sections}
            assert not asked & {other.text for other in made}
    assert seen > 20
    assert all(held in MAKERS for each in MAKERS.values() for held in each.holds)
