"""A wrong answer to one part is not punished again in the next."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import pytest

from fizzplate.lesson.measure import significant
from fizzplate.questions.calculations.multi_part import in_parts, melt_mass, plating_time
from fizzplate.questions.calculations.products import COPPER, SILVER
from fizzplate.questions.calculations.quantities import Coulombs, Flow, Product
from fizzplate.questions.content import NearMiss, Part
from fizzplate.questions.question_types import NumberQuestion
from fizzplate.questions.sets import MAKERS, another
from fizzplate.views.paper.mark_scheme import scheme_rows
from fizzplate.words import DEFAULT_WORDING

sys.path.insert(0, str(Path(__file__).parent))
from number_cases import (
    OF_SEVERAL,
    lines_of,
    made_by,
    marks_before,
    typed,
)  # beside this file
from plain_spaces import with_plain_spaces


@pytest.mark.parametrize("name", OF_SEVERAL)
def test_a_wrong_part_costs_its_own_marks_alone(name):
    for question in made_by(name):
        for k in range(len(question.parts) - 1):
            # what somebody would find who goes on rightly from a wrong number
            wrong = {
                j: f"{1.37 * part.value:.5g} {part.unit}"
                for j, part in enumerate(question.parts)
                if j >= k
            }
            marked = question.mark(typed(question, wrong))
            own = range(marks_before(question, k), marks_before(question, k + 1))
            lost = [j for j, line in enumerate(marked.lines) if not line.earned]
            assert lost == list(own), (question.text, wrong)
            assert any("from your answer before" in line.reason for line in marked.lines)


@pytest.mark.parametrize("name", OF_SEVERAL)
def test_going_on_wrongly_from_a_wrong_part_earns_nothing_there(name):
    for question in made_by(name)[:30]:
        first, second = question.parts[:2]
        wrong = {
            0: f"{1.37 * first.value:.5g} {first.unit}",
            1: f"{1.37 * 1.19 * second.value:.5g} {second.unit}",
        }
        assert not any(line.earned for line in lines_of(question, typed(question, wrong), 1))


def test_minutes_forgotten_in_the_first_part_are_carried_on():
    question = in_parts(Flow(0.5, 30), COPPER, "g")
    assert [len(part.steps) for part in question.parts] == [1, 1, 1, 1]
    minutes = "15 C; 0.000155 mol; 0.0000777 mol; 0.00494 g"
    assert [line.earned for line in question.mark(minutes).lines] == [False, True, True, True]
    left_out = "; 0.00933 mol; 0.00466 mol; 0.296 g"
    assert question.mark(left_out).earned == question.marks - 1


def test_a_layer_goes_on_from_a_wrong_mass():
    question = plating_time(SILVER, (20, "µm"), (50, "cm²"), 10.49, 0.5)
    assert [len(part.steps) for part in question.parts] == [1, 2, 1]
    grams = 20e-4 * 50 / 10.49  # divided by the density
    coulombs = grams / 107.87 * 96_485
    answer = f"{grams:.3g} g; {coulombs:.3g} C; {coulombs / 0.5:.3g} s"
    lost = [line.earned for line in question.mark(answer).lines]
    assert lost == [False, True, True, True]


def test_a_slip_after_a_wrong_answer_before_is_still_known():
    first = Part(600.0, "C", ("Q = 600 C.",))
    near = (NearMiss(0.3, (0,), "Each ion takes 2 electrons."),)
    second = Part(0.15, "g", ("Electrons.", "Mass."), factor=0.15 / 600, near_misses=near)
    question = NumberQuestion("in parts", "quantities", 16, "?", "", parts=(first, second))
    marked = question.mark("10 C; 0.005 g")  # ten for six hundred, and the electrons forgotten
    assert [line.earned for line in marked.lines] == [False, False, True]


@pytest.mark.parametrize("nothing", ["0", "0.0", "-0", "1e999", "0e999"])
def test_nothing_is_carried_forward_from_nought(nothing):
    for name in OF_SEVERAL:
        for question in made_by(name)[:20]:
            assert question.mark("; ".join([nothing] * len(question.parts))).earned == 0
            after = typed(question, {0: nothing})  # the others stay right
            assert question.mark(after).earned == question.marks - len(question.parts[0].steps)


def test_a_melts_second_product_is_reached_from_the_electrons_to_four_figures():
    """333 000 C over 96 500 C/mol are 3.451 mol of electrons, two for each molecule of chlorine."""
    calcium, chlorine = Product("Ca", "Ca2+", "calcium"), Product("Cl2", "Cl-", "chlorine")
    question = melt_mass(Coulombs(3.33e5), calcium, chlorine, "g")
    first, second = with_plain_spaces(question).parts
    assert "= 3.451 mol" in first.steps[0]
    assert "3.451 mol ÷ 2 = 1.725 mol" in second.steps[0]


NUMBER = r"\d[\d\u202f]*(?:\.\d+)?"  # as a working prints it


def drawn(name):
    return [another(name, seed) for seed in range(40)]


def earned(question, answer):
    return [line.earned for line in question.mark(answer).lines]


def test_electrons_left_out_at_both_products_cost_one_mark():
    aluminium, oxygen = Product("Al", "Al3+", "aluminium"), Product("O2", "O2-", "oxygen")
    question = melt_mass(Coulombs(3.33e5), aluminium, oxygen, "g")
    moles = 333_000 / 96_500
    metal, gas = f"{moles * 27.0:.4g} g", f"{moles * 32.0:.4g} g"
    assert earned(question, f"{metal}; 27.6 g") == [True, False, True]
    assert earned(question, f"31.1 g; {gas}") == [True, True, False]
    marked = question.mark(f"{metal}; {gas}")
    assert [line.earned for line in marked.lines] == [True, False, True]
    assert "costs no second mark" in marked.lines[2].reason
    # another slip there is not the one of before
    assert earned(question, f"{metal}; {moles / 4:.4g} g") == [True, False, False]


def test_a_slip_on_the_way_to_both_is_carried_on_though_another_was_made_after_it():
    aluminium, oxygen = Product("Al", "Al3+", "aluminium"), Product("O2", "O2-", "oxygen")
    question = melt_mass(Flow(1e5, 8, "h"), aluminium, oxygen, "kg")
    moles = 1e5 * 8 / 96_500  # the hours not converted
    first = f"{moles * 27 / 1000:.4g} kg"  # and the electrons left out
    for second in (f"{moles / 4 * 32 / 1000:.4g} kg", f"{moles * 32 / 1000:.4g} kg"):
        assert earned(question, f"{first}; {second}") == [False, True, False, True]


def test_working_that_goes_on_from_a_wrong_answer_shows_its_steps():
    question = plating_time(SILVER, (20, "µm"), (50, "cm²"), 10.49, 0.5)
    grams = 2 * 20e-4 * 50 * 10.49  # the area taken twice
    moles = grams / 107.87
    answer = f"{grams:.4g} g; {grams:.4g} g ÷ 107.87 g/mol = {moles:.4g} mol, so 12 C; 24 s"
    assert earned(question, answer)[:3] == [False, True, False]


def test_a_number_that_is_left_out_is_gone_on_from_as_if_it_stood_there():
    question = in_parts(Flow(0.5, 30), COPPER, "g")
    assert earned(question, "15 C; ; ; 0.00494 g") == [False, False, False, True]
    assert earned(question, "15 C; ; ; 0.296 g") == [False, False, False, True]
    assert earned(question, "15 C; what?; ; 0.00494 g") == [False, False, False, False]


def test_the_charge_of_an_ion_follows_from_both_numbers_before():
    for question in drawn("charge number"):
        electrons, metal = (part.value for part in question.parts[:2])
        wrong = f"{electrons / 60:.5g} mol; {metal:.5g} mol; {electrons / 60 / metal:.4g}"
        assert earned(question, wrong)[-1]
        wrong = f"{electrons:.5g} mol; {1.7 * metal:.5g} mol; {electrons / 1.7 / metal:.4g}"
        assert earned(question, wrong)[-1]
        wrong = f"{electrons:.5g} mol; {1.7 * metal:.5g} mol; {1.7 * electrons / metal:.4g}"
        assert not earned(question, wrong)[-1]


def test_what_recycling_saves_follows_from_a_wrong_energy():
    for question in drawn("energy for aluminium"):
        *_, melted = re.findall(r"takes ([0-9\u202f]+)", question.text.replace("\xa0", " "))
        energy, recycled = (
            1.3 * question.parts[0].value,
            float(melted.replace("\u202f", "")),
        )
        answer = f"{energy:.5g} MJ; {100 * (energy - recycled) / energy:.4g} %"
        assert earned(question, answer) == [False, False, True, True]


def test_who_takes_a_good_reading_for_the_outlier_may_go_on_with_the_others():
    for question in drawn("outlier and mean"):
        listed = question.text.rpartition(": ")[2].rstrip(".").replace(" and ", ", ")
        readings = [float(each) for each in listed.split(", ")]
        for chosen in readings:
            others = sorted(each for each in readings if each != chosen)
            half = (others[-1] - others[0]) / 2
            unit = question.parts[0].unit
            answer = f"{chosen} {unit}; {sum(others) / 4:.5g} {unit}; {half:.4g} {unit}"
            right = chosen == question.parts[0].value
            assert earned(question, answer) == [right, True, True, True], answer
            # the whole range is as wrong as ever
            answer = f"{chosen} {unit}; {sum(others) / 4:.5g} {unit}; {2 * half:.4g} {unit}"
            assert earned(question, answer)[-1] is False


@pytest.mark.parametrize(
    "formula", ["", "a", "b a", "a ÷", "a a - 5 ÷", "a 0 ÷", "h 2 ×", "a nan +", "a 1e999 ×"]
)
def test_a_formula_that_cannot_be_worked_out_carries_nothing(formula):
    parts = (
        Part(10.0, "C", ("Q.",)),
        Part(5.0, "g", ("m.",), formula=formula),
    )
    question = NumberQuestion("", "", 16, "?", "", parts=parts)
    assert earned(question, "20 C; 5 g") == [False, True]
    for odd in ("inf g", "0 g", "7 g"):
        assert earned(question, f"20 C; {odd}") == [False, False]


def plated_with(metal):
    return next(each for each in drawn("plating in parts") if f"plated with {metal}" in each.text)


def test_a_mass_follows_from_the_electrons_of_a_wrong_half_equation():
    for metal, wrong, times in (
        ("copper", "Cu+ + e- -> Cu", 2.0),
        ("copper", "Cu2+ + e- -> Cu", 2.0),
        ("silver", "Ag2+ + 2e- -> Ag", 0.5),
    ):
        question = plated_with(metal)
        pick, _, mass = (each.answer for each in question.sections)
        grams = question.sections[2].parts[0].value
        steps = question.sections[2].marks

        def of_mass(equation, number, question=question, pick=pick, steps=steps):
            return earned(question, f"{pick} ¦ {equation} ¦ {number}")[-steps:]

        follows = f"{times * grams:.3g} g"
        assert all(of_mass(wrong, follows)), (metal, wrong)
        # the right mass stays right; what does not follow earns no more than before
        assert all(of_mass(wrong, mass))
        assert not all(of_mass(question.sections[1].answer, follows))
        assert not all(of_mass("no idea", follows))
        assert not all(of_mass(wrong, f"{1.3 * times * grams:.3g} g"))


def test_a_scheme_tells_what_is_carried_from_an_equation():
    rows = scheme_rows(plated_with("copper"), DEFAULT_WORDING)
    assert "After a wrong equation in (b), what follows from it earns all marks." in rows[2].notes


def test_every_section_that_uses_an_earlier_result_carries_it_on():
    """Of every maker: a mass by electrons after their half-equation, and a part after the part it needs."""
    carried = set()
    for name in MAKERS:
        for question in drawn(name)[:12]:
            before = []
            for section in question.sections:
                steps = " ".join(step for part in section.parts for step in part.steps)
                for product in before:
                    if re.search(rf"electrons? pass(?:es)? for each \w+ of {product}\b", steps):
                        assert section.parts[0].factor, (name, section.text)
                        carried.add(name)
                if section.kind == "equation":
                    before.append(section.task.goal.removeprefix("make ").partition(" from ")[0])
            for part, earlier in zip(question.parts[1:], question.parts, strict=False):
                first = re.findall(NUMBER, part.steps[0].replace("\xa0", " ").rpartition(" = ")[0])
                shown = {significant(earlier.value, k) for k in (3, 4)}
                if shown & set(first):
                    assert part.factor or part.formula or part.afterwards, (name, part.steps)
                    carried.add(name)
    assert {"plating in parts", "in parts", "masses of a copper works"} <= carried
