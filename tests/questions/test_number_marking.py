"""Calculations marked as an examiner would: near misses, errors carried forward, units and figures."""

from __future__ import annotations

import re
import sys
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pint
import pytest

from fizzplate.lesson.measure.calculation_steps import significant
from fizzplate.questions.calculations.multi_part import in_parts, melt_mass, plating_time
from fizzplate.questions.calculations.products import COPPER, HYDROGEN, SILVER
from fizzplate.questions.calculations.quantities import Coulombs, Flow, Lasting, Made
from fizzplate.questions.calculations.single_answer import (
    charge,
    current_for_charge,
    made_by_charge,
    time_for_charge,
)
from fizzplate.questions.calculations.targets import LOSSES
from fizzplate.questions.content import NearMiss, Part
from fizzplate.questions.marking.unit_spellings import UNITS
from fizzplate.questions.question_types import NumberQuestion

sys.path.insert(0, str(Path(__file__).parent))
from number_cases import (
    OF_SEVERAL,
    every_maker,
    lines_of,
    made_by,
    marks_before,
    typed,
)  # beside this file
from number_reader import ELECTRONS

WIDE = str.maketrans("0123456789.", "０１２３４５６７８９．")


# near misses


@every_maker
def test_near_misses_lose_the_marks_of_their_steps_and_no_others(name):
    seen = 0
    for asked in made_by(name):
        for k, part in enumerate(asked.parts):
            for miss in part.near_misses:
                answer = typed(asked, {k: f"{miss.value:.5g} {part.unit}"})
                marked = asked.mark(answer)
                assert marked.earned == asked.marks - len(miss.lost), (asked.text, answer)
                lines = lines_of(asked, answer, k)
                assert {j for j, line in enumerate(lines) if not line.earned} == set(miss.lost)
                assert all(miss.reason in lines[j].reason for j in miss.lost)
                assert miss.reason.endswith(".")
                seen += 1
    assert seen > 100


@every_maker
def test_near_misses_are_told_apart_from_the_answer_and_from_each_other(name):
    for asked in made_by(name):
        for part in asked.parts:
            values = sorted([part.value, *(miss.value for miss in part.near_misses)])
            for smaller, larger in pairwise(values):
                # both bands of the tolerance end before they meet
                assert smaller * (1 + part.tolerance) < larger * (1 - part.tolerance)


@every_maker
def test_slips_are_laid_at_the_step_where_they_happen(name):
    for asked in made_by(name):
        for part in asked.parts:
            for miss in part.near_misses:
                if len(miss.lost) > 1:
                    continue
                step = part.steps[miss.lost[0]]
                if "were not turned into seconds" in miss.reason:
                    assert step.startswith("Time in seconds")
                if "were left out" in miss.reason or re.search(r"not \d\.$", miss.reason):
                    assert "for each" in step
                if "milliamperes" in miss.reason:
                    assert step.startswith("Current in amperes")
                if "a thousand times too" in miss.reason:
                    assert step == part.steps[-1]


def test_minutes_left_as_they_are_cost_the_time_alone():
    asked = made_by_charge(Flow(0.2, 20), COPPER, "g")
    forgot = asked.mark(f"{asked.parts[0].value / 60:.4g} g")
    assert [line.earned for line in forgot.lines] == [False, True, True, True, True]
    assert "minutes were not turned into seconds" in forgot.lines[0].reason
    one_electron = asked.mark(f"{2 * asked.parts[0].value:.4g} g")
    assert [line.earned for line in one_electron.lines] == [True, True, True, False, True]
    both = asked.mark(f"{2 * asked.parts[0].value / 60:.3g} g")
    assert [line.earned for line in both.lines] == [False, True, True, False, True]
    assert asked.mark("17 g").earned == 0


@pytest.mark.parametrize(
    ("made", "unit", "wrong_electrons"),
    [(COPPER, "g", 1), (COPPER, "g", 4), (SILVER, "g", 2), (HYDROGEN, "cm³", 1)],
)
def test_wrong_electrons_cost_the_electrons_alone(made, unit, wrong_electrons):
    asked = made_by_charge(Coulombs(720.0), made, unit)
    wrong = asked.parts[0].value * ELECTRONS[made.name] / wrong_electrons
    assert [line.earned for line in asked.mark(f"{wrong:.4g} {unit}").lines] == [True, False, True]


def test_the_book_value_is_not_what_a_measurement_gives():
    for asked in made_by("Faraday constant"):
        marked = asked.mark("96500 C/mol")
        assert marked.earned == 0
        assert any("book" in line.reason for line in marked.lines)


# errors carried forward


@pytest.mark.parametrize("name", OF_SEVERAL)
def test_a_wrong_part_costs_its_own_marks_alone(name):
    for asked in made_by(name):
        for k in range(len(asked.parts) - 1):
            # what somebody would find who goes on rightly from a wrong number
            wrong = {
                j: f"{1.37 * part.value:.5g} {part.unit}"
                for j, part in enumerate(asked.parts)
                if j >= k
            }
            marked = asked.mark(typed(asked, wrong))
            own = range(marks_before(asked, k), marks_before(asked, k + 1))
            lost = [j for j, line in enumerate(marked.lines) if not line.earned]
            assert lost == list(own), (asked.text, wrong)
            assert any("from your answer before" in line.reason for line in marked.lines)


@pytest.mark.parametrize("name", OF_SEVERAL)
def test_going_on_wrongly_from_a_wrong_part_earns_nothing_there(name):
    for asked in made_by(name)[:30]:
        first, second = asked.parts[:2]
        wrong = {
            0: f"{1.37 * first.value:.5g} {first.unit}",
            1: f"{1.37 * 1.19 * second.value:.5g} {second.unit}",
        }
        assert not any(line.earned for line in lines_of(asked, typed(asked, wrong), 1))


def test_minutes_forgotten_in_the_first_part_are_carried_on():
    asked = in_parts(Flow(0.5, 30), COPPER, "g")
    assert [len(part.steps) for part in asked.parts] == [2, 1, 1, 1]
    minutes = "15 C; 0.000155 mol; 0.0000777 mol; 0.00494 g"
    assert [line.earned for line in asked.mark(minutes).lines] == [False, True, True, True, True]
    left_out = "; 0.00933 mol; 0.00466 mol; 0.296 g"
    assert asked.mark(left_out).earned == asked.marks - 2


def test_a_layer_goes_on_from_a_wrong_mass():
    asked = plating_time(SILVER, (20, "µm"), (50, "cm²"), 10.49, 0.5)
    assert [len(part.steps) for part in asked.parts] == [2, 3, 1]
    grams = 20e-4 * 50 / 10.49  # divided by the density
    coulombs = grams / 107.87 * 96_485
    answer = f"{grams:.3g} g; {coulombs:.3g} C; {coulombs / 0.5:.3g} s"
    lost = [line.earned for line in asked.mark(answer).lines]
    assert lost == [True, False, True, True, True, True]


# units, figures, and ways of writing


@every_maker
def test_a_missing_unit_costs_a_mark_only_where_the_teacher_is_strict(name):
    for asked in made_by(name)[:40]:
        bare = "; ".join(part.answer.removesuffix(f" {part.unit}") for part in asked.parts)
        gentle, strict = asked.mark(bare), replace(asked, strict=True).mark(bare)
        assert gentle.earned == asked.marks
        with_unit = [part for part in asked.parts if part.unit]
        assert all(f"Give the unit: {part.unit}" in gentle.remark for part in with_unit)
        assert strict.earned == asked.marks - sum(len(part.steps) > 1 for part in with_unit)
        assert replace(asked, strict=True).mark(asked.answer).earned == asked.marks


@every_maker
def test_too_many_figures_cost_a_mark_only_where_the_teacher_is_strict(name):
    for asked in made_by(name)[:40]:
        # a ninth of a millionth more fills the places; it changes nothing else
        long = "; ".join(f"{part.value * 1.00000011:.9f} {part.unit}" for part in asked.parts)
        gentle, strict = asked.mark(long), replace(asked, strict=True).mark(long)
        assert gentle.earned == asked.marks
        assert "more figures than the data allow" in gentle.remark
        assert strict.earned == asked.marks - sum(len(part.steps) > 1 for part in asked.parts)


@every_maker
def test_two_figures_are_enough_and_one_is_too_few(name):
    tried = 0
    for asked in made_by(name):
        for k, part in enumerate(asked.parts):
            two = significant(part.value, 2)
            if not re.fullmatch(r"\d+0", two):  # whose last nought might only fill its place
                marked = asked.mark(typed(asked, {k: f"{two} {part.unit}"}))
                assert marked.earned == asked.marks, (asked.text, two)
            one = float(f"{part.value:.0e}")
            if abs(one - part.value) <= part.tolerance * part.value:
                continue
            shown = f"{one:.12g}"
            marked = asked.mark(typed(asked, {k: f"{shown} {part.unit}"}))
            right = re.fullmatch(r"\d+0", shown) and shown == two  # its nought may be a figure
            assert marked.earned == asked.marks - (0 if right else 1)
            assert right or any("Rounded too far" in line.reason for line in marked.lines)
            tried += 1
    assert tried > 50 or name == "charge number"


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
    asked = charge(Flow(1.0, 20))
    assert asked.mark(text).earned == asked.marks == 2


@pytest.mark.parametrize(
    "text", ["1,200 s", "1.2 × 10³ s", "1200 seconds", "20 min", "20 minutes", "20.0", "２０ min"]
)
def test_a_time_may_be_given_in_seconds_or_minutes(text):
    asked = time_for_charge(300.0, 0.25)
    assert asked.mark(text).earned == asked.marks == 2


def test_seconds_without_a_unit_are_taken_for_minutes():
    asked = time_for_charge(300.0, 0.25)
    assert [line.earned for line in asked.mark("1200").lines] == [True, False]


@pytest.mark.parametrize("text", ["79 mg", "79.0 mg", "7.9 × 10⁻² g", "0,079 g", "0.000079 kg"])
def test_a_mass_may_be_given_in_another_unit(text):
    asked = made_by_charge(Flow(0.2, 20), COPPER, "g")
    assert asked.mark(text).earned == asked.marks == 5
    strict = replace(asked, strict=True).mark(text)
    assert strict.earned == (5 if text.endswith(" g") else 4)


def test_milligrams_called_grams_cost_the_last_step():
    asked = made_by_charge(Flow(0.2, 20), COPPER, "g")
    assert [line.earned for line in asked.mark("79 g").lines] == [True, True, True, True, False]
    assert "thousand times too large" in asked.mark("79 g").lines[-1].reason


def test_milliamperes_are_read_for_a_current():
    asked = current_for_charge(300.0, Lasting(20, "min"))
    assert asked.mark("250 mA").earned == asked.mark("0.25 A").earned == 2
    assert [line.earned for line in asked.mark("15 A").lines] == [False, True]


@every_maker
def test_full_width_digits_are_read(name):
    for asked in made_by(name)[:30]:
        assert asked.mark(asked.answer.translate(WIDE)).earned == asked.marks


@every_maker
def test_another_number_earns_nothing(name):
    for asked in made_by(name):
        wrong = typed(
            asked,
            {k: f"{17.3 * 1.09**k * p.value:.4g} {p.unit}" for k, p in enumerate(asked.parts)},
        )
        marked = asked.mark(wrong)
        assert marked.earned == 0
        assert all(line.reason for line in marked.lines)


def test_noughts_of_a_whole_number_may_be_figures():
    part = Part(19.5, "min", ("Time in seconds.", "Time: t = 19.5 min."))
    asked = NumberQuestion("time", "quantities", 16, "How long?", "", parts=(part,))
    assert asked.mark("20 min").earned == 2
    part = replace(part, value=17.0)
    asked = replace(asked, parts=(part,))
    assert asked.mark("20 min").earned == 1
    assert asked.mark("2 x 10^1 min").earned == 1


def test_a_slip_after_a_wrong_answer_before_is_still_known():
    first = Part(600.0, "C", ("Q = 600 C.",))
    near = (NearMiss(0.3, (0,), "Each ion takes 2 electrons."),)
    second = Part(0.15, "g", ("Electrons.", "Mass."), factor=0.15 / 600, near_misses=near)
    asked = NumberQuestion("in parts", "quantities", 16, "?", "", parts=(first, second))
    marked = asked.mark("10 C; 0.005 g")  # ten for six hundred, and the electrons forgotten
    assert [line.earned for line in marked.lines] == [False, False, True]


# what is typed around a number, and what is not one number


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
    asked = NumberQuestion("unit", "quantities", 16, "?", "", parts=(part,))
    marked = asked.mark(text)
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
    asked = replace(volume(strict=True), parts=(part,), marks=1)
    assert asked.mark("27.2 J").earned == 0
    assert asked.mark("27.2").earned == asked.mark("27.2 cm3").earned == 1
    assert replace(asked, strict=False).mark("27.2 J").earned == 1


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
    asked = NumberQuestion("part", "quantities", 16, "?", "", parts=(part,))
    assert asked.mark(text).earned == (0 if value is None else 2)
    other = replace(part, value=1.37 * part.value)
    assert replace(asked, parts=(other,)).mark(text).earned == 0


@pytest.mark.parametrize("nothing", ["0", "0.0", "-0", "1e999", "0e999"])
def test_nothing_is_carried_forward_from_nought(nothing):
    for name in OF_SEVERAL:
        for asked in made_by(name)[:20]:
            assert asked.mark("; ".join([nothing] * len(asked.parts))).earned == 0
            after = typed(asked, {0: nothing})  # the others stay right
            assert asked.mark(after).earned == asked.marks - len(asked.parts[0].steps)


@pytest.mark.parametrize("asked", ["C", "A", "g", "mol", "cm³", "s", "min"])
def test_spellings_of_units_mean_what_the_package_pint_says(asked):
    """Those that pint knows in small letters; the others are abbreviations of schools."""
    known, agree = pint.UnitRegistry(), 0
    of_unit = getattr(known, asked.replace("³", "") if asked == "cm³" else asked)
    wanted = of_unit**3 if asked == "cm³" else of_unit
    for spelling, size in UNITS[asked].items():
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


def test_a_melts_second_product_is_reached_from_the_electrons_to_four_figures():
    """333 000 C over 96 500 C/mol are 3.451 mol of electrons, two for each molecule of chlorine."""
    calcium, chlorine = Made("Ca", "Ca2+", "calcium"), Made("Cl2", "Cl-", "chlorine")
    asked = melt_mass(Coulombs(3.33e5), calcium, chlorine, "g")
    first, second = asked.parts
    assert "= 3.451 mol" in first.steps[0]
    assert "3.451 mol ÷ 2 = 1.725 mol" in second.steps[0]


def test_part_of_the_charge_that_is_used_is_less_than_all_of_it():
    for _, percents in LOSSES:
        assert all(0 < percent < 100 for percent in percents)
