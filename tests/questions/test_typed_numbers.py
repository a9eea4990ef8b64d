"""Numbers as learners type them, among words and signs; and what is not one number."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import pytest

from fizzplate.questions.calculations.quantities import Flow
from fizzplate.questions.calculations.single_answer import (
    charge,
)
from fizzplate.questions.content import Part
from fizzplate.questions.question_types import NumberQuestion

sys.path.insert(0, str(Path(__file__).parent))
from number_cases import (
    every_maker,
    made_by,
    volume,
)  # beside this file

WIDE = str.maketrans("0123456789.", "０１２３４５６７８９．")


@pytest.mark.parametrize(
    "text",
    [
        "1200 C",
        "1,200 C",
        "1 200 C",
        "1.2 × 10³ C",
        "1.2 x 10^3 coulombs",
        "1.2e3 C",
        "1,2 · 10³ C",
        "1.2 kC",
        "1200",
        "１２００ Ｃ",
        "1,200.0 C",
    ],
)
def test_a_charge_may_be_written_in_many_ways(text):
    question = charge(Flow(1.0, 20))
    assert question.mark(text).earned == question.marks == 2


@every_maker
def test_full_width_digits_are_read(name):
    for question in made_by(name)[:30]:
        assert question.mark(question.answer.translate(WIDE)).earned == question.marks


@pytest.mark.parametrize(
    "text",
    [
        "V = 27.2 cm3",
        "= 27.2",
        "≈ 27.2 cm³",
        "about 27.2 cm3",
        "~27.2",
        "27.2.",
        "27.2 cm3.",
        "(27.2 cm3)",
        "27.2 (cm³)",
        "the answer is 27.2",
        "V(H2) = 0.5 × 54.4 = 27.2 cm³",
        "the volume of H2 is 27.2 cm^3",
        "27.2 cm3 of hydrogen, H2",
        "27.2 cm³ (3 s.f.)",
        "2.72 × 10¹ cm³",
        "2.717e+01 cm3",
        "27.2 cm 3",
        "54.4/2 cm3",
        "27⅙ cm³",
        "27 1/6 cm³",
    ],
)
def test_a_right_number_is_found_among_words_and_signs(text):
    marked = volume().mark(text)
    assert marked.earned == 5, marked
    assert "not a unit" not in marked.remark
    if "cm" in text:
        assert volume(strict=True).mark(text).earned == 5


@pytest.mark.parametrize(
    "text",
    [
        "27.2 or 500",
        "500 or 27.2",
        "27.2 33",
        "27.2 cm3 500 cm3",
        "27.2 cm3, 500 cm3",
        "27.2 - 500",
        "27.2,500,1",
        "V = 500 or V = 27.2",
        "27 1700",
    ],
)
def test_two_numbers_are_not_one_answer(text):
    marked = volume().mark(text)
    assert marked.earned == 0
    assert {line.reason for line in marked.lines} == {"Give one number."}


@pytest.mark.parametrize("text", ["", "none", "27.2/0", "/", "=", "H2", "cm3"])
def test_where_no_number_is_it_is_said(text):
    assert {line.reason for line in volume().mark(text).lines} == {"No number could be read."}


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("½", 0.5),
        ("¼", 0.25),
        ("¾ ", 0.75),
        ("1/2", 0.5),
        ("2½", 2.5),
        ("12½", 12.5),
        ("2 ½", 2.5),
        ("2 1/2", 2.5),
        ("-2½", -2.5),
        ("1:2", 0.5),
        ("2 : 1", 2.0),
        ("96 500/193 000", 0.5),
        ("2 x 1000/4000", None),
    ],
)
def test_fractions_are_read(text, value):
    part = Part(value or 0.5, "", ("Step.", "Step."))
    question = NumberQuestion("part", "quantities", 16, "?", "", parts=(part,))
    assert question.mark(text).earned == (0 if value is None else 2)
    other = replace(part, value=1.37 * part.value)
    assert replace(question, parts=(other,)).mark(text).earned == 0
