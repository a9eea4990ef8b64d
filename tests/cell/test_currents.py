"""Currents that departments see at 6 V without a small lamp (common practice, no source)."""

import pytest

import fizzplate as fp

# solution, mol/dm3, rods, and the currents that are seen, A
SEEN = [
    ("NaCl", 1.0, "graphite", 0.3, 0.8),
    ("Na2SO4", 0.5, "graphite", 0.2, 0.5),
    ("CuCl2", 0.5, "graphite", 0.2, 0.6),
    ("CuSO4", 0.5, "graphite", 0.1, 0.3),
    ("CuSO4", 0.5, "copper", 0.2, 0.5),
    ("KI", 0.5, "graphite", 0.3, 0.6),
    ("AgNO3", 0.1, "graphite", 0.0, 0.1),
]


@pytest.mark.parametrize(("formula", "strength", "rods", "min_current_A", "max_current_A"), SEEN)
def test_a_current_is_within_a_factor_of_two_of_what_is_seen(
    formula, strength, rods, min_current_A, max_current_A
):
    cell = fp.Cell(formula, concentration_mol_dm3=strength, anode=rods, cathode=rods)
    current_A = float(cell.run(minutes=2, samples=3).current_A[1])
    assert min_current_A / 2 < current_A < 2 * max_current_A


@pytest.mark.parametrize(("volts", "share"), [(3.0, 0.683), (4.5, 0.854), (6.0, 1.0)])
def test_a_filament_lamp_passes_more_than_its_share_of_the_current_at_less_voltage(volts, share):
    """As V^0.55 (common practice for tungsten filaments): 41 mA of a 6 V, 60 mA lamp at 3 V."""
    lamp = fp.Lamp(6.0, 0.06)
    assert float(lamp.voltage_V(0.06 * share)) == pytest.approx(volts, rel=0.005)


def test_a_lamp_at_half_its_voltage_gives_a_tenth_of_its_light():
    """As V^3.4 (common practice for tungsten filaments)."""
    lamp = fp.Lamp(6.0, 0.06)
    assert float(lamp.light(0.683 * 0.06)) == pytest.approx(0.095, abs=0.003)
    assert float(lamp.light(0.06)) == pytest.approx(1.0)


def test_a_deposit_beyond_the_limiting_current_is_called_spongy():
    thin = fp.Cell("CuSO4", concentration_mol_dm3=0.05, current_A=0.1).run(minutes=5)
    assert thin.cathode.limiting_share.max() > 0.95
    assert any("spongy" in said for said in thin.warnings)
    usual = fp.Cell("CuSO4", lamp=fp.Lamp(6.0, 0.06)).run(minutes=5)
    assert usual.cathode.limiting_share.max() < 0.6
    assert not any("spongy" in said or "rough" in said for said in usual.warnings)


def test_silver_chloride_on_a_silver_anode_is_no_spongy_metal():
    """Chloride, not a metal's ions, no longer reaches the anode."""
    run = fp.Cell("HCl", concentration_mol_dm3=0.02, anode="silver", current_A=0.1).run(minutes=2)
    assert run.anode.share("O2")[-1] > 0.1
    assert not any("spongy" in said or "rough" in said for said in run.warnings)
    assert run.anode.limiting_share.max() == 0.0


def test_a_zinc_anode_of_a_given_mass_is_used_up():
    cell = fp.Cell("ZnSO4", anode="zinc", anode_mass_g=0.05, current_A=0.2)
    run = cell.run(minutes=30)
    assert run.anode.mass_g("Zn").min() == pytest.approx(-0.05, rel=0.01)
    assert run.anode.share("Zn2+")[-1] < 0.01
    assert run.anode.share("O2")[-1] > 0.9
    assert any("All 0.05" in said and "dissolves" in said for said in run.warnings)
