"""Anodes that a film of oxide protects: in alkali without halide they evolve oxygen."""

from __future__ import annotations

import itertools

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


def oxygen_share(solution, anode):
    return charge_share(run_of(solution, anode).anode, "O2")


def test_with_more_chloride_than_hydroxide_the_film_breaks():
    run = run_of({"NaOH": 0.5, "NaCl": 1.5}, "nickel")
    assert charge_share(run.anode, "Ni2+") > 0.9


def test_what_breaks_a_film_on_steel_is_near_six_chloride_ions_for_ten_of_hydroxide():
    """Hausmann 1967 (remembered), in alkali of any strength that supplies the anode: no cliff on the way."""
    shares = [
        oxygen_share({"NaOH": 0.5, "NaCl": 0.5 * ratio}, "iron")
        for ratio in (0.05, 0.3, 0.6, 1.2, 6)
    ]
    assert shares[0] > 0.95
    assert 0.1 < shares[2] < 0.9
    assert shares[-1] < 0.05
    steps = [before - after for before, after in itertools.pairwise(shares)]
    assert all(0 < step < 0.6 for step in steps)


def test_the_same_chloride_breaks_no_film_in_strong_alkali():
    strong, weak = ({"NaOH": alkali, "NaCl": 0.1} for alkali in (1.5, 0.1))
    assert oxygen_share(strong, "nickel") > 0.95
    assert oxygen_share(weak, "nickel") < 0.3


def test_bromide_breaks_a_film_less_than_chloride_and_iodide_none():
    chloride, bromide = (
        oxygen_share({"NaOH": 1.0, salt: 0.6}, "nickel") for salt in ("NaCl", "NaBr")
    )
    assert bromide > chloride + 0.2
    assert "Ni2+" not in run_of({"NaOH": 0.5, "NaI": 0.5}, "nickel").anode.products


def test_cells_side_by_side_keep_their_own_films():
    cells = [
        fp.Cell({"NaOH": 0.5, "NaCl": c}, anode="nickel", cathode="graphite", lamp=LAMP)
        for c in (0.02, 3.0)
    ]
    few, many = (charge_share(r.anode, "O2") for r in fp.run_many(cells, minutes=2, samples=3))
    assert few > 0.95
    assert many < 0.1


def test_zinc_dissolves_in_alkali():
    assert charge_share(run_of("NaOH", "zinc").anode, "Zn2+") > 0.9


def test_zinc_in_alkali_stands_near_the_potential_of_zincate():
    """-1.2 V against hydrogen in 1 mol/dm3, as in alkaline batteries (remembered), not -0.8 V."""
    cell = fp.Cell("NaOH", concentration_mol_dm3=1.0, anode="zinc", current_A=0.02)
    run = cell.run(minutes=5, samples=6)
    assert -1.25 < run.anode.potential_V[-1] < -1.1
    assert charge_share(run.anode, "Zn2+") == pytest.approx(1.0, abs=1e-3)
    assert run.anode.amount_mol("Zn2+")[-1] == pytest.approx(run.charge_C[-1] / 96485 / 2, rel=1e-3)


def test_zinc_plates_again_from_zincate_that_reaches_the_cathode():
    stages = [fp.Stage(10), fp.Stage(5, swapped=True)]
    run = fp.Cell("NaOH", anode="zinc", cathode="zinc", current_A=0.02).run(
        stages=stages, samples=16
    )
    assert run.anode.share("Zn")[-1] > 0.02


def test_nickel_dissolves_in_what_is_no_alkali_and_a_warning_says_that_it_may_not():
    run = run_of("NiSO4", "nickel")
    assert charge_share(run.anode, "Ni2+") > 0.9
    assert any("goes on dissolving" in each for each in run.warnings)


@pytest.mark.parametrize(
    ("solution", "material", "said"),
    [
        (
            "NiSO4",
            "nickel",
            "Without chloride or bromide, an oxide layer soon covers a nickel anode",
        ),
        ("NaNO3", "iron", "In nitrate, an oxide layer soon covers an iron anode"),
        ("Na2SO4", "iron", "In sulfate, an iron anode dissolves at the currents of a lesson."),
        ("NaCl", "nickel", ""),
        ("NaCl", "iron", ""),
        ({"Na2SO4": 0.5, "NaBr": 0.1}, "iron", ""),
    ],
)
def test_what_is_said_of_films_outside_alkali_depends_on_the_solution(solution, material, said):
    """Chloride keeps nickel and iron dissolving; nitrate stops iron, sulfate only at large currents."""
    run = fp.Cell(solution, anode=material, lamp=fp.Lamp(6.0, 0.06)).run(minutes=1, samples=3)
    films = [each for each in run.warnings if "passivation" in each]
    assert [each.startswith(said) for each in films] == ([True] if said else [])
