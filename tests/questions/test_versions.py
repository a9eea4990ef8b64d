"""Versions of a paper: the same blueprint, other questions, in order of demand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from fizzplate.questions.makers import MAKERS
from fizzplate.questions.sets import another, questions
from fizzplate.questions.versions import by_demand, marks_by_part, parallel


@pytest.mark.parametrize("level", [14, 16])
def test_versions_are_parallel_within_a_mark_in_every_part(level):
    first = by_demand(questions(seed=5, count=20, level=level))
    second = parallel(first, 1)
    third = parallel(first, 2, unlike=second)
    for version in (second, third):
        for one, other in zip(first, version, strict=True):
            assert (one.maker, one.kind) == (other.maker, other.kind)
            for a, b in zip(marks_by_part(one), marks_by_part(other), strict=True):
                assert abs(a - b) <= 1
            assert abs(one.marks - other.marks) <= 1
        same = sum(one.text == other.text for one, other in zip(first, version, strict=True))
        assert same <= 2
        assert abs(sum(q.marks for q in first) - sum(q.marks for q in version)) <= 2
    repeated = {each.text for each in second} & {each.text for each in third}
    assert len(repeated - {each.text for each in first}) == 0


def test_a_version_is_the_same_for_everyone():
    first = questions(seed=5, count=6)
    assert parallel(first, 1) == parallel(first, 1) != parallel(first, 2)


def test_the_same_marks_in_every_part_come_before_marks_that_are_one_apart():
    """Of makers whose marks differ from draw to draw."""
    for maker in ("in parts", "yield", "mass"):
        for seed in range(4):
            one = another(maker, seed)
            assert marks_by_part(parallel([one], 1)[0]) == marks_by_part(one)


def test_what_no_maker_can_ask_again_stays():
    own = replace(another("gas test", 1), maker="imported")
    assert parallel([own], 1) == [own]


def test_easy_questions_come_first():
    ordered = by_demand(questions(seed=9, count=25, level=16))
    demands = [(each.level, each.marks) for each in ordered]
    assert demands == sorted(demands)
    assert len(set(demands)) > 3
    assert len(MAKERS) > 25


def test_a_version_reads_another_chart_where_the_words_are_the_same():
    gradients = [
        one
        for seed in range(12)
        for one in [another("current from a chart", seed)]
        if "gradient" in one.text
    ]
    assert len(gradients) > 3
    for one in gradients:
        (other,) = parallel([one], 1)
        assert other.chart != one.chart
