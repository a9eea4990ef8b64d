"""Units in every spelling, and figures: what they cost, and when."""

from __future__ import annotations

import math
import re
import sys
from dataclasses import replace
from pathlib import Path

import pint
import pytest

from fizzplate.lesson.measure.calculation_steps import significant
from fizzplate.questions.calculations.derivations import ProductAmount
from fizzplate.questions.calculations.gases import gas_at_room, ratio
from fizzplate.questions.calculations.ions import mole_ratio
from fizzplate.questions.calculations.products import COPPER
from fizzplate.questions.calculations.quantities import Coulombs, Duration, Flow, Product
from fizzplate.questions.calculations.single_answer import (
    current_for_charge,
    made_by_charge,
    time_for_charge,
    two_steps,
)
from fizzplate.questions.content import Part
from fizzplate.questions.marking.unit_spellings import UNITS
from fizzplate.questions.question_types import NumberQuestion

sys.path.insert(0, str(Path(__file__).parent))
from number_cases import (
    every_maker,
    made_by,
    typed,
    volume,
)  # beside this file


@every_maker
def test_a_missing_unit_costs_a_mark_only_where_the_teacher_is_strict(name):
    for question in made_by(name)[:40]:
        bare = "; ".join(part.answer.removesuffix(f" {part.unit}") for part in question.parts)
        gentle, strict = question.mark(bare), replace(question, strict=True).mark(bare)
        assert gentle.earned == question.marks
        with_unit = [part for part in question.parts if part.unit]
        assert all(f"Give the unit: {part.unit}" in gentle.remark for part in with_unit)
        assert strict.earned == question.marks - sum(len(part.steps) > 1 for part in with_unit)
        assert replace(question, strict=True).mark(question.answer).earned == question.marks


@every_maker
def test_too_many_figures_cost_a_mark_only_where_the_teacher_is_strict(name):
    for question in made_by(name)[:40]:
        # a ninth of a millionth more fills the places; it changes nothing else
        long = "; ".join(f"{part.value * 1.00000011:.9f} {part.unit}" for part in question.parts)
        gentle, strict = question.mark(long), replace(question, strict=True).mark(long)
        assert gentle.earned == question.marks
        assert "more figures than the data allow" in gentle.remark
        assert strict.earned == question.marks - sum(len(part.steps) > 1 for part in question.parts)


@every_maker
def test_two_figures_are_enough_and_one_is_too_few(name):
    tried = 0
    for question in made_by(name):
        for k, part in enumerate(question.parts):
            two = significant(part.value, 2)
            if not re.fullmatch(r"\d+0", two):  # whose last nought might only fill its place
                marked = question.mark(typed(question, {k: f"{two} {part.unit}"}))
                assert marked.earned == question.marks, (question.text, two)
            one = float(f"{part.value:.0e}")
            if abs(one - part.value) <= part.tolerance * part.value:
                continue
            shown = f"{one:.12g}"
            # earlier parts unrounded: this one follows from them as from nothing else
            earlier = {
                j: f"{each.value:.9g} {each.unit}" for j, each in enumerate(question.parts[:k])
            }
            marked = question.mark(typed(question, earlier | {k: f"{shown} {part.unit}"}))
            # its nought may be a figure, and a half may be rounded either way
            half = 0.05000001 * 10 ** math.floor(math.log10(part.value))
            right = re.fullmatch(r"\d+0", shown) and abs(one - part.value) <= half
            assert marked.earned == question.marks - (0 if right else 1)
            assert right or any("Rounded too far" in line.reason for line in marked.lines)
            tried += 1
    assert tried > 50 or name == "charge number"


def test_noughts_of_a_whole_number_may_be_figures():
    part = Part(19.5, "min", ("Time in seconds.", "Time: t = 19.5 min."))
    question = NumberQuestion("time", "quantities", 16, "How long?", "", parts=(part,))
    assert question.mark("20 min").earned == 2
    part = replace(part, value=17.0)
    question = replace(question, parts=(part,))
    assert question.mark("20 min").earned == 1
    assert question.mark("2 x 10^1 min").earned == 1


def test_seconds_without_a_unit_are_taken_for_minutes():
    question = time_for_charge(300.0, 0.25)
    assert [line.earned for line in question.mark("1200").lines] == [True, False]


@pytest.mark.parametrize(
    ("text", "earned"),
    [
        ("1200 s = 20 min 0 s", 2),
        *((text, 2) for text in ("20 min 0 s", "20 minutes and 2 seconds")),
        *((text, 1) for text in ("1,200 s", "1.2 × 10³ s", "1200 seconds")),
        *((text, 2) for text in ("20 min", "20 minutes", "20.0", "２０ min")),
    ],
)
def test_seconds_are_not_yet_the_minutes_that_are_asked_for(text, earned):
    question = time_for_charge(300.0, 0.25)
    assert question.marks == 2
    assert question.mark(text).earned == earned


@pytest.mark.parametrize(
    ("text", "earned"),
    [("5.41 cm³", 4), ("0.00541 dm3", 4), ("5.41e-6 m3", 3), ("5.41 x 10^-6 m^3", 3)],
)
def test_the_result_of_the_step_before_is_not_yet_the_answer(text, earned):
    question = gas_at_room(Coulombs(43), Product("H2", "H+", "hydrogen"), 18, 99.6)
    assert question.marks == 4
    assert question.mark(text).earned == earned


def test_a_working_shows_two_steps_with_the_same_result_only_by_saying_it_twice():
    nickel, zinc = Product("Ni", "Ni2+", "nickel"), Product("Zn", "Zn2+", "zinc")
    question = two_steps(ProductAmount(nickel, 80.0, "mg"), zinc, "g")
    earned = [
        question.mark(text).earned
        for text in ("0.08 / 58.7 = 0.00136 mol", "0.08/58.7 = 0.00136, 0.00136 x 65.4 = 0.1 g")
    ]
    assert earned == [1, 3]


@pytest.mark.parametrize(
    ("text", "earned"), [("48", 0), ("24 cm3", 0), ("12 cm3", 2), ("half of 24", 1)]
)
def test_a_wrong_ratio_of_gases_earns_nothing(text, earned):
    question = ratio(Product("H2", "H+", "hydrogen"), 24, Product("O2", "OH-", "oxygen"))
    assert question.mark(text).earned == earned


@pytest.mark.parametrize(
    ("text", "earned"),
    [("0.0072 mol", 0), ("0.0036 mol", 0), ("0.0018", 2), ("0.0036 x 2 = 0.0072 mol", 1)],
)
def test_a_wrong_ratio_of_moles_earns_nothing_but_what_is_shown(text, earned):
    question = mole_ratio(Product("H2", "H+", "hydrogen"), 0.0036, Product("O2", "OH-", "oxygen"))
    assert question.mark(text).earned == earned


@pytest.mark.parametrize("text", ["79 mg", "79.0 mg", "7.9 × 10⁻² g", "0,079 g", "0.000079 kg"])
def test_a_mass_may_be_given_in_another_unit(text):
    question = made_by_charge(Flow(0.2, 20), COPPER, "g")
    assert question.mark(text).earned == question.marks == 4
    strict = replace(question, strict=True).mark(text)
    assert strict.earned == (4 if text.endswith(" g") else 3)


def test_milligrams_called_grams_cost_the_last_step():
    question = made_by_charge(Flow(0.2, 20), COPPER, "g")
    assert [line.earned for line in question.mark("79 g").lines] == [True, True, True, False]
    assert "thousand times too large" in question.mark("79 g").lines[-1].reason


def test_milliamperes_are_read_for_a_current():
    question = current_for_charge(300.0, Duration(20, "min"))
    assert question.mark("250 mA").earned == question.mark("0.25 A").earned == 2
    assert [line.earned for line in question.mark("15 A").lines] == [False, True]


@pytest.mark.parametrize(
    "text",
    ["0.02717 litre", "0.0272 L", "2.717e+04 mm3", "2.717e-05 m3", "27.2 cc", "0.0272 dm³ of gas"],
)
def test_a_volume_in_another_unit_is_converted_before_slips_are_looked_for(text):
    marked = volume().mark(text)
    assert marked.earned == 5
    assert not any("mixed up" in line.reason for line in marked.lines)
    wrong = volume().mark(text.replace("2", "4"))
    assert wrong.earned == 0


def test_units_mixed_up_are_still_a_near_miss():
    assert [line.earned for line in volume().mark("0.0272 cm3").lines] == [True] * 4 + [False]


@pytest.mark.parametrize(
    ("unit", "text"),
    [
        ("min", "0.5 hours"),
        ("min", "0.5 hr"),
        ("s", "0.5 min"),
        ("A", "0.0005 kA"),
        ("A", "500000 μA"),
        ("V", "500 mV"),
        ("kg", "500 grams"),
        ("mol", "500 mmol"),
        ("C", "0.5 kilocoulombs"),
        ("C/mol", "0.5 kC/mol"),
        ("C/mol", "0.5 C mol⁻¹"),
        ("dm³", "500 millilitres"),
        ("%", "0.5 per cent"),
    ],
)
def test_units_of_every_quantity_are_known(unit, text):
    sizes = {
        "0.5 hours": 30,
        "0.5 hr": 30,
        "0.5 min": 30,
        "0.5 kilocoulombs": 500,
        "0.5 kC/mol": 500,
    }
    part = Part(sizes.get(text, 0.5), unit, ("Step.", "Step."))
    question = NumberQuestion("unit", "quantities", 16, "?", "", parts=(part,))
    marked = question.mark(text)
    assert marked.earned == 2
    assert "not a unit" not in marked.remark


@pytest.mark.parametrize("unit", ["J", "g", "bananas", "s", "cm3 s", "cm²"])
def test_a_unit_of_another_quantity_is_told_and_costs_where_the_teacher_is_strict(unit):
    said = f"{unit.replace('²', '^2')} is not a unit of this quantity: cm³ is asked for."
    gentle, strict = volume().mark(f"27.2 {unit}"), volume(strict=True).mark(f"27.2 {unit}")
    assert gentle.earned == 5
    assert gentle.remark == said
    assert [line.earned for line in strict.lines] == [True] * 4 + [False]
    assert strict.lines[-1].reason == said


def test_of_a_single_step_another_quantity_costs_the_mark_and_a_missing_unit_does_not():
    part = Part(27.17, "cm³", ("Read.",))
    question = replace(volume(strict=True), parts=(part,))
    assert question.mark("27.2 J").earned == 0
    assert question.mark("27.2").earned == question.mark("27.2 cm3").earned == 1
    assert replace(question, strict=False).mark("27.2 J").earned == 1


@pytest.mark.parametrize("unit", ["C", "A", "g", "mol", "cm³", "s", "min"])
def test_spellings_of_units_mean_what_the_package_pint_says(unit):
    """Those that pint knows in small letters; the others are abbreviations of schools."""
    known, agree = pint.UnitRegistry(), 0
    of_unit = getattr(known, unit.replace("³", "") if unit == "cm³" else unit)
    wanted = of_unit**3 if unit == "cm³" else of_unit
    for spelling, size in UNITS[unit].items():
        try:
            pint_says = known(spelling).to(wanted).magnitude
        except (pint.UndefinedUnitError, pint.DimensionalityError):
            continue
        assert size == pytest.approx(pint_says), spelling
        agree += 1
    assert agree >= 4


def test_volumes_are_powers_of_ten_of_each_other():
    for spelling, cm3 in {
        "cl": 10,
        "ml": 1,
        "dm3": 1000,
        "l": 1000,
        "m3": 1e6,
        "mm3": 1e-3,
    }.items():
        assert UNITS["cm³"][spelling] == pytest.approx(cm3)
