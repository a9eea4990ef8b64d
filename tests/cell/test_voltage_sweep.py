"""A current-voltage curve: its points are runs, its foot the residual current, its onset the cell's own."""

import numpy as np
import pytest

import fizzplate as fp
from fizzplate.cell.air_oxygen import limiting_current_A

BRINE = fp.Cell("NaCl", concentration_mol_dm3=1.0, lamp=fp.Lamp(6.0, 0.06))


@pytest.fixture(scope="module")
def brine():
    return fp.sweep_voltage(BRINE)


def test_the_curve_goes_from_0_to_6_volts_and_is_closest_about_the_onset(brine):
    assert brine.voltage_V[0] == brine.current_A[0] == 0
    assert brine.voltage_V[-1] == pytest.approx(6.0)
    steps = np.diff(brine.voltage_V)
    assert (steps > 0).all()
    assert brine.voltage_V[steps.argmin()] <= brine.onset_V + 0.06
    assert brine.voltage_V.shape == brine.current_A.shape == brine.residual_current_A.shape


def test_far_above_the_onset_it_is_what_runs_give_without_the_lamp(brine):
    run = fp.Cell("NaCl", concentration_mol_dm3=1.0, supply_V=6.0).run(minutes=1, samples=2)
    # what the air's oxygen adds the liquid's resistance takes off again, but for some parts in a million
    assert brine.current_A[-1] == pytest.approx(run.current_A[-1], rel=2e-5)


def test_below_the_onset_flows_what_oxygen_of_the_air_can_carry(brine):
    below = (brine.voltage_V > 1.6) & (brine.voltage_V < 2.2)
    # 4 F A D c / d by hand: 5.5 cm2, 2.35e-9 m2/s, 0.21 of 1.264 mol/m3, half of 0.4 mm
    by_hand_A = 4 * 96485 * 5.5e-4 * 2.35e-9 * 0.21 * 1.264 / 2e-4
    assert brine.current_A[below] == pytest.approx(by_hand_A, rel=0.01)
    assert brine.current_A[brine.voltage_V < 0.7].max() < 0.05 * by_hand_A
    assert (np.diff(brine.residual_current_A) > -1e-9).all()
    assert brine.residual_current_A.max() <= by_hand_A * 1.0001


def test_where_nothing_is_mixed_the_residual_current_falls_with_time():
    strip = fp.Cell("KI", vessel="paper strip")
    assert limiting_current_A(strip, 240.0) == pytest.approx(limiting_current_A(strip, 60.0) / 2)
    assert limiting_current_A(BRINE, 240.0) == limiting_current_A(BRINE, 60.0)


def test_the_onset_does_not_depend_on_the_path_through_the_liquid():
    beaker, strip = (
        fp.sweep_voltage(fp.Cell("KI", vessel=vessel), to_V=3.0, points=7)
        for vessel in ("beaker", "paper strip")
    )
    assert strip.onset_V == pytest.approx(beaker.onset_V, abs=0.06)
    above_A = strip.current_A - strip.residual_current_A
    crossing_V = np.interp(strip.onset_current_A, above_A, strip.voltage_V)
    assert crossing_V > strip.onset_V + 0.3  # what the liquid of the strip takes


def test_a_copper_anode_needs_no_voltage():
    copper = fp.Cell("CuSO4", anode="copper", cathode="copper")
    assert fp.sweep_voltage(copper, to_V=1.0, points=5).onset_V < 0.05


def test_where_hardly_any_current_flows_there_is_no_onset():
    curve = fp.sweep_voltage(fp.Cell("H2O"), to_V=3.0, points=5, minutes=0.1)
    assert curve.onset_V is None
    assert 0 < curve.current_A[-1] < 1e-4
    ohm = np.diff(curve.voltage_V)[-1] / np.diff(curve.current_A)[-1]
    assert ohm > 1e5  # oxygen of the air gets no more current through the water than hydrogen does


def test_the_curve_ends_where_the_supply_gives_no_more():
    acid = fp.Cell("HCl", anode="platinum", cathode="platinum", supply_limit_A=0.2)
    curve = fp.sweep_voltage(acid, to_V=5.0, points=6)
    assert curve.supply_limited
    assert curve.voltage_V[-1] < 3.5
    assert curve.current_A[-1] == pytest.approx(0.2, rel=0.01)
    assert (np.diff(curve.voltage_V) > 0).all()


@pytest.mark.parametrize(
    ("cell", "given", "said"),
    [
        (
            fp.Cell("NaCl"),
            {"to_V": 0},
            "to_V: 0 cannot be used. Use a number above 0 and at most 30 V",
        ),
        (fp.Cell("NaCl"), {"to_V": 40}, "at most 30 V (more is not safe to touch)"),
        (fp.Cell("NaCl"), {"points": 2}, "points: 2 cannot be used. Use a whole number from 5"),
        (fp.Cell("NaCl"), {"minutes": 0}, "minutes: 0.* above 0"),
        (fp.Cell("PbBr2(l)"), {}, "no bench model for melts"),
    ],
)
def test_what_cannot_be_swept_is_refused(cell, given, said):
    with pytest.raises(ValueError, match=said.replace("(", r"\(").replace(")", r"\)")):
        fp.sweep_voltage(cell, **given)
