"""Near its equilibrium a reaction's rate falls to nothing, and the current with the voltage."""

import math

import numpy as np
import pytest

import fizzplate as fp
from fizzplate.cell.residual_current import liquid_resistance_ohm

RT_F_V = 0.025693  # 25 degrees
ONE_MINUTE = [fp.Stage(1)]


def copper_run(volts, stages=ONE_MINUTE):
    cell = fp.Cell("CuSO4", cathode="copper", anode="copper", supply_V=volts)
    return cell.run(stages=stages, samples=3)


def test_between_copper_electrodes_the_current_is_in_proportion_to_a_small_voltage():
    volts = np.array([1e-5, 1e-4, 1e-3, 2e-3])
    ohm = volts / [float(copper_run(each).current_A[0]) for each in volts]
    assert ohm == pytest.approx(ohm[0], rel=1e-3)


def test_the_current_at_a_millivolt_is_that_of_the_exchange_current():
    """Butler-Volmer made linear: R = RT / (n F i0 A) at each electrode, and the liquid between them.

    i0 is 100 A/m2 times (activity of copper ions) ** (1 - 0.5 / 2): 0.062 of 0.5 mol/dm3 by Robinson and
    Stokes, as remembered.
    """
    run = copper_run(1e-3)
    electrodes_ohm = 2 * RT_F_V / (2 * 100 * (0.5 * 0.062) ** 0.75 * 5.5e-4)
    expected_A = 1e-3 / (electrodes_ohm + liquid_resistance_ohm(run))
    assert run.current_A[0] == pytest.approx(expected_A, rel=0.05)


def test_swapped_wires_turn_the_current_round_at_a_millivolt():
    run = copper_run(1e-3, [fp.Stage(1), fp.Stage(1, swapped=True)])
    one_way, other_way = run.current_A[0], run.current_A[-1]
    assert other_way == pytest.approx(one_way, rel=0.02)
    gained_g = run.cathode.mass_g("Cu")
    assert gained_g[1] > 0
    assert abs(gained_g[-1]) < 0.02 * gained_g[1]


@pytest.mark.parametrize(
    ("formula", "rods", "volts"),
    [
        ("KI", "copper", 0.35),
        ("KI", "graphite", 1.2),
        ("KBr", "graphite", 1.3),
        ("HCl", "graphite", 1.3),
        ("H2SO4", "platinum", 1.5),
        ("CuCl2", "graphite", 0.3),
    ],
)
def test_a_run_just_below_or_above_the_onset_needs_few_steps(formula, rods, volts):
    cell = fp.Cell(formula, concentration_mol_dm3=0.1, cathode=rods, anode=rods, supply_V=volts)
    run = cell.run(minutes=10, samples=3)
    assert run.steps < 150
    assert (run.current_A < 2e-3).all()
    assert not any("sodium nitrate" in sentence for sentence in run.warnings)


def test_less_than_any_meter_shows_is_no_current():
    run = fp.Cell("H2SO4", anode="platinum", cathode="platinum", supply_V=1.0).run(1, samples=3)
    assert math.fsum(run.current_A) == 0.0
    assert run.voltage_V == pytest.approx(1.0)
