"""Questions about measurements and common ideas, worked out once more from their own words."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import pytest

from fizzplate import data
from fizzplate.chemistry import molar_mass_g_mol
from fizzplate.questions.misconceptions import Idea

sys.path.insert(0, str(Path(__file__).parent))
from plain_spaces import with_plain_spaces  # beside this file
from question_checks import made_by

FARADAY_C_MOL = 96485.33
#: by hand: the formula of a metal and the electrons for each of its ions
METALS = {"copper": ("Cu", 2), "silver": ("Ag", 1), "nickel": ("Ni", 2), "zinc": ("Zn", 2)}


def test_the_outlier_is_the_reading_that_is_farthest_from_the_others():
    for question in with_plain_spaces(made_by("outlier and mean")):
        unit, listed = re.search(r", in (mg|cm³): (.*)\.$", question.text).groups()
        readings = [float(each) for each in re.split(r", | and ", listed)]
        middle = sorted(readings)[2]
        outlier = max(readings, key=lambda each: abs(each - middle))
        others = [each for each in readings if each != outlier]
        assert len(others) == 4
        asked = [part.value for part in question.parts]
        half = (max(others) - min(others)) / 2
        assert asked == pytest.approx([outlier, sum(others) / 4, half])
        assert abs(outlier - middle) > 4 * half
        assert {part.unit for part in question.parts} == {unit}


def test_a_table_is_completed_by_current_and_time():
    for question in with_plain_spaces(made_by("complete a table")):
        amperes = float(re.search(r"([\d.]+) A", question.text)[1])
        first = float(re.search(r"([\d.]+) minutes", question.text)[1])
        last = float(re.search(r"after ([\d.]+) minutes", question.parts[1].prompt)[1])
        assert question.parts[0].value == pytest.approx(60 * first * amperes)
        moles = 60 * last * amperes / FARADAY_C_MOL
        metal = next((name for name in METALS if name in question.text), None)
        if metal:
            formula, electrons = METALS[metal]
            expected = 1000 * molar_mass_g_mol(formula) * moles / electrons
        else:
            expected = 24_000 * moles / 2
        assert question.parts[1].value == pytest.approx(expected, rel=0.03)  # a rounded reading


def test_the_line_that_is_right_goes_through_the_points_and_no_other_does():
    for question in with_plain_spaces(made_by("choose the plotted line")):
        points = [
            (float(charge), float(mass))
            for charge, mass in re.findall(r"(\d+) C, (\d+) mg", question.text)
        ]
        assert len(points) == 2
        for option in question.options:
            line = next(each for each in question.chart.lines if f"line {each.name}" == option.text)
            read = dict(zip(line.x, line.y, strict=True))
            fits = all(read[charge] == pytest.approx(mass, abs=0.6) for charge, mass in points)
            assert (fits and read[0.0] == 0) == option.right


def test_conductivity_follows_the_ions_that_go_and_come():
    mobility = {
        row["species"]: row.value
        for row in data.rows("mobility")
        if row["quantity"] == "limiting conductivity"
    }
    seen = set()
    for question in made_by("conductivity during electrolysis"):
        rises = next(line.name for line in question.chart.lines if line.y[-1] > 1)
        falls = next(line.name for line in question.chart.lines if line.y[-1] < 1)
        right = question.answer.split(":")[0].removeprefix("line ")
        name = re.match(
            r"(?:The conductivity of )?(?:concentrated )?(\S+ \S+)", question.text, re.IGNORECASE
        )
        expected = {
            "copper(ii) sulfate": mobility["H+"] > mobility["Cu2+"],
            "silver nitrate": mobility["H+"] > mobility["Ag+"],
            "sodium chloride": mobility["OH-"] > mobility["Cl-"],
        }.get(name[1].lower(), False)
        stays = "copper electrodes" in question.text
        assert (right == rises) == (expected and not stays), question.text
        assert (right not in {rises, falls}) == stays
        seen.add((name[1].lower(), stays))
    assert len(seen) >= 5


def test_what_is_deposited_first_has_the_higher_potential():
    volts = {row["couple"]: row.value for row in data.rows("potentials")}
    for question in made_by("deposited first"):
        names = re.findall(r"(\w+) ions \(", question.text)
        potential = {
            name: next(
                value for couple, value in volts.items() if couple.endswith(f"+/{METALS[name][0]}")
            )
            for name in names
        }
        first = max(potential, key=potential.get)
        assert question.answer.startswith(f"{first}, ")
        assert potential[first] > 0  # so that hydrogen does not form before


def test_the_mass_of_each_metal_follows_from_its_molar_mass_and_its_electrons():
    for question in made_by("mass by the same charge"):
        names = re.search(r"deposits (\w+), from .* the other (\w+), from", question.text).groups()
        grams = {name: molar_mass_g_mol(METALS[name][0]) / METALS[name][1] for name in names}
        assert f"that with {max(grams, key=grams.get)}:" in question.answer


def test_each_new_idea_has_a_maker_that_brings_it_out():
    for maker, idea in (
        ("deposited first", Idea.MORE_REACTIVE_DEPOSITED_FIRST),
        ("mass by the same charge", Idea.MASS_FROM_CONCENTRATION_OR_SIZE),
        ("what chlorine leaves as", Idea.CHLORINE_AS_ATOMS),
    ):
        for question in made_by(maker):
            assert idea in {option.misconception for option in question.options if not option.right}


def test_variables_keep_their_roles():
    told = {
        "control": "a control variable",
        "independent": "the independent",
        "dependent": "the dependent",
    }
    for question in made_by("which variable"):
        wanted = next(role for role, words in told.items() if words in question.text)
        for option in question.options:
            assert (told[wanted] in option.reason) == option.right
