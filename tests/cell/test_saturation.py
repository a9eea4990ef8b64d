"""A metal that dissolves never makes more than a saturated solution: crystals cover it and slow it down."""

import numpy as np
import pytest

import fizzplate as fp
from fizzplate import data
from fizzplate.cell.physics.butler_volmer import Kinetics
from fizzplate.cell.solver.model import Model
from fizzplate.chemistry import molar_mass_g_mol
from fizzplate.lesson import differences

COPPER = {"anode": "copper", "cathode": "copper"}
STRONG = {"supply_V": 12.0, "supply_limit_A": 3.0}


def crystals(run):
    return next((each for each in run.warnings if "crystals cover" in each), "")


def fullest(run, cation, anion):
    """Return the product of a salt's ions over that of its saturated solution, where it is largest."""
    (row,) = (
        row for row in data.rows("solubility") if (row["cation"], row["anion"]) == (cation, anion)
    )
    charges = [1 if ion in {"Ag+", "NO3-"} else 2 for ion in (cation, anion)]
    numbers = [charges[1], charges[0]]
    saturated = [1e3 * row.value, 1e3 * row.value * numbers[1] / numbers[0]]
    product = (run.concentration(cation) / saturated[0]) ** numbers[0]
    product = product * (run.concentration(anion) / saturated[1]) ** numbers[1]
    return float(product.max()) ** (1 / sum(numbers))


@pytest.mark.parametrize(
    ("solution", "strength", "vessel", "ions"),
    [
        ("CuSO4", 1.3, "paper strip", ("Cu2+", "SO4^2-")),
        ("Na2SO4", 0.5, "paper strip", ("Cu2+", "SO4^2-")),
        ("CuSO4", 1.3, "still column", ("Cu2+", "SO4^2-")),
        ("CuSO4", 1.3, "beaker", ("Cu2+", "SO4^2-")),
        ("Na2SO4", 0.5, "dish", ("Cu2+", "SO4^2-")),
        ("Cu(NO3)2", 2.0, "dish", ("Cu2+", "NO3-")),
    ],
)
def test_nothing_at_a_copper_anode_is_above_saturation(solution, strength, vessel, ions):
    cell = fp.Cell(solution, concentration_mol_dm3=strength, vessel=vessel, **COPPER, **STRONG)
    run = cell.run(minutes=30)
    assert 0.9 < fullest(run, *ions) < 1.1
    assert "saturated with copper(II)" in crystals(run)
    # what the anode loses is in the liquid or on the cathode
    held_mol = (run.concentration("Cu2+") * run.volume_m3).sum(axis=1)
    clouds_mol = sum(run.haze_mol(solid) for solid in run.hazes if "Cu" in solid)
    gained_mol = run.cathode.mass_g("Cu") / 63.546
    lost_mol = -run.anode.mass_g("Cu") / 63.546
    balance_mol = held_mol - held_mol[0] + gained_mol + clouds_mol - lost_mol
    assert np.abs(balance_mol).max() < 1e-4 * max(lost_mol.max(), held_mol[0])


def test_it_dissolves_no_faster_than_its_ions_leave():
    """Cottrell: a layer at saturation takes up current with the square root of the time."""
    cell = fp.Cell(
        "CuSO4",
        concentration_mol_dm3=1.0,
        vessel="still column",
        gap_cm=4.0,
        supply_V=8.0,
        **COPPER,
    )
    run = cell.run(minutes=8, samples=9)
    dissolving_A = run.current_A * run.anode.share("Cu2+")
    assert dissolving_A[8] / dissolving_A[2] == pytest.approx(0.5, rel=0.1)


def test_what_flows_besides_makes_oxygen():
    cell = fp.Cell("Na2SO4", vessel="paper strip", **COPPER, **STRONG)
    run = cell.run(minutes=30)
    assert run.anode.share("Cu2+")[1] > 0.95
    assert run.anode.share("O2")[-1] > 0.5


@pytest.mark.parametrize(
    ("solution", "metal"), [("CuSO4", "copper"), ("ZnSO4", "zinc"), ("NiSO4", "nickel")]
)
def test_in_a_beaker_with_a_lamp_nothing_crystallises(solution, metal):
    cell = fp.Cell(solution, anode=metal, cathode=metal, lamp=fp.Lamp(6.0, 0.06))
    run = cell.run(minutes=10)
    assert not crystals(run)
    assert run.anode.share(run.anode.products[0])[-1] > 0.98


def test_more_of_the_anion_leaves_less_room_for_the_metal():
    strong = {"vessel": "dish", **COPPER, **STRONG}
    alone = fp.Cell("CuSO4", concentration_mol_dm3=1.0, **strong).run(minutes=5)
    beside = fp.Cell({"CuSO4": 1.0, "H2SO4": 1.5}, **strong).run(minutes=5)
    assert alone.concentration("Cu2+").max() == pytest.approx(1350, rel=0.03)
    assert beside.concentration("Cu2+").max() < 1250


def test_slopes_are_right_on_both_sides_of_saturation():
    cell = fp.Cell("CuSO4", **COPPER)
    model = Model.of(cell)
    electrodes = (model.electrode("cathode", "copper"), model.electrode("anode", "copper"))
    names = model.speciation.carried
    kinetics = Kinetics(electrodes, len(names), [{}], 298.15)
    E, ln_density = np.array([[0.2, 0.9]]), np.log(np.array([[500.0, 500.0]]))
    for strength in (1340.0, 1352.0, 1400.0):
        c = np.full((1, 2, len(names)), 1e-4)
        for ion in ("Cu2+", "SO4^2-"):
            c[..., names.index(ion)] = strength
        found = kinetics.rates(E, c, ln_density)
        for ion in ("Cu2+", "SO4^2-"):
            k = names.index(ion)
            step = np.zeros_like(c)
            step[..., k] = 1e-4
            after, before = (kinetics.rates(E, c + s * step, ln_density) for s in (1, -1))
            by_c = (after.miss - before.miss) / 2e-4
            assert found.miss_by_c[0, 1, k] == pytest.approx(by_c[0, 1], rel=1e-4, abs=1e-9)
            by_c = (after.share - before.share) / 2e-4
            assert found.share_by_c[0, 1, :, k] == pytest.approx(by_c[0, 1], rel=1e-3, abs=1e-9)


@pytest.mark.parametrize("salt", ["Na2SO4", "CuSO4", "MgSO4"])
def test_silver_sulfate_covers_a_silver_anode_before_oxygen_forms(salt):
    run = fp.Cell(salt, anode="silver", lamp=fp.Lamp(6.0, 0.06)).run(minutes=5, samples=9)
    assert fullest(run, "Ag+", "SO4^2-") < 1.1
    assert run.anode.products[0] == "Ag2SO4"
    assert run.anode.charge_share("Ag2SO4")[-1] > 0.8
    assert run.anode.charge_share("O2")[-1] < 1e-3
    assert run.anode.potential_V[-1] < 1.3
    # two silver atoms a sulfate ion: the electrode gains the sulfate, whose mass the layer holds
    layer_mol = run.anode.mass_g("Ag2SO4")[-1] / molar_mass_g_mol("Ag2SO4")
    silver_mol = -run.anode.mass_g("Ag")[-1] / molar_mass_g_mol("Ag")
    given_mol = run.anode.amount_mol("Ag+")[-1]
    assert silver_mol == pytest.approx(2 * layer_mol + given_mol, rel=1e-9)
    assert crystals(run) == ""
    assert any("Silver sulfate covers the silver" in said for said in run.warnings)


def test_the_layer_of_silver_sulfate_turns_back_into_silver_as_a_cathode():
    cell = fp.Cell("Na2SO4", anode="silver", lamp=fp.Lamp(6.0, 0.06))
    run = cell.run(stages=[fp.Stage(2), fp.Stage(4, swapped=True)], samples=13)
    assert run.anode.mass_g("Ag2SO4").max() > 5e-3
    assert run.anode.mass_g("Ag2SO4")[-1] == pytest.approx(0.0, abs=1e-4)


def test_silver_nitrate_poured_into_a_sulfate_clouds_until_it_is_saturated():
    """As much as 0.027 mol/dm3 of the salt dissolves in water (CRC), half more beside much sodium nitrate."""
    cell = fp.Cell("Na2SO4", concentration_mol_dm3=0.03)
    poured = fp.Stage(1, off=True, add={"AgNO3": (10.0, 1.0)})
    run = cell.run(stages=[fp.Stage(1, off=True), poured], samples=5)
    assert run.haze_mol("Ag2SO4")[-1] > 1e-4
    silver, sulfate = (
        run.amount_mol(ion)[-1] / run.volume_cm3[-1] * 1e3 for ion in ("Ag+", "SO4^2-")
    )
    assert 0.027 < (silver**2 * sulfate / 4) ** (1 / 3) < 0.041


@pytest.mark.parametrize(
    ("solution", "vessel", "halogen", "apart", "looks", "saturated"),
    [
        ("KI", "beaker", "I2", "I2(s)", "dark cloud of iodine", 1.33),
        (
            "NaBr",
            "still column",
            "Br2",
            "Br2(l)",
            "red-brown cloud of drops of bromine",
            214,
        ),
    ],
)
def test_more_iodine_or_bromine_than_water_holds_is_solid_or_drops(
    solution, vessel, halogen, apart, looks, saturated
):
    cell = fp.Cell(solution, vessel=vessel, supply_V=12.0)
    run = cell.run(minutes=5, samples=5)
    assert run.concentration(halogen).max() == pytest.approx(saturated, rel=2e-3)
    assert float(run.haze_mol(apart)[-1]) > 1e-5
    _, said = differences(run)
    assert any(looks in each for each in said)


def test_iodide_keeps_far_more_iodine_dissolved_than_water_and_then_none_is_solid():
    run = fp.Cell("KI", lamp=fp.Lamp(6.0, 0.06)).run(minutes=5, samples=3)
    assert run.concentration("I3^-").max() > 10
    assert float(run.haze_mol("I2(s)")[-1]) < 1e-9


def test_iron_three_is_never_above_saturation_and_oxygen_forms_on_the_covered_iron():
    """Nitrate makes iron passive (common practice): 15 mol/dm3 of iron(III) are impossible."""
    cell = fp.Cell(
        "NaNO3", concentration_mol_dm3=4.0, anode="iron", supply_V=30.0, vessel="paper strip"
    )
    run = cell.run(minutes=5, samples=11)
    saturated = data.find("solubility", cation="Fe3+", anion="NO3-").value
    assert run.concentration("Fe3+").max() < 1.1e3 * saturated
    assert run.anode.charge_share("O2")[-1] > 0.5
    assert any("saturated with iron(III) nitrate" in each for each in run.warnings)


def test_crystals_of_a_copper_two_salt_keep_back_copper_one_as_well():
    """No halide is left there that could hold copper(I), and water turns free copper(I) into copper(II).

    Without that, 0.1 mol/dm3 of it was free: chloride that it is shown with fell below nothing.
    """
    acid = {"Cu(NO3)2": 3.0, "HCl": 0.5}
    cell = fp.Cell(acid, anode="copper", vessel="paper strip", supply_V=12.0)
    run = cell.run(minutes=2, samples=5)
    assert run.concentration("Cl-").min() > -1e-3
    assert run.anode.charge_share("O2")[-1] > 0.6
    (said,) = (each for each in run.warnings if "saturated with copper(II) nitrate" in each)
    assert said == crystals(run)
