"""Sets of questions as links tell of them, and sets that follow one another."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fizzplate.lesson import Wording
from fizzplate.questions.set_state import STYLES, QuestionSet, read_set, write_set
from fizzplate.questions.sets import TOPICS
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
    style=st.sampled_from(STYLES),
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
