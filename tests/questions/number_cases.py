"""Calculations of a hundred seeds by each maker, and how their answers are typed, for the tests beside."""

from __future__ import annotations

import pytest

from fizzplate.questions.calculations import makers as number_makers
from fizzplate.questions.calculations import multi_part_makers
from fizzplate.questions.content import NearMiss, Part
from fizzplate.questions.makers.registry import declared_in
from fizzplate.questions.question_types import NumberQuestion
from fizzplate.questions.random_source import RandomSource

SEEDS = range(100)
MAKERS = {
    each.name: each for module in (number_makers, multi_part_makers) for each in declared_in(module)
}
OF_SEVERAL = ("in parts", "mass from a melt", "plating time")

every_maker = pytest.mark.parametrize("name", list(MAKERS))


def made_by(name):
    return [MAKERS[name](RandomSource(seed)) for seed in SEEDS]


def typed(question, replaced=None):
    """Write the full answer, with other text for some of its parts."""
    answers = [part.answer for part in question.parts]
    for k, text in (replaced or {}).items():
        answers[k] = text
    return "; ".join(answers)


def marks_before(question, k):
    return sum(len(part.steps) for part in question.parts[:k])


def lines_of(question, answer, k):
    """Return the lines of one part."""
    begin = marks_before(question, k)
    return question.mark(answer).lines[begin : begin + len(question.parts[k].steps)]


def volume(strict=False):
    """Ask for 27.17 cm³ in five steps; a thousandth and a thousand times of it are slips of units."""
    said = "cm³ and dm³ were mixed up."
    part = Part(
        27.17,
        "cm³",
        ("Time.", "Charge.", "Electrons.", "Moles.", "Volume."),
        near_misses=(NearMiss(0.02717, (4,), said), NearMiss(27_170.0, (4,), said)),
    )
    return NumberQuestion("volume", "quantities", 16, "?", "", parts=(part,), strict=strict)
