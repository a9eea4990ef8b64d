"""Questions about works and plating: true by the package's data, and marked as a teacher would."""

from __future__ import annotations

import csv
import re
import sys
from pathlib import Path

import pytest

from fizzplate import data
from fizzplate.chemistry import molar_mass_g_mol
from fizzplate.questions.calculations.industry import BRINE
from fizzplate.questions.makers.works.industry import DISSOLVE
from fizzplate.questions.tables import reading

sys.path.insert(0, str(Path(__file__).parent))
from plain_spaces import with_plain_spaces  # beside this file
from question_checks import made_by

CHOICES = (
    *("brine industry", "membrane of a brine cell", "use of a product", "impurities of copper"),
    *("copper works", "aluminium works", "plating gone wrong"),
)


def test_what_is_said_to_dissolve_is_easier_to_oxidise_than_copper_and_silver_is_not():
    volts = {row["couple"]: row.value for row in data.rows("potentials")}
    for _, ion in DISSOLVE:
        metal = re.match(r"[A-Z][a-z]?", ion)[0]
        assert volts[f"{ion}/{metal}"] < volts["Cu2+/Cu"]
    assert volts["Ag+/Ag"] > volts["Cu2+/Cu"]


def test_sludge_and_solution_are_told_apart_by_what_dissolves():
    dissolve = {name for name, _ in DISSOLVE}
    places = set()
    for question in made_by("impurities of copper"):
        in_sludge = "in the sludge" in question.text
        places.add(in_sludge)
        for option in question.options:
            metals = set(option.text.split(" and "))
            assert option.right == (not metals & dissolve if in_sludge else metals <= dissolve)
    assert places == {True, False}


def _number(text):
    return float(text.replace("\u202f", "").replace(" ", "").replace("\u00a0", ""))


def test_products_of_brine_balance_the_equation_that_is_printed():
    """2NaCl + 2H2O -> Cl2 + H2 + 2NaOH, counted by hand."""
    coefficients = {"chlorine": 1, "hydrogen": 1, "sodium hydroxide": 2}
    for question in with_plain_spaces(made_by("amounts from brine")):
        told = re.search(
            r"makes ([\d.]+) kg of (chlorine|hydrogen|sodium hydroxide)", question.text
        )
        asked = re.search(
            r"(?:mass|kilograms) of (chlorine|hydrogen|sodium hydroxide)", question.text
        )
        given, wanted = told[2], asked[1]
        moles = _number(told[1]) / molar_mass_g_mol(BRINE[given][0])
        made_kg = (
            moles * coefficients[wanted] / coefficients[given] * molar_mass_g_mol(BRINE[wanted][0])
        )
        assert question.parts[0].value == pytest.approx(made_kg, rel=0.01)  # rounded molar masses


def test_carbon_and_energy_of_aluminium_follow_from_atoms_and_electrons():
    for question in with_plain_spaces(made_by("carbon burnt for aluminium")):
        kg = _number(re.search(r"([\d.]+) kg of aluminium", question.text)[1])
        assert question.parts[0].value == pytest.approx(kg * 3 * 12.011 / (4 * 26.982), rel=0.002)
    for question in with_plain_spaces(made_by("energy for aluminium")):
        kg, volts = (
            _number(re.search(pattern, question.text)[1])
            for pattern in (r"([\d.]+) kg of aluminium", r"at ([\d.]+) V")
        )
        least_MJ = kg * 1000 / 26.982 * 3 * 96485 * volts / 1e6
        assert question.parts[0].value == pytest.approx(least_MJ / 0.9, rel=0.01)
        assert 88 < question.parts[1].value < 97


def test_the_key_is_neither_the_longest_nor_the_shortest_too_often():
    for place in (0, -1):
        at_place = total = 0
        for name in CHOICES:
            for question in {each.text: each for each in made_by(name)}.values():
                by_length = sorted(question.options, key=lambda option: len(option.text))
                at_place += by_length[place].right
                total += 1
        assert 0.1 < at_place / total < 0.4, place


def test_each_plating_fault_is_seen_in_its_own_way():
    rows = reading.rows("plating_faults")
    for column in ("fault", "seen", "better", "why"):
        assert len({row[column] for row in rows}) == len(rows)


with (Path(__file__).parent / "industry_answers.csv").open(newline="", encoding="utf-8") as table:
    ANSWERS = list(csv.DictReader(table))


@pytest.mark.parametrize("case", ANSWERS, ids=lambda case: case["answer"][:40])
def test_answers_in_words_get_a_teachers_marks(case):
    question = next(q for q in made_by(case["maker"]) if case["about"] in q.text)
    noun = re.search(r"(cup|key|spoon|medal)", question.text)
    marked = question.mark(case["answer"].format(noun=noun[1] if noun else ""))
    assert marked.earned == int(case["marks"]), [line.reason for line in marked.lines]
