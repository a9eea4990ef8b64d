"""Numbers as learners type them, among words and signs; and what is not one number."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import pytest

from fizzplate.questions.calculations.derivations import ProductAmount
from fizzplate.questions.calculations.multi_part import in_parts
from fizzplate.questions.calculations.products import COPPER, NICKEL
from fizzplate.questions.calculations.quantities import Flow
from fizzplate.questions.calculations.single_answer import (
    charge,
    made_by_charge,
    percentage_yield,
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
    ],
)
def test_fractions_are_read(text, value):
    part = Part(value or 0.5, "", ("Step.", "Step."))
    question = NumberQuestion("part", "quantities", 16, "?", "", parts=(part,))
    assert question.mark(text).earned == (0 if value is None else 2)
    other = replace(part, value=1.37 * part.value)
    assert replace(question, parts=(other,)).mark(text).earned == 0


@pytest.mark.parametrize(
    ("text", "earned"),
    [
        ("0.5 x 1800 = 900 C, /96500 = 0.00933, /2 = 0.00466, x 63.5 = 0.296", 4),
        (
            "Q = It = 0.5 × 1800 = 900 C; n(e) = 900/96500 = 0.00933 mol; n(Cu) = 0.00466 mol; m = 0.296 g",
            4,
        ),
        ("t = 1800 s", 0),
        ("Q = 0.5 x 1800 = 900 C", 1),
        ("0.5 A x 1800 s", 0),
        ("900/96500 = 0.00933 mol", 2),
        ("0.00933 mol ÷ 2 = 0.00466 mol", 3),
        ("0.00466 x 63.5", 3),
        ("0.00933 x 63.5 = 0.592 g", 3),
        ("0.5 x 30 = 15 C, 15/96500 = 1.55e-4, /2 = 7.77e-5, x 63.5 = 0.00494 g", 3),
        ("900 kg", 0),
        ("m = 0.296 or 0.592", 0),
        ("5 g", 0),
    ],
)
def test_each_result_of_a_working_earns_the_marks_up_to_it(text, earned):
    question = made_by_charge(Flow(0.5, 30), COPPER, "g")
    assert question.marks == 4
    marked = question.mark(text)
    assert marked.earned == earned, marked.lines


def test_what_is_written_and_not_worked_out_loses_the_last_mark():
    for text in ("0.5 x 1200", "half of 1200", "1200 ÷ 4 × 2"):
        lines = charge(Flow(0.5, 20)).mark(text).lines
        assert [line.earned for line in lines] == [True, False], text
        assert "work it out" in lines[-1].reason


def test_a_percentage_as_a_fraction_loses_the_last_mark():
    question = percentage_yield(Flow(0.2, 20), ProductAmount(COPPER, 71, "mg"))
    assert question.mark("0.899").earned == question.marks - 1
    assert question.mark("89.9 percent").earned == question.marks


IN_TWO = in_parts(Flow(0.2, 30), COPPER, "g", part_names=("electrons", "end"))


@pytest.mark.parametrize(
    "text",
    [
        "0.00373 mol; 0.118 g",
        "electrons: 0.00373 mol copper: 0.118 g",
        "n = 0.00373 mol, m = 0.118 g",
        "there are 0.00373 mol of electrons and the mass is 0.118 g",
        "0.00373\n0.118",
        "a) 0.00373 mol b) 0.118 g",
        "(a) 0.2 x 1800 = 360 C, 360/96500 = 0.00373 mol (b) 0.00373/2 x 63.5 = 0.118 g",
        "0.2 x 1800 = 360 C\n360/96500 = 0.00373 mol\n0.00373/2 = 0.00187\n0.00187 x 63.5 = 0.118 g",
    ],
)
def test_the_numbers_of_several_parts_may_be_parted_in_many_ways(text):
    assert IN_TWO.mark(text).earned == IN_TWO.marks == 4


@pytest.mark.parametrize("text", ["0.00373", "0.00373 0.118 0.5", "0.118 mol", "mol and g"])
def test_numbers_that_are_not_one_for_each_part_are_not_taken_for_them(text):
    assert IN_TWO.mark(text).earned < IN_TWO.marks


@pytest.mark.parametrize(
    "text",
    [
        "1.2 x 7200 = 8640 C -> 0.0895 mol e -> 0.0448 mol -> 2.63 g",
        "8640 C → 0.0895 mol → 0.0448 mol → 2.63 g",
        "8640 C, 0.0895 mol, 0.0448 mol, 2.63 g",
        "Q = 8640 C; 0.0895 mol; 0.0448 mol; 2.63 g",
        "8640/96500 = 0.0895. Ni: 0.0448. mass: 2.63 g",
        "8640 C\n0.0895 mol\n0.0448 mol\n2.63 g",
    ],
)
def test_a_working_may_be_a_list_of_results(text):
    question = made_by_charge(Flow(1.2, 2, "h"), NICKEL, "g")
    assert question.mark(text).earned == question.marks


@pytest.mark.parametrize("text", ["2.63 g, 5.25 g", "2.63 or 5.25", "5.25 g 2.63 g"])
def test_a_list_of_guesses_is_no_working(text):
    assert made_by_charge(Flow(1.2, 2, "h"), NICKEL, "g").mark(text).earned == 0
