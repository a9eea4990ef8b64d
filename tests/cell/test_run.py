"""What a run must hold, whatever the cell."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import fizzplate as fp
from fizzplate.chemistry.constants import FARADAY_C_MOL

sys.path.insert(0, str(Path(__file__).parent))
from conservation import ELEMENTS, acid_miss, element_miss

CORE = ("Na2SO4", "NaCl", "CuCl2", "CuSO4")
FEW = settings(max_examples=12, deadline=None, derandomize=True)
LAMP = fp.Lamp(6.0, 0.06)


@pytest.fixture(scope="module")
def core_runs():
    return {formula: fp.Cell(formula).run(minutes=10) for formula in CORE}


@pytest.mark.parametrize(
    ("formula", "cathode", "anode"),
    [("Na2SO4", "H2", "O2"), ("NaCl", "H2", "Cl2"), ("CuCl2", "Cu", "Cl2"), ("CuSO4", "Cu", "O2")],
)
def test_the_four_solutions_give_what_the_bench_gives(core_runs, formula, cathode, anode):
    run = core_runs[formula]
    assert run.cathode.products[0] == cathode
    assert run.anode.products[0] == anode
    assert run.cathode.share(cathode)[-1] > 0.9
    assert run.anode.share(anode)[-1] > 0.9


def test_sodium_sulfate_gives_two_volumes_of_hydrogen_to_one_of_oxygen(core_runs):
    run = core_runs["Na2SO4"]
    # where carbon burns, its gas takes the room of the oxygen that did not form
    at_anode = run.anode.gas_cm3("O2") + run.anode.gas_cm3("CO2")
    ratio = run.cathode.gas_cm3("H2")[1:] / at_anode[1:]
    assert ratio == pytest.approx(2.0, rel=1e-6)
    assert run.anode.share("CO2")[-1] < 0.05


def test_an_electrode_is_printed_without_the_arrays_behind_it(core_runs):
    printed = repr(core_runs["CuSO4"].cathode)
    assert printed.startswith("ElectrodeRecord(material='graphite', products=('Cu',")
    assert not [name for name in ("_side", "_made", "_uncertainty") if name in printed]


def test_a_beaker_warms_by_what_the_current_heats_less_what_its_surface_loses():
    """A full beaker of 100 cm3: 10 W/(m2 K) over 400 cm2, water's heat capacity (from memory)."""
    run = fp.Cell("NaCl", current_A=0.5, volume_cm3=100, temperature_C=20.0).run(
        minutes=30, samples=61
    )
    loss_W_K, capacity_J_K = 10 * 400e-4, 4.18 * 100
    seconds = np.linspace(0, 1800, 18_001)
    power_W = np.interp(seconds, run.time_s, run.voltage_V * run.current_A)
    rise_K = 0.0
    for watts in power_W[1:]:
        rise_K += 0.1 * (watts - loss_W_K * rise_K) / capacity_J_K
    assert run.temperature_C[-1] == pytest.approx(20.0 + rise_K, abs=0.02 * rise_K)


@pytest.mark.parametrize("formula", CORE)
def test_charge_is_the_integral_of_the_current(core_runs, formula):
    run = core_runs[formula]
    # the trapezium rule between 121 samples is good to a few parts in ten thousand
    assert run.charge_C[-1] == pytest.approx(np.trapezoid(run.current_A, run.time_s), rel=2e-3)


@pytest.mark.parametrize("formula", CORE)
def test_both_electrodes_pass_the_same_charge(core_runs, formula):
    run = core_runs[formula]
    electrons = {"H2": 2, "O2": 4, "CO2": 4, "Cl2": 2, "Cu": 2, "Cu2+": 2, "Cl-": 1, "CuCl2-": 1}
    passed = [
        FARADAY_C_MOL * sum(electrons[p] * record.amount_mol(p) for p in record.products)
        for record in (run.cathode, run.anode)
    ]
    charges = [
        sum(record.charge_C(p) for p in record.products) for record in (run.cathode, run.anode)
    ]
    # in chloride a little copper goes by way of copper(I), one electron at a time
    near = 0.03 if formula == "CuCl2" else 1e-9
    assert charges[0] == pytest.approx(passed[0], rel=near)
    assert charges[1] == pytest.approx(passed[1], rel=near)
    assert charges[0] == pytest.approx(charges[1], rel=1e-6)
    assert charges[0] == pytest.approx(run.charge_C, rel=1e-6)


@pytest.mark.parametrize("formula", CORE)
def test_shares_add_up_and_nothing_is_negative(core_runs, formula):
    run = core_runs[formula]
    for record in (run.cathode, run.anode):
        every = ("H2", "O2", "CO2", "Cl2", "Cu", "Cu2+", "Cl-", "CuCl2-")
        assert sum(record.share(p) for p in every) == pytest.approx(1.0, abs=1e-9)
    for name in (*run.ions, *run.dissolved):
        assert run.concentration(name).min() >= -1e-6 * 500
        assert np.isfinite(run.concentration(name)).all()


@pytest.mark.parametrize("formula", CORE)
def test_the_solution_is_neutral_everywhere(core_runs, formula):
    run = core_runs[formula]
    from fizzplate.chemistry import parse_formula

    names = dict.fromkeys((*run.ions, *run.dissolved))
    charge = sum(parse_formula(name).charge * run.concentration(name) for name in names)
    assert np.abs(charge).max() < 1e-6 * 500


@pytest.mark.parametrize(
    ("formula", "side", "gas"), [("Na2SO4", "cathode", "H2"), ("NaCl", "anode", "Cl2")]
)
def test_what_can_be_collected_lies_in_its_range_and_is_never_more_than_was_made(
    core_runs, formula, side, gas
):
    record = getattr(core_runs[formula], side)
    low, high = record.gas_range_cm3(gas)
    collected = record.gas_cm3(gas, collected=True)
    assert (low <= collected + 1e-9).all()
    assert (collected <= high + 1e-9).all()
    assert (high <= record.gas_cm3(gas) + 1e-9).all()


def test_hydrogen_is_mostly_collected(core_runs):
    """Hydrogen dissolves little, 0.019 cm3 in each cm3 (common practice)."""
    run = core_runs["Na2SO4"]
    lost = run.cathode.gas_cm3("H2")[-1] - run.cathode.gas_cm3("H2", collected=True)[-1]
    assert 0 < lost <= 0.02 * 60


def test_voltages_add_up(core_runs):
    for run in core_runs.values():
        assert run.supply_voltage_V == pytest.approx(run.voltage_V + run.lamp_voltage_V)
        assert run.supply_voltage_V[0] == pytest.approx(6.0, abs=1e-4) or run.current_A[0] >= 0.999


def test_a_fixed_current_is_held():
    run = fp.Cell("NaCl", current_A=0.04).run(minutes=5, samples=11)
    assert run.current_A == pytest.approx(0.04, rel=1e-6)
    assert run.charge_C[-1] == pytest.approx(0.04 * 300, rel=1e-6)


def test_a_supply_stops_at_its_limit_and_says_so():
    run = fp.Cell("NaCl", concentration_mol_dm3=2.0, supply_V=12, supply_limit_A=0.5).run(minutes=2)
    assert run.current_A.max() == pytest.approx(0.5, rel=1e-6)
    assert any("largest current, 0.5" in sentence for sentence in run.warnings)
    assert run.supply_voltage_V[-1] < 12


def test_a_run_ends_where_its_solution_would_boil():
    cells = [fp.Cell("H2SO4", supply_V=30, supply_limit_A=limit_A) for limit_A in (0.5, 5.0)]
    cool, hot = fp.run_many(cells, minutes=20, samples=21)
    assert not any("boil" in sentence for sentence in cool.warnings)
    assert cool.time_s[-1] == 1200
    (sentence,) = (each for each in hot.warnings if "boil" in each)
    minutes = hot.time_s[-1] / 60
    assert f"After {minutes:.2g} min" in sentence
    assert 1 < minutes < 19
    assert hot.temperature_C.max() == pytest.approx(95, abs=2)
    assert hot.time_s.size == 21


def test_stages_end_where_the_solution_would_boil():
    plan = [fp.Stage(1), fp.Stage(19, swapped=True), fp.Stage(1, off=True)]
    run = fp.Cell("H2SO4", supply_V=30, supply_limit_A=5.0).run(stages=plan, samples=21)
    assert 60 < run.time_s[-1] < 1200
    assert run.swapped[-1]
    assert run.temperature_C.max() == pytest.approx(95, abs=3)


def test_copper_at_both_ends_moves_from_one_to_the_other():
    run = fp.Cell("CuSO4", anode="copper", cathode="copper", lamp=LAMP).run(minutes=20)
    gained, lost = run.cathode.mass_g("Cu"), -run.anode.mass_g("Cu")
    assert gained[-1] == pytest.approx(lost[-1], rel=1e-6)
    assert run.anode.products[0] == "Cu2+"
    copper = run.concentration("Cu2+") @ run.volume_m3
    assert copper[-1] == pytest.approx(copper[0], rel=1e-6)


def test_copper_chloride_in_alkali_gives_a_haze_that_is_conserved():
    run = fp.Cell("NaCl", anode="copper", lamp=LAMP).run(minutes=20)
    assert run.haze_mol("Cu(OH)2")[-1] > 1e-6
    assert element_miss(run, "Cu").max() < 1e-6


def test_a_mirrored_cell_gives_the_mirrored_run():
    there = fp.Cell("CuSO4", anode="copper", cathode="graphite", lamp=LAMP)
    back = fp.Cell("CuSO4", anode="graphite", cathode="copper", lamp=LAMP)
    run = there.run(minutes=5, samples=11)
    mirrored = back.run(stages=[fp.Stage(5, swapped=True)], samples=11)
    assert mirrored.current_A == pytest.approx(run.current_A, rel=1e-3)
    assert mirrored.anode.mass_g("Cu") == pytest.approx(
        run.cathode.mass_g("Cu"), rel=1e-3, abs=1e-9
    )
    profile = mirrored.concentration("Cu2+")[-1][::-1]
    assert profile == pytest.approx(run.concentration("Cu2+")[-1], rel=1e-3)


def test_swapped_wires_take_the_copper_off_again_until_it_is_gone():
    cell = fp.Cell("CuSO4", lamp=LAMP)
    run = cell.run(stages=[fp.Stage(3), fp.Stage(6, swapped=True), fp.Stage(1, off=True)])
    mass = run.cathode.mass_g("Cu")
    assert mass.max() > 1e-3
    assert mass.min() > -1e-6
    assert mass[-1] < 1e-6
    assert run.swapped[60]
    assert run.current_A[-1] == 0.0


def test_sugarless_water_is_not_offered_but_a_trace_of_salt_hardly_conducts():
    strong = fp.Cell("NaCl", concentration_mol_dm3=0.5, lamp=LAMP).run(minutes=1, samples=2)
    weak = fp.Cell("NaCl", concentration_mol_dm3=0.001, lamp=LAMP).run(minutes=1, samples=2)
    assert weak.current_A[0] < 0.15 * strong.current_A[0]


def test_runs_of_many_cells_are_those_of_each():
    cells = [fp.Cell("NaCl", concentration_mol_dm3=c, lamp=LAMP) for c in (0.1, 0.5)]
    runs = fp.run_many(cells, minutes=1, samples=5)
    assert [run.cell for run in runs] == cells
    assert runs[0].charge_C == pytest.approx(cells[0].run(minutes=1, samples=5).charge_C)


@FEW
@given(st.lists(st.floats(0.005, 2.0), min_size=2, max_size=2, unique=True))
def test_more_chloride_never_means_less_chlorine(strengths):
    weak, strong = sorted(strengths)
    cells = [fp.Cell("NaCl", concentration_mol_dm3=c, current_A=0.02) for c in (weak, strong)]
    runs = fp.run_many(cells, minutes=3, samples=4)
    made = [float(run.anode.amount_mol("Cl2")[-1]) for run in runs]
    assert made[1] >= made[0] * (1 - 1e-3)


def test_dilute_chloride_gives_a_mixture_richer_in_oxygen_the_higher_the_current():
    def oxygen(current_A):
        run = fp.Cell("NaCl", concentration_mol_dm3=0.05, current_A=current_A).run(
            minutes=3, samples=4
        )
        return float(run.anode.share("O2")[-1])

    assert 0.01 < oxygen(0.02) < oxygen(0.06)


@pytest.mark.parametrize(
    ("formula", "stages"),
    [*((formula, 4) for formula in ("KI", "KBr", "NaCl", "Pb(NO3)2")), ("CuCl2", 2)],
)
def test_swapped_wires_lose_nothing_between_two_samples(formula, stages):
    # the stages end between samples: what left the liquid since the last one must not be forgotten
    every = [fp.Stage(4), fp.Stage(4, swapped=True), fp.Stage(1, off=True), fp.Stage(2)]
    run = fp.Cell(formula, lamp=LAMP).run(stages=every[:stages], samples=32)
    for element in ELEMENTS:
        assert element_miss(run, element).max() < 1e-6
    assert acid_miss(run).max() < 1e-6


def test_acid_is_conserved_where_silver_sulfate_clouds_the_liquid():
    cell = fp.Cell("K2SO4", cathode="silver", anode="iron", vessel="paper strip", supply_V=12.0)
    run = cell.run(stages=[fp.Stage(1, swapped=True)], samples=4)
    assert run.haze_mol("Ag2SO4")[-1] > 0
    assert acid_miss(run).max() < 1e-6


def test_layers_that_dissolve_one_after_another_hand_the_current_on():
    """Zinc and copper that plated on platinum dissolve in turn when the wires are swapped, then gas."""
    cell = fp.Cell({"CuSO4": 0.05, "ZnSO4": 0.2}, cathode="platinum", current_A=0.15)
    run = cell.run(stages=[fp.Stage(2), fp.Stage(6, swapped=True)], samples=161)
    shares = {product: run.cathode.share(product) for product in ("Zn2+", "Cu2+", "O2")}
    busiest = [max(shares, key=lambda p: shares[p][i]) for i in range(45, 161)]
    assert list(dict.fromkeys(busiest)) == ["Zn2+", "Cu2+", "O2"]
    for metal in ("Zn", "Cu"):
        assert run.cathode.mass_g(metal)[-1] == pytest.approx(0.0, abs=2e-5)


@pytest.mark.parametrize(("acid", "is_said"), [({}, True), ({"H2SO4": 0.5}, False)])
def test_a_halogen_is_said_to_meet_alkali_only_where_the_cathode_makes_some(acid, is_said):
    run = fp.Cell({"KI": 0.5, **acid}, lamp=LAMP).run(minutes=2, samples=5)
    assert "I2" in run.anode.products
    assert any("Where iodine meets the alkali" in sentence for sentence in run.warnings) == is_said
