"""Every vessel runs, and a coloured ion crawls along a damp strip as the demonstration shows it."""

import numpy as np
import pytest

import fizzplate as fp
from fizzplate.chemistry import InputError


@pytest.mark.parametrize("vessel", fp.vessels())
def test_every_vessel_holds_its_liquid_and_runs(vessel):
    cell = fp.Cell("NaCl", vessel=vessel)
    run = cell.run(minutes=2, samples=5)
    assert run.volume_m3.sum() * 1e6 == pytest.approx(cell.volume_cm3)
    assert run.cathode.products[0] == "H2"
    assert run.charge_C[-1] > 0


def test_permanganate_crawls_to_the_anode_at_the_speed_of_its_ion():
    cell = fp.Cell("KNO3", vessel="paper strip", supply_V=20.0, crystal="KMnO4")
    run = cell.run(minutes=15, samples=31)
    colour_mol = run.concentration("MnO4-") * run.volume_m3
    assert colour_mol.sum(1) == pytest.approx(colour_mol.sum(1)[0], rel=1e-9)
    place_m = (colour_mol @ run.position_m) / colour_mol.sum(1)
    # towards the anode, some millimetres in a quarter of an hour, as seen in class
    assert 4e-3 < place_m[-1] - place_m[0] < 15e-3
    # the middle of the colour goes as its ions do where they are; the drift that is told leaves out the
    # field that diffusion makes by itself, worth some per cent here
    ions_m_s = (colour_mol * run.drift_velocity_m_s("MnO4-")).sum(1) / colour_mol.sum(1)
    travelled_m = np.trapezoid(ions_m_s, run.time_s)
    assert place_m[-1] - place_m[0] == pytest.approx(travelled_m, rel=0.1)


def test_only_a_strip_takes_a_crystal():
    with pytest.raises(InputError, match="crystal"):
        fp.Cell("KNO3", crystal="KMnO4")


@pytest.mark.parametrize("vessel", ["paper strip", "still column"])
def test_a_volume_that_the_measures_fix_is_refused(vessel):
    with pytest.raises(InputError, match="volume_cm3"):
        fp.Cell("NaCl", vessel=vessel, volume_cm3=60)


def test_between_copper_plates_the_profile_becomes_a_straight_line():
    """At rest with the current: as much copper comes as goes, so the gradient is the same all along."""
    cell = fp.Cell(
        "CuSO4",
        concentration_mol_dm3=0.1,
        anode="copper",
        cathode="copper",
        vessel="still column",
        gap_cm=0.1,
        current_A=1e-3,
    )
    run = cell.run(minutes=60, samples=3)
    copper = run.concentration("Cu2+")[-1]
    straight = np.interp(run.position_m, run.position_m[[0, -1]], copper[[0, -1]])
    assert copper[-1] - copper[0] > 40
    # the diffusion coefficient follows the composition, which bends the line a little
    assert copper == pytest.approx(straight, abs=0.05 * (copper[-1] - copper[0]))


@pytest.mark.parametrize("gap_cm", [0.1, 1.0, 10.0])
def test_what_is_not_mixed_is_cut_finely_at_both_faces_and_no_finer_than_needed(gap_cm):
    """Half a micrometre at the faces keeps limiting currents right; each step is a fifth wider."""
    cell = fp.Cell("CuSO4", vessel="still column", gap_cm=gap_cm)
    steps = np.diff(cell.run(minutes=0.01, samples=2).position_m)
    assert steps.sum() == pytest.approx(gap_cm * 1e-2)
    assert steps == pytest.approx(steps[::-1])
    assert 0.15e-6 < steps[0] < 0.6e-6
    half = steps[: steps.size // 2]
    assert half[1:] / half[:-1] == pytest.approx(1.2, rel=0.15)


@pytest.mark.parametrize(
    ("vessel", "said"),
    [
        ("paper strip", "Most of the chlorine escapes from damp paper into the air"),
        ("dish", "Some chlorine escapes from a few drops into the air"),
        ("beaker", ""),
    ],
)
def test_where_chlorine_escapes_from_a_thin_liquid_that_is_said(vessel, said):
    run = fp.Cell("NaCl", vessel=vessel).run(minutes=1, samples=3)
    escapes = [each for each in run.warnings if "into the air" in each]
    assert [each.startswith(said) for each in escapes] == ([True] if said else [])


def test_in_a_beaker_chlorate_forms_too_slowly_for_a_lesson():
    """Chlorate(V) by k c(HClO)^2 c(ClO-), 5e-4 dm6/(mol2 s) at 25 °C (remembered), as the table says."""
    run = fp.Cell("NaCl", supply_V=12.0).run(minutes=30, samples=31)
    acid, ions = (run.concentration(each) / 1e3 for each in ("HClO", "ClO-"))
    formed_mol_s = (5e-4 * 1e3 * acid**2 * ions) @ run.volume_m3
    formed_mol = float(formed_mol_s.mean()) * 1800
    assert formed_mol < 0.01 * float(run.anode.amount_mol("Cl2")[-1])
