"""A run that is known is found again only for the very same cell, plan and number of samples."""

from __future__ import annotations

import inspect

import pytest

from fizzplate.cell import Cell, Lamp, Stage
from fizzplate.cell.known_runs import known_runs

#: something else for each argument of a cell
OTHERS = {
    "solution": "NaCl",
    "concentration_mol_dm3": 0.4,
    "volume_cm3": 61.0,
    "anode": "copper",
    "cathode": "copper",
    "supply_V": 5.0,
    "current_A": 0.05,
    "supply_limit_A": 0.9,
    "lamp": Lamp(6.0, 0.06),
    "vessel": "U-tube",
    "gap_cm": 2.0,
    "immersed_area_cm2": 7.0,
    "anode_mass_g": 3.0,
    "cathode_mass_g": 3.0,
    "crystal": None,
    "temperature_C": 20.0,
    "pressure_kPa": 100.0,
}


@pytest.fixture
def first():
    with known_runs.store_new_runs():
        yield Cell("CuSO4").run(minutes=0.1, samples=3)
    known_runs.forget()


def test_every_argument_of_a_cell_is_tried_below():
    assert list(OTHERS) == list(inspect.signature(Cell).parameters)


@pytest.mark.parametrize("argument", [name for name in OTHERS if name != "crystal"])
def test_another_cell_is_run_anew(first, argument):
    other = Cell(**{"solution": "CuSO4"} | {argument: OTHERS[argument]})
    assert other.run(minutes=0.1, samples=3) is not first


def test_a_crystal_makes_another_cell():
    strip = {"solution": "Na2SO4", "vessel": "paper strip"}
    with known_runs.store_new_runs():
        plain = Cell(**strip).run(minutes=0.1, samples=3)
        assert Cell(**strip, crystal="KMnO4").run(minutes=0.1, samples=3) is not plain
    known_runs.forget()


def test_another_plan_is_run_anew(first):
    cell = Cell("CuSO4")
    assert cell.run(minutes=0.2, samples=3) is not first
    assert cell.run(minutes=0.1, samples=4) is not first
    assert cell.run(stages=[Stage(0.1, swapped=True)], samples=3) is not first
    assert cell.run(stages=[Stage(0.1)], samples=3) is first


def test_nothing_is_kept_at_other_times():
    assert Cell("CuSO4").run(minutes=0.1, samples=3) is not Cell("CuSO4").run(
        minutes=0.1, samples=3
    )


def test_a_liquid_that_is_known_is_found_again_and_another_is_worked_out_anew():
    with known_runs.store_new_runs():
        known = Cell("CuSO4").liquid()
    assert Cell("CuSO4").liquid() is known
    assert Cell("CuSO4", concentration_mol_dm3=0.4).liquid() is not known
    known_runs.forget()
    assert Cell("CuSO4").liquid() is not known
