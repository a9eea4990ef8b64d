"""Oxygen of the air at the cathode: a run, which leaves it out, says so where it counts."""

import re

import numpy as np
import pytest

import fizzplate as fp
from fizzplate.cell.air_oxygen import limiting_current_A
from fizzplate.words.wording import Wording

LAMP = fp.Lamp(6.0, 0.06)
COPPER = {"anode": "copper", "cathode": "copper"}
PLATINUM = {"anode": "platinum", "cathode": "platinum"}


def warning(run):
    """Return the sentence on oxygen of the air, or an empty text."""
    return next((each for each in run.warnings if each.startswith("Oxygen from the air")), "")


def figures_mA(run):
    """Return the currents that the sentence names."""
    return [float(number) for number in re.findall(r"([\d.]+) mA", warning(run))]


def by_hand_mA(cell):
    """Return 4 F A D c / d of air-saturated water at 25 degrees: 0.26 mmol/dm3, 2e-9 m2/s."""
    layer_m = cell.geometry.film_m / 2
    return 1e3 * 4 * 96485 * cell.immersed_area_cm2 * 1e-4 * 2e-9 * 0.26 / layer_m


@pytest.mark.parametrize("strength", [0.01, 0.001])
def test_a_thin_solution_says_how_much_oxygen_takes(strength):
    cell = fp.Cell("NaCl", concentration_mol_dm3=strength)
    run = cell.run(minutes=2, samples=9)
    oxygen_mA, current_mA = figures_mA(run)
    assert oxygen_mA == pytest.approx(by_hand_mA(cell), rel=0.25)
    assert current_mA == pytest.approx(1e3 * run.current_A[1:].min(), rel=0.05)
    assert "The model leaves this oxygen out" in warning(run)
    assert "used up" in warning(run)
    assert "more keeps coming from the air" in warning(run)


@pytest.mark.parametrize(
    "cell",
    [
        fp.Cell("NaCl", lamp=LAMP),
        fp.Cell("NaCl"),
        fp.Cell("CuSO4", lamp=LAMP),
        fp.Cell("CuSO4", **COPPER, current_A=0.1),
        fp.Cell("AgNO3", concentration_mol_dm3=0.1, lamp=LAMP),
        fp.Cell("KI", vessel="dish"),
        fp.Cell("NaCl", vessel="U-tube"),
        fp.Cell("KNO3", vessel="paper strip"),
        fp.Cell("H2O"),
    ],
    ids=lambda cell: f"{cell.name}, {cell.vessel.name}",
)
def test_ordinary_cells_say_nothing(cell):
    assert warning(cell.run(minutes=2, samples=9)) == ""


def test_where_the_supply_holds_the_current_oxygen_takes_no_more_than_that():
    run = fp.Cell("CuSO4", **COPPER, current_A=1e-4).run(minutes=1, samples=3)
    assert figures_mA(run) == [0.1, 0.1]


def test_pure_water_lets_no_more_through_with_oxygen_than_without():
    run = fp.Cell("H2O", supply_V=30.0).run(minutes=1, samples=3)
    oxygen_mA, current_mA = figures_mA(run)
    assert current_mA <= oxygen_mA < 1.1 * current_mA


def test_silver_plates_where_oxygen_is_hardly_reduced():
    silver = {"anode": "silver", "cathode": "silver"}
    assert warning(fp.Cell("AgNO3", **silver, supply_V=0.1).run(minutes=1, samples=3)) == ""


def test_below_the_decomposition_voltage_it_is_the_current_of_the_curve():
    cell = fp.Cell("H2SO4", **PLATINUM)
    curve = fp.sweep_voltage(cell, to_V=2.0, points=11)
    run = cell.at_voltage(1.2).run(minutes=1, samples=3)
    assert (run.current_A == 0).all()
    there_A = np.interp(1.2, curve.voltage_V, curve.residual_current_A)
    (oxygen_mA,) = figures_mA(run)
    assert oxygen_mA == pytest.approx(1e3 * there_A, rel=0.05)
    assert "hardly any other current flows" in warning(run)
    assert warning(cell.at_voltage(0.3).run(minutes=1, samples=3)) == ""


def test_with_the_wires_swapped_the_other_electrode_is_the_cathode():
    thin = fp.Cell("NaCl", concentration_mol_dm3=0.01)
    both = thin.run(stages=[fp.Stage(2), fp.Stage(2, swapped=True), fp.Stage(1, off=True)])
    assert [each for each in both.warnings if each.startswith("Oxygen from the air")] == [
        warning(both)
    ]
    assert figures_mA(both)[0] == pytest.approx(1e3 * limiting_current_A(thin, 60.0), rel=0.05)


def test_it_is_said_in_the_boards_wording():
    run = fp.Cell("NaCl", concentration_mol_dm3=0.01).run(minutes=2, samples=9)
    sentences = run.warnings_in(Wording(electrode_names="negative"))
    assert any("takes electrons at the negative electrode" in each for each in sentences)
