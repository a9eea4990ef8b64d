"""Stages that set the supply anew or pour something in: what they hold, and what is refused."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

import fizzplate as fp
from fizzplate.cell.setup.additions import _knows_solid
from fizzplate.chemistry import InputError, parse_formula, solutions
from fizzplate.data import rows
from fizzplate.lesson.classroom.contents import contents
from fizzplate.lesson.rule import differences, observations
from fizzplate.views.bench.payload import payload

SALT = {"concentration_mol_dm3": 0.01}


def atoms_mol(run, element):
    """Return how much of an element there is in liquid, haze, on the electrodes and in the gas, (S,)."""
    names = dict.fromkeys((*run.ions, *run.dissolved))
    found = sum(_count(name, element) * run.amount_mol(name) for name in names)
    found = found + sum(_count(solid, element) * run.haze_mol(solid) for solid in run.hazes)
    for record in (run.cathode, run.anode):
        for solid, mol in record._made.solids_mol.items():
            found = found + _count(solid, element) * mol
    for gas, mol in run.anode._gas_collection._left.items():
        found = found + _count(gas, element) * mol
    return found


def _count(formula, element):
    return parse_formula(formula).elements.get(element, 0)


@pytest.fixture(scope="module")
def clouded():
    stages = [fp.Stage(2), fp.Stage(2, add={"AgNO3": (2.0, 0.05)}), fp.Stage(1, water_cm3=8.0)]
    return fp.Cell("NaCl", **SALT).run(stages=stages, samples=11)


def test_silver_nitrate_clouds_a_chloride_from_its_stage_on(clouded):
    before, after = slice(0, 5), slice(5, None)
    assert clouded.haze_mol("AgCl")[before] == pytest.approx(0.0, abs=0.0)
    # 0.1 mmol of silver, and little of it stays dissolved beside six times as much chloride
    assert clouded.haze_mol("AgCl")[5] == pytest.approx(1e-4, rel=5e-3)
    assert (clouded.concentration("NO3-")[before] == 0).all()
    assert (clouded.concentration("Ag+")[before] == 0).all()
    assert (clouded.drift_velocity_m_s("Ag+")[before] == 0).all()
    assert clouded.amount_mol("NO3-")[after] == pytest.approx(1e-4)
    assert clouded.amount_mol("Na+") == pytest.approx(6e-4)


def test_the_liquid_grows_and_is_alike_everywhere_at_once(clouded):
    assert clouded.volume_cm3 == pytest.approx([60] * 5 + [62] * 4 + [70] * 2)
    assert clouded.columns()["volume_cm3"] == pytest.approx(clouded.volume_cm3)
    assert "volume_cm3" not in fp.Cell("NaCl").run(minutes=1, samples=3).columns()
    assert [cell.volume_cm3 for cell in clouded.cells] == pytest.approx([60, 62, 70])
    assert clouded.cell.name == "sodium chloride"
    assert clouded.cells[-1].name == "sodium chloride and silver nitrate"
    run = fp.Cell("NaCl", **SALT).run(
        stages=[fp.Stage(2), fp.Stage(0.01, off=True, water_cm3=20)], samples=202
    )
    after = run.volume_cm3 > 61
    assert np.ptp(run.pH[~after][-1]) > 1
    assert np.ptp(run.pH[after][0]) < 0.01
    assert (run.conductivity_S_m[after][0] < 0.8 * run.conductivity_S_m[0]).all()


def test_water_dilutes_warmth_as_it_does_salt():
    stages = [fp.Stage(5), fp.Stage(1e-3, water_cm3=40)]
    run = fp.Cell("H2SO4", volume_cm3=50, supply_V=12, supply_limit_A=2).run(
        stages=stages, samples=11
    )
    assert run.temperature_C[-2] > 28
    assert run.temperature_C[-1] - 25 == pytest.approx(
        5 / 9 * (run.temperature_C[-2] - 25), rel=0.15
    )


def test_more_liquid_dissolves_more_of_the_gas_but_takes_back_none_that_has_left():
    stages = [fp.Stage(10), fp.Stage(10, water_cm3=40.0)]
    cell = fp.Cell("Na2SO4", current_A=0.05)
    more, plain = cell.run(stages=stages, samples=21), cell.run(minutes=20, samples=21)
    collected, usual = (run.cathode.gas_cm3("H2", collected=True) for run in (more, plain))
    assert (np.diff(collected) >= 0).all()
    assert collected[:11] == pytest.approx(usual[:11])
    assert collected[-1] < usual[-1]


def test_the_supply_is_set_anew_from_a_stage_on_and_keeps_its_setting():
    stages = [fp.Stage(1), fp.Stage(1, supply_V=3.0), fp.Stage(1, swapped=True)]
    stages += [fp.Stage(1, current_A=0.02), fp.Stage(1, off=True), fp.Stage(1)]
    run = fp.Cell("CuSO4", supply_V=6.0).run(stages=stages, samples=25)
    assert run.supply_voltage_V[:5] == pytest.approx(6.0)
    assert run.supply_voltage_V[5:13] == pytest.approx(3.0)
    assert run.swapped.tolist() == [False] * 9 + [True] * 4 + [False] * 12
    flowing = run.current_A[13:] > 0
    assert flowing.tolist() == [True] * 4 + [False] * 4 + [True] * 4
    assert run.current_A[13:][flowing] == pytest.approx(0.02)
    passed = np.trapezoid(run.current_A[13:17], run.time_s[13:17])
    assert run.charge_C[16] - run.charge_C[13] == pytest.approx(passed, rel=1e-6)


def test_a_setting_or_a_stage_that_changes_nothing_gives_the_run_as_before():
    cell = fp.Cell("NaCl", supply_V=6.0)
    plain = cell.run(stages=[fp.Stage(1), fp.Stage(1, swapped=True)], samples=9)
    same = cell.run(stages=[fp.Stage(1), fp.Stage(1, swapped=True, supply_V=6.0)], samples=9)
    for name, column in plain.columns().items():
        np.testing.assert_array_equal(same.columns()[name], column, err_msg=name)
    assert plain.warnings == same.warnings
    assert plain.steps == same.steps
    assert len(plain.cells) == 1


def test_a_stage_too_short_for_a_sample_counts_all_the_same():
    stages = [fp.Stage(1), fp.Stage(1e-3, add={"NaCl": (2.0, 0.5)}), fp.Stage(1, water_cm3=3)]
    run = fp.Cell("Na2SO4").run(stages=stages, samples=2)
    assert run.volume_cm3.tolist() == pytest.approx([60, 65])
    kept = run.amount_mol("Cl-")[-1] + 2 * run.amount_mol("Cl2")[-1] + run.amount_mol("HClO")[-1]
    assert kept + run.amount_mol("ClO-")[-1] == pytest.approx(1e-3)
    charge_C = sum(run.anode.charge_C(product)[-1] for product in run.anode._made.shares)
    assert charge_C == pytest.approx(run.charge_C[-1])


def test_what_the_first_stage_adds_is_there_from_the_start():
    run = fp.Cell("NaCl", **SALT).run(stages=[fp.Stage(1, add={"AgNO3": (2.0, 0.05)})], samples=3)
    assert run.haze_mol("AgCl")[0] == pytest.approx(1e-4, rel=5e-3)


def test_salt_makes_pure_water_conduct():
    stages = [fp.Stage(1), fp.Stage(1, add={"NaCl": (5.0, 0.5)})]
    run = fp.Cell("H2O").run(stages=stages, samples=5)
    assert run.current_A[-1] > 1000 * run.current_A[1]
    assert run.cells[-1].name == "sodium chloride"


ADDED = [formula for formula, salt in solutions().items() if not {"F-", "H+"} & set(salt.ions)]
UNKNOWN_SOLIDS = [
    row for row in rows("precipitates") if not _knows_solid(row["cation"], row["anion"])
]


@settings(max_examples=12, deadline=None)
@given(
    poured=st.dictionaries(
        st.sampled_from(ADDED), st.tuples(st.floats(0.1, 8), st.floats(0.001, 0.5)), max_size=2
    ),
    water_cm3=st.none() | st.floats(0.1, 15),
    start=st.sampled_from(ADDED),
    strength=st.floats(0.002, 0.5),
    swapped=st.booleans(),
    vessel=st.sampled_from(["beaker", "dish"]),
)
# where the zinc is used up, the potentials have far to go to the next reactions
@example(
    poured={"Zn(NO3)2": (3.443, 0.5), "Cu(NO3)2": (3.172, 0.02062)},
    water_cm3=None,
    start="ZnSO4",
    strength=0.28125,
    swapped=True,
    vessel="dish",
)
def test_whatever_is_poured_in_is_conserved(poured, water_cm3, start, strength, swapped, vessel):
    scale = 0.05 if vessel == "dish" else 1.0
    poured = {formula: (scale * cm3, c) for formula, (cm3, c) in poured.items()}
    cell = fp.Cell(start, concentration_mol_dm3=strength, vessel=vessel, supply_V=4.0)
    second = fp.Stage(
        0.3,
        swapped=swapped,
        add=poured or None,
        water_cm3=None if water_cm3 is None else scale * water_cm3,
    )
    held = {*cell.ions_mol_dm3, *(ion for f in poured for ion in solutions()[f].ions)}
    stages = [fp.Stage(0.3), second, fp.Stage(0.2, off=True)]
    if any({row["cation"], row["anion"]} <= held for row in UNKNOWN_SOLIDS):
        with pytest.raises(InputError, match="the model has no solubility"):
            cell.run(stages=stages, samples=9)
        return
    run = cell.run(stages=stages, samples=9)
    assert run.volume_cm3[-1] - run.volume_cm3[0] == pytest.approx(second.added_cm3)
    after = run.time_s > 18.001
    ions = {**cell.ions_mol_dm3}
    for formula in poured:
        ions |= solutions()[formula].ions
    for element in {e for ion in ions for e in parse_formula(ion).elements} - {"H", "O"}:
        brought = sum(
            1e-3 * cm3 * c * count * _count(ion, element)
            for formula, (cm3, c) in poured.items()
            for ion, count in solutions()[formula].ions.items()
        )
        whole = atoms_mol(run, element)
        expected = whole[0] + np.where(after, brought, 0.0)
        assert whole == pytest.approx(expected, rel=1e-6, abs=1e-12), element
    neutral = sum(parse_formula(i).charge * run.amount_mol(i) for i in (*run.ions, *run.dissolved))
    ionic = sum(run.amount_mol(ion) for ion in run.ions)
    assert np.abs(neutral / ionic).max() < 1e-6
    for record in (run.cathode, run.anode):
        charge = sum(record.charge_C(product) for product in record._made.shares)
        assert charge == pytest.approx(run.charge_C, rel=1e-9, abs=1e-12)


@pytest.mark.parametrize(
    ("cell", "stage", "argument", "said"),
    [
        ({"solution": "NaF"}, {"add": {"HCl": (1, 1)}}, "add", "hydrogen fluoride"),
        ({"solution": "NaF"}, {"add": {"CuSO4": (1, 1)}}, "add", "hydrogen fluoride"),
        ({"solution": "NaCl"}, {"add": {"NH4NO3": (1, 1)}}, "add", "explode"),
        ({"solution": "NaCl"}, {"add": {"HCl": (1, 1)}}, "add", "chlorine, which is toxic"),
        ({"solution": "KBr"}, {"add": {"H2SO4": (1, 1)}}, "add", "bromine"),
        ({"solution": "NaCl"}, {"add": {"AgNO3": (1, 9)}}, "add", "at most 4 mol/dm3"),
        ({"solution": "NaCl"}, {"add": {"AgNO3": (0, 1)}}, "add", "above 0 cm3"),
        ({"solution": "NaCl"}, {"add": {}}, "add", "volumes and concentrations"),
        ({"solution": "NaCl"}, {"add": {"AgNO3": 1}}, "add", "volumes and concentrations"),
        ({"solution": "CuSO4"}, {"add": {"KI": (1, 1)}}, "add", "copper(I) iodide"),
        ({"solution": "NaCl"}, {"water_cm3": 41}, "water_cm3", "at most 40 cm3 more"),
        ({"solution": "NaCl"}, {"water_cm3": -1}, "water_cm3", "above 0 cm3"),
        ({"solution": "NaCl", "vessel": "U-tube"}, {"water_cm3": 1}, "water_cm3", "not stirred"),
        ({"solution": "KI", "vessel": "paper strip"}, {"water_cm3": 1}, "water_cm3", "beaker or"),
        ({"solution": "NaCl"}, {"supply_V": 31}, "supply_V", "not safe to touch"),
        ({"solution": "NaCl"}, {"supply_V": 3, "current_A": 0.1}, "current_A", "not both"),
        ({"solution": "NaCl"}, {"current_A": 1.5}, "current_A", "at most 1 A"),
        ({"solution": "NaCl", **SALT}, {"current_A": 0.9}, "current_A", "no supply here gives"),
    ],
)
def test_a_stage_may_not_do_what_a_cell_may_not(cell, stage, argument, said):
    with pytest.raises(InputError) as refused:
        fp.Cell(**cell).run(stages=[fp.Stage(1), fp.Stage(1, **stage)], samples=3)
    assert refused.value.argument == argument
    assert said in str(refused.value)
    assert "Use " in str(refused.value)


def test_acid_may_be_poured_where_no_current_has_made_bleach():
    stages = [fp.Stage(1e-3, off=True), fp.Stage(1e-3, off=True, add={"HCl": (1.0, 1.0)})]
    run = fp.Cell("NaCl").run(stages=stages, samples=2)
    assert run.amount_mol("H+")[-1] == pytest.approx(1e-3, rel=1e-3)


ALKALI = {"NaOH": (10.0, 2.0)}


@pytest.mark.parametrize("halide", ["Cl", "Br"])
def test_no_acid_after_alkali_has_turned_the_halogen_of_an_acid_into_bleach(halide):
    cell = fp.Cell({f"Na{halide}": 0.3, "H2SO4": 0.1})
    acid = {"H2SO4": (5.0, 1.0)}
    made = [fp.Stage(2), fp.Stage(1, off=True, add=ALKALI)]
    with pytest.raises(InputError, match=r"acid sets .* free again"):
        cell.run(stages=[*made, fp.Stage(1, off=True, add=acid)], samples=5)
    # without a current there is nothing to set free, and without alkali no bleach
    for allowed in (
        [fp.Stage(2, off=True), fp.Stage(1, off=True, add=ALKALI), fp.Stage(1, off=True, add=acid)],
        [fp.Stage(2), fp.Stage(1, off=True, add=acid)],
        [*made, fp.Stage(1, off=True, water_cm3=5.0)],
        [*made, fp.Stage(1, off=True, add={"NaCl": (1.0, 0.5)})],
    ):
        assert cell.run(stages=allowed, samples=5).time_s[-1] > 0


def test_a_precipitate_is_known_where_the_table_has_its_solid():
    known = {row.text for row in rows("precipitates") if _knows_solid(row["cation"], row["anion"])}
    assert {"AgCl", "AgBr", "AgI", "Ag2SO4", "AgOH", "PbCl2", "Cu(OH)2", "Mg(OH)2"} <= known
    assert not {"PbSO4", "PbI2", "CuI", "CaSO4", "CaF2"} & known


def test_cautions_know_what_was_added_as_strong_as_it_was_poured():
    cell = fp.Cell("Na2SO4")
    run = cell.run(stages=[fp.Stage(1), fp.Stage(1, add={"CuSO4": (2.0, 1.0)})], samples=5)
    found = contents(run.cell, run)
    assert found["Cu2+", "solution"] == pytest.approx(1.0)
    assert found["Na+", "solution"] == pytest.approx(1.0)
    assert ("Cu", "deposit") in found
    assert ("Cu2+", "solution") not in contents(cell, cell.run(minutes=2, samples=5))


def test_a_run_with_additions_can_be_told_and_drawn(clouded):
    assert observations(clouded)
    assert len(differences(clouded)) == 2
    assert payload(clouded).header["index"]


def test_stages_that_are_equal_are_one_run_and_no_others():
    first, same = (fp.Stage(1, add={"NaCl": (1, 0.5)}) for _ in range(2))
    other = fp.Stage(1, add={"NaCl": (2, 0.5)})
    assert first == same
    assert hash(first) == hash(same)
    assert first != other


def test_a_run_that_would_boil_before_anything_is_added_ends_without_it():
    stages = [fp.Stage(60), fp.Stage(1, water_cm3=10)]
    cell = fp.Cell("H2SO4", supply_V=30, supply_limit_A=5, concentration_mol_dm3=1.0)
    run = cell.run(stages=stages, samples=5)
    assert "the run ends there" in " ".join(run.warnings)
    assert run.volume_cm3 == pytest.approx([60] * 5)
    assert run.time_s[-1] < 3600


@pytest.mark.parametrize(
    ("solution", "halogen"), [("NaCl", "Cl2"), ("NaI", "I2"), ("NaBr", "Br2"), ("CuCl2", "Cl2")]
)
def test_when_the_copper_of_a_deposit_is_gone_halide_is_discharged_as_on_bare_graphite(
    solution, halogen
):
    """What has run out must not take a share of the halide that reaches the electrode."""
    cell = fp.Cell(solution, anode="copper", lamp=fp.Lamp(6.0, 0.06))
    run = cell.run(stages=[fp.Stage(2), fp.Stage(4, swapped=True)], samples=13)
    assert float(run.cathode.share(halogen)[-1]) > 0.95
    assert float(run.cathode.share("O2")[-1]) < 0.03
