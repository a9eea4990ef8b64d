"""What an electrode does by itself in a salt of a less active metal, or in acid, is said everywhere."""

import itertools

import pytest

import fizzplate as fp
from fizzplate import data
from fizzplate.cell import displacements
from fizzplate.chemistry import electrodes, solutions
from fizzplate.lesson import CellSetup
from fizzplate.lesson.classroom import cautions
from fizzplate.lesson.prepare import visibility_advice
from fizzplate.lesson.rule import explanation, observations, seen_at
from fizzplate.words import DEFAULT_WORDING

LAMP = fp.Lamp(6.0, 0.06)
PAIRS = [
    ("CuSO4", "zinc", "a dark brown coat grows on it"),
    ("AgNO3", "copper", "grey-white crystals grow on it"),
    ("HCl", "iron", "bubbles of a colourless gas slowly form on it"),
]


@pytest.mark.parametrize("role", ["cathode", "anode"])
@pytest.mark.parametrize(("salt", "metal", "seen"), PAIRS)
def test_it_is_said_in_warnings_observations_explanation_cautions_and_preparation(
    salt, metal, seen, role
):
    cell = fp.Cell(salt, lamp=LAMP, **{role: metal})
    run = cell.run(minutes=1, samples=3)
    assert any(f"{metal} {role} reacts" in each and seen in each for each in run.warnings)
    assert all(seen in sentence for _, sentence in observations(run))
    told = explanation(cell, DEFAULT_WORDING, run)[-1].sentence
    assert f"because {metal} is more reactive" in told
    assert any("put it in last" in each for each in cautions(cell))
    assert any(seen in each for each in visibility_advice(CellSetup(salt, **{role: metal})))


def test_it_is_seen_with_the_switch_open_too():
    run = fp.Cell("CuSO4", cathode="zinc").run(stages=[fp.Stage(1, off=True)], samples=3)
    (_, said), *_ = observations(run)
    assert said.startswith("The switch is open")
    assert "a dark brown coat grows on it" in said


def test_observations_and_cautions_name_no_product_of_it():
    run = fp.Cell("AgNO3", cathode="copper", anode="copper", lamp=LAMP).run(minutes=1, samples=3)
    said = " ".join(sentence for _, sentence in observations(run))
    assert "silver" not in said
    assert not any("silver forms" in each for each in cautions(run.cell))


def test_every_metal_that_displaces_another_has_its_row_and_no_other_has():
    known = {(row["metal"], row["ion"]) for row in data.rows("displacement")}
    active = [each.name for each in electrodes().values() if each.active]
    found = {
        (each.gives, each.meets)
        for formula, metal in itertools.product(solutions(), active)
        for each in displacements(fp.Cell(formula, cathode=metal))
    }
    assert found == known


def test_nothing_is_said_of_metals_that_do_not_react():
    for salt, metal in (
        ("ZnSO4", "copper"),
        ("HCl", "silver"),
        ("CuSO4", "copper"),
        ("NaCl", "zinc"),
    ):
        cell = fp.Cell(salt, cathode=metal, lamp=LAMP)
        assert displacements(cell) == ()
        assert not any("put it in last" in each for each in cautions(cell))


def test_what_forms_by_itself_is_no_product_of_the_current():
    run = fp.Cell("CuSO4", cathode="zinc", lamp=LAMP).run(minutes=2, samples=5)
    assert set(seen_at(run)["cathode"]) == {"Cu"}
