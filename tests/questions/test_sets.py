"""Sets of questions: full, without repetition, within topics and level, the same on every processor."""

from __future__ import annotations

import hashlib
import sys
from dataclasses import asdict
from pathlib import Path

import pytest

from fizzplate.questions.sets import MAKERS, TOPICS, questions
from fizzplate.words.refusals import InputError

sys.path.insert(0, str(Path(__file__).parent))
from question_checks import BOARDS  # beside this file


def _comparison_key(question):
    """What two questions of a set must not share: of a list the answer is only numbers."""
    return question.maker, question.comparison_key, question.chart


@pytest.mark.parametrize("level", [14, 16])
def test_a_set_never_asks_the_same_twice(level):
    for seed in range(15):
        whole_set = questions(seed=seed, count=30, level=level)
        assert len(whole_set) == 30
        assert len({question.text for question in whole_set}) == 30
        assert len({_comparison_key(question) for question in whole_set}) == 30


@pytest.mark.parametrize("topic", TOPICS)
def test_a_set_of_one_topic_is_full_and_never_asks_the_same_twice(topic):
    for seed in range(3):
        whole_set = questions(seed=seed, count=10, topics=[topic])
        assert len(whole_set) == 10
        assert len({question.text for question in whole_set}) >= 9
        assert len({(question.text, question.answer) for question in whole_set}) == 10


def test_a_set_goes_through_the_makers_before_it_comes_back_to_one():
    whole_set = questions(seed=8, count=40)
    assert len({question.maker for question in whole_set}) == 40


def test_a_set_is_the_same_for_everyone():
    assert questions(seed=11, count=30) == questions(seed=11, count=30)
    assert questions(seed=12, count=30) != questions(seed=11, count=30)


def test_the_first_questions_of_a_longer_set_are_those_of_the_shorter():
    assert questions(seed=3, count=40)[:10] == questions(seed=3, count=10)


def test_topics_and_level_are_kept_to():
    for topic in TOPICS:
        for question in questions(seed=2, count=3, topics=[topic], level=16):
            assert question.topic == topic == MAKERS[question.maker].topic
    two = questions(seed=2, count=12, topics=["tests", "charts"])
    assert {question.topic for question in two} == {"tests", "charts"}
    assert all(question.level == 14 for question in questions(seed=4, count=20, level=14))


def test_strictness_goes_with_every_question_for_numbers():
    for strict in (True, False):
        whole_set = questions(seed=1, count=10, topics=["quantities"], strict=strict)
        numbers = [each for each in whole_set if each.kind == "number"]
        assert len(numbers) > 4
        assert all(each.strict is strict for each in numbers)


@pytest.mark.parametrize(
    ("options", "words"),
    [
        ({"topics": ["cooking"]}, "topics"),
        ({"level": 12}, "level"),
        ({"count": 0}, "count"),
        ({"seed": -1}, "seed"),
        ({"topics": ["rule and bench"], "level": 14}, "level 14"),
    ],
)
def test_what_is_not_offered_is_refused(options, words):
    with pytest.raises(InputError, match=words):
        questions(**{"seed": 1, **options})


def _digest(wording):
    whole = questions(seed=11, count=60, wording=wording)
    plain = [_whole_question(each) for each in whole]
    return hashlib.sha256(repr(plain).encode()).hexdigest()[:16]


def _whole_question(question):
    """Everything that a question of any type holds, in one order."""
    held = asdict(question) | {
        "kind": question.kind,
        "marks": question.marks,
        "answer": question.answer,
    }
    if "task" in held:
        held["task"] = str(question.task)
    none = {"options": (), "parts": (), "points": (), "task": None, "strict": False}
    names = (
        *("maker", "topic", "level", "text", "kind", "marks", "answer", "why"),
        *("options", "parts", "points", "task", "chart", "watch", "strict"),
    )
    return {name: (none | held)[name] for name in names}


def test_questions_are_those_that_were_stored():
    assert (_digest(None), _digest(BOARDS["water, minus, states, signs, dilute"])) == DIGESTS


DIGESTS = ("93e550181496a930", "d1a282ed6733ecbf")
