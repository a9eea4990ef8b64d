"""Wrong numbers that show what went wrong: they lose the marks of their steps and no others."""

from __future__ import annotations

import re
import sys
from itertools import pairwise
from pathlib import Path

import pytest

from fizzplate.questions import misconceptions
from fizzplate.questions.calculations import gases
from fizzplate.questions.calculations.products import CHLORINE, COPPER, HYDROGEN, OXYGEN, SILVER
from fizzplate.questions.calculations.quantities import Coulombs, Flow
from fizzplate.questions.calculations.single_answer import (
    made_by_charge,
)
from fizzplate.questions.calculations.targets import losses
from fizzplate.questions.misconceptions import Idea
from fizzplate.questions.random_source import EDITION

sys.path.insert(0, str(Path(__file__).parent))
from number_cases import (
    every_maker,
    lines_of,
    made_by,
    typed,
)  # beside this file
from number_reader import ELECTRONS


@every_maker
def test_near_misses_lose_the_marks_of_their_steps_and_no_others(name):
    seen = 0
    for question in made_by(name):
        for k, part in enumerate(question.parts):
            for miss in part.near_misses:
                answer = typed(question, {k: f"{miss.value:.5g} {part.unit}"})
                marked = question.mark(answer)
                assert marked.earned == question.marks - len(miss.lost), (question.text, answer)
                lines = lines_of(question, answer, k)
                assert {j for j, line in enumerate(lines) if not line.earned} == set(miss.lost)
                assert all(miss.reason in lines[j].reason for j in miss.lost)
                assert miss.reason.endswith(".")
                seen += 1
    assert seen > 100


@every_maker
def test_near_misses_are_told_apart_from_the_answer_and_from_each_other(name):
    for question in made_by(name):
        for part in question.parts:
            values = sorted([part.value, *(miss.value for miss in part.near_misses)])
            for smaller, larger in pairwise(values):
                # both bands of the tolerance end before they meet
                assert smaller * (1 + part.tolerance) < larger * (1 - part.tolerance)


@every_maker
def test_slips_are_laid_at_the_step_where_they_happen(name):
    for question in made_by(name):
        for part in question.parts:
            for miss in part.near_misses:
                if len(miss.lost) > 1:
                    continue
                step = part.steps[miss.lost[0]]
                if "were not converted into seconds" in miss.reason:
                    assert "Time in seconds" in step
                if "were left out" in miss.reason or re.search(r"not \d\.$", miss.reason):
                    assert "for each" in step or "electrons make" in step
                if "milliamperes" in miss.reason:
                    assert step.startswith("Current in amperes")
                if "a thousand times too" in miss.reason:
                    assert step == part.steps[-1]


def test_minutes_left_as_they_are_cost_the_time_alone():
    question = made_by_charge(Flow(0.2, 20), COPPER, "g")
    forgot = question.mark(f"{question.parts[0].value / 60:.4g} g")
    assert [line.earned for line in forgot.lines] == [False, True, True, True]
    assert "minutes were not converted into seconds" in forgot.lines[0].reason
    one_electron = question.mark(f"{2 * question.parts[0].value:.4g} g")
    assert [line.earned for line in one_electron.lines] == [True, True, False, True]
    both = question.mark(f"{2 * question.parts[0].value / 60:.3g} g")
    assert [line.earned for line in both.lines] == [False, True, False, True]
    assert question.mark("17 g").earned == 0


@pytest.mark.parametrize(
    ("made", "unit", "wrong_electrons"),
    [(COPPER, "g", 1), (COPPER, "g", 4), (SILVER, "g", 2), (HYDROGEN, "cm³", 1)],
)
def test_wrong_electrons_cost_the_electrons_alone(made, unit, wrong_electrons):
    question = made_by_charge(Coulombs(720.0), made, unit)
    wrong = question.parts[0].value * ELECTRONS[made.name] / wrong_electrons
    # for one electron its moles are the product's, and the step is the same
    lost = [False, True] if ELECTRONS[made.name] == 1 else [True, False, True]
    assert [line.earned for line in question.mark(f"{wrong:.4g} {unit}").lines] == lost


def test_the_book_value_is_not_what_a_measurement_gives():
    for question in made_by("Faraday constant"):
        marked = question.mark("96500 C/mol")
        assert marked.earned == 0
        assert any("book" in line.reason for line in marked.lines)


@every_maker
def test_another_number_earns_nothing(name):
    for question in made_by(name):
        wrong = typed(
            question,
            {k: f"{17.3 * 1.09**k * p.value:.4g} {p.unit}" for k, p in enumerate(question.parts)},
        )
        marked = question.mark(wrong)
        assert marked.earned == 0
        assert all(line.reason for line in marked.lines)


def test_part_of_the_charge_that_is_used_is_less_than_all_of_it():
    for loss in losses(EDITION):
        assert all(0 < percent < 100 for percent in loss.percentages)


def test_numbers_rounded_on_the_way_cost_the_last_mark_where_the_working_shows_them():
    question = made_by_charge(Flow(0.2, 20), COPPER, "g")
    working = "0.2 x 1200 = 240 C, 240/96500 = 0.0025 mol, /2 = 0.0012 mol, x 63.5 = "
    rounded = question.mark(f"{working}0.0762 g")
    assert [line.earned for line in rounded.lines] == [True, True, True, False]
    assert rounded.lines[-1].reason == "Rounded on the way: keep 3 figures or more until the end."
    assert question.mark("0.0762 g").earned == 0
    assert question.mark("0.2 x 1200 = 240 C, so 0.07 g").earned == 1


def ideas_of(question):
    """The ideas behind a question's near misses, by the factor from the right answer to each."""
    (part,) = question.parts
    found = {round(miss.value / part.value, 3): miss.misconception for miss in part.near_misses}
    return {times: idea for times, idea in found.items() if idea}


def test_a_slip_that_follows_from_an_idea_of_the_table_names_it_and_no_other_does():
    assert ideas_of(gases.ratio(HYDROGEN, 24, OXYGEN)) == {4.0: Idea.TWICE_AS_MUCH_OXYGEN}
    assert ideas_of(gases.share_of_both(OXYGEN, HYDROGEN, 36)) == {2.0: Idea.TWICE_AS_MUCH_OXYGEN}
    assert not ideas_of(gases.ratio(CHLORINE, 24, OXYGEN))
    one_electron_each = ideas_of(made_by_charge(Coulombs(500), CHLORINE, "g"))
    assert set(one_electron_each.values()) == {Idea.CHLORINE_AS_ATOMS}
    assert (
        min(one_electron_each) < 0.1 < max(one_electron_each) == 2.0
    )  # also with the molar mass left out
    assert not ideas_of(made_by_charge(Coulombs(500), HYDROGEN, "dm³"))
    assert not ideas_of(made_by_charge(Flow(0.2, 20), COPPER, "g"))
    assert misconceptions()[Idea.TWICE_AS_MUCH_OXYGEN].wrong.startswith("Water gives two volumes")
