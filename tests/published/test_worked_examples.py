"""Worked examples of OpenStax, Chemistry 2e, asked as questions: the printed answers earn every mark.

Section 17.7 (examples 17.9 and 17.10), exercises of chapters 17 (46) and 18 (27); CC BY edition of
February 2026. The book rounds between its steps, so its last digit may be one off.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.questions.plain_spaces import with_plain_spaces

from fizzplate.questions.calculations.multi_part import (
    efficiency,
    in_parts,
    melt_mass,
    plating_time,
)
from fizzplate.questions.calculations.products import (
    ALUMINIUM,
    BROMINE,
    CALCIUM,
    CHLORINE,
    CHROMIUM,
    MAGNESIUM,
    SILVER,
)
from fizzplate.questions.calculations.quantities import Coulombs, Flow, Product

THREE_FIGURES = 0.005  # the book prints three figures or more
TWO_FIGURES = 0.015

SILVER_PLATED = in_parts(
    Flow(10.23, 1, "h"), SILVER, "g", part_names=("charge", "electrons", "end"), figures=4
)
ALUMINIUM_MADE = in_parts(Flow(25.0, 15.0), ALUMINIUM, "g", part_names=("moles", "end"))
CHROMIUM_LAYER = plating_time(CHROMIUM, (0.010, "mm"), (3.3, "m²"), 7.19, 33.46)
CALCIUM_MELT = melt_mass(Coulombs(3.33e5, power=True), CALCIUM, CHLORINE, "g")
CHROMIUM_MELT = melt_mass(Coulombs(3.33e5, power=True), CHROMIUM, BROMINE, "g")
MAGNESIUM_WORKS = efficiency(Flow(1e5, 1.00, "h"), MAGNESIUM, "kg", 85)

PRINTED = {
    "example 17.9": (SILVER_PLATED, "36 830 C; 0.3817 mol; 41.19 g", THREE_FIGURES),
    "example 17.9, check": (ALUMINIUM_MADE, "0.0777 mol; 2.10 g", THREE_FIGURES),
    "example 17.10": (CHROMIUM_LAYER, "237 g; 1.32 × 10⁶ C; 3.95 × 10⁴ s", THREE_FIGURES),
    "exercise 46 (a)": (CALCIUM_MELT, "69.1 g; 122 g", THREE_FIGURES),
    "exercise 46 (d)": (CHROMIUM_MELT, "59.8 g; 276 g", THREE_FIGURES),
    "chapter 18, exercise 27": (MAGNESIUM_WORKS, "39 kg", TWO_FIGURES),
}
printed_examples = pytest.mark.parametrize("example", list(PRINTED))


def numbers(answer):
    """Read printed answers, without their units."""
    plain = answer.replace("36 830", "36830").replace(" × 10⁶", "e6").replace(" × 10⁴", "e4")
    return [float(each.split()[0]) for each in plain.split("; ")]


@printed_examples
def test_answers_are_those_that_are_printed(example):
    question, answer, tolerance = PRINTED[example]
    found = [part.value for part in question.parts]
    assert found == pytest.approx(numbers(answer), rel=tolerance)


@printed_examples
def test_the_printed_answer_earns_every_mark(example):
    question, answer, _ = PRINTED[example]
    for judged in (question, replace(question, strict=True)):
        marked = judged.mark(answer)
        assert marked.earned == judged.marks, marked
        assert marked.remark == ""


def test_the_questions_give_what_the_book_gives():
    assert "a current of 10.23 A flows for 1.00 hour" in with_plain_spaces(SILVER_PLATED.text)
    assert "a current of 25.0 A flows for 15.0 minutes" in with_plain_spaces(ALUMINIUM_MADE.text)
    assert "chromium, 0.0100 mm thick, is to cover 3.30 m²" in with_plain_spaces(
        CHROMIUM_LAYER.text
    )
    assert "7.19 g/cm³" in with_plain_spaces(CHROMIUM_LAYER.text)
    assert "33.46 A" in with_plain_spaces(CHROMIUM_LAYER.parts[2].prompt)
    assert "a charge of 3.33 × 10⁵ C passes" in with_plain_spaces(CALCIUM_MELT.text)
    assert "a current of 100 000 A flows for 1.00 hour" in with_plain_spaces(MAGNESIUM_WORKS.text)
    assert "85.0 %" in with_plain_spaces(MAGNESIUM_WORKS.text)


def test_a_wrong_number_of_electrons_does_not_earn_them():
    """Two electrons for aluminium: the step of the electrons is lost, and what follows from it is not."""
    marked = ALUMINIUM_MADE.mark("0.117 mol; 3.15 g")
    assert marked.earned == ALUMINIUM_MADE.marks - 1
    lost = [line.reason for line in marked.lines if not line.earned]
    assert lost == ["(a) 3 electrons pass for each atom of aluminium, not 2."]
    wrong = in_parts(
        Flow(25.0, 15.0), Product("Al", "Al2+", "aluminium"), "g", part_names=("moles", "end")
    )
    with pytest.raises(AssertionError):
        assert wrong.mark("0.0777 mol; 2.10 g").earned == wrong.marks


def test_the_whole_charge_does_not_earn_the_part_that_is_lost():
    marked = MAGNESIUM_WORKS.mark("45.3 kg")
    assert [line.earned for line in marked.lines].count(False) == 1
    assert any("Only 85 % of the charge" in with_plain_spaces(line.reason) for line in marked.lines)
