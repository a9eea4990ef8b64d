"""Anodes that a film of oxide protects: in alkali without halide they evolve oxygen."""

from __future__ import annotations

import pytest

import fizzplate as fp
from fizzplate.lesson import charge_share, differences

LAMP = fp.Lamp(6.0, 0.3)


def run_of(solution, anode):
    return fp.Cell(solution, anode=anode, cathode="graphite", lamp=LAMP).run(minutes=2, samples=3)


@pytest.mark.parametrize("anode", ["nickel", "iron", "copper", "silver"])
def test_in_alkali_an_anode_keeps_its_mass_and_oxygen_forms(anode):
    run = run_of("NaOH", anode)
    metal = fp.chemistry.electrodes()[anode].formula
    assert charge_share(run.anode, "O2") == pytest.approx(1.0)
    assert metal not in run.anode.solids
    _, said = differences(run)
    assert any("layer of oxide keeps the metal from dissolving" in each for each in said)
    assert not any("goes on dissolving" in each for each in run.warnings)


def test_with_chloride_the_film_breaks():
    run = run_of({"NaOH": 0.5, "NaCl": 0.1}, "nickel")
    assert charge_share(run.anode, "Ni2+") > 0.9


def test_zinc_dissolves_in_alkali():
    assert charge_share(run_of("NaOH", "zinc").anode, "Zn2+") > 0.9


def test_nickel_dissolves_in_what_is_no_alkali_and_a_warning_says_that_it_may_not():
    run = run_of("NiSO4", "nickel")
    assert charge_share(run.anode, "Ni2+") > 0.9
    assert any("goes on dissolving" in each for each in run.warnings)
