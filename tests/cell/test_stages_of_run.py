"""A run that is changed while it goes on: the run until then is as it was, each stage is a run of its own."""

import numpy as np
import pytest

from fizzplate.cell import Cell, Stage

ALIKE = 2e-3  # relative to the largest value: within what a step of the solver is right to
PH_ALIKE = 0.06


@pytest.mark.parametrize("change", [{"swapped": True}, {"supply_V": 12.0}, {"water_cm3": 20.0}])
def test_until_a_change_the_run_is_as_without_it(change):
    cell = Cell("CuSO4")
    unchanged = cell.run(5, samples=61)
    run = cell.run(stages=[Stage(2), Stage(3, **change)], samples=61)
    before = run.samples_of_stage(0)
    assert before.stop == 25  # 2 of 5 minutes, and the instant of the change
    for name in ("time_s", "current_A", "charge_C", "voltage_V"):
        seen, now = (getattr(each, name)[before] for each in (unchanged, run))
        assert np.abs(seen - now).max() <= ALIKE * np.abs(seen).max(), name
    assert np.abs(unchanged.pH[before] - run.pH[before]).max() < PH_ALIKE
    copper = [each.cathode.mass_g("Cu")[before] for each in (unchanged, run)]
    assert np.abs(copper[0] - copper[1]).max() <= ALIKE * copper[0].max()
    after = slice(before.stop, None)
    assert not np.allclose(unchanged.current_A[after], run.current_A[after], rtol=0.01)


def test_a_stage_is_a_run_of_its_own_whose_cathode_is_where_it_stands():
    run = Cell("CuSO4").run(stages=[Stage(2), Stage(2, swapped=True)], samples=49)
    second = run.of_stage(1)
    samples = run.samples_of_stage(1)
    assert second.time_s[0] == 0.0
    assert second.charge_C[0] == 0.0
    assert not second.swapped.any()
    # what is plated on the second cathode is plated on what was the anode
    gained = run.anode.mass_g("Cu")[samples]
    assert np.allclose(second.cathode.mass_g("Cu"), gained - gained[0])
    assert second.cathode.mass_g("Cu")[-1] > 0 > second.anode.mass_g("Cu")[-1]
    assert np.array_equal(second.pH, run.pH[samples, ::-1])
    assert np.array_equal(
        second.drift_velocity_m_s("Cu2+"), -run.drift_velocity_m_s("Cu2+")[samples, ::-1]
    )
    assert np.allclose(second.amount_mol("Cu2+"), run.amount_mol("Cu2+")[samples])


def test_amounts_and_gases_of_the_stages_add_up_to_those_of_the_run():
    run = Cell("NaCl").run(stages=[Stage(2), Stage(2, supply_V=12.0)], samples=49)
    parts = [run.of_stage(place) for place in (0, 1)]
    between_C = float(np.diff(run.charge_C)[run.samples_of_stage(0).stop - 1])
    whole_C = sum(float(part.charge_C[-1]) for part in parts) + between_C
    assert whole_C == pytest.approx(float(run.charge_C[-1]))
    for of in ("gas", "collected"):
        caught = {"collected": of == "collected"}
        each_cm3 = [float(part.cathode.gas_cm3("H2", **caught)[-1]) for part in parts]
        whole_cm3 = run.cathode.gas_cm3("H2", **caught)
        between_cm3 = float(np.diff(whole_cm3)[run.samples_of_stage(0).stop - 1])
        assert sum(each_cm3) + between_cm3 == pytest.approx(float(whole_cm3[-1]))


def test_a_stage_has_the_ions_that_are_dissolved_and_not_those_that_have_precipitated():
    run = Cell("NaCl").run(stages=[Stage(1), Stage(1, add={"AgNO3": (2.0, 0.1)})], samples=25)
    assert list(run.of_stage(1).cell.ions_mol_dm3) == ["Na+", "Cl-", "NO3-"]
    # of much silver nitrate some stays dissolved
    weak = Cell("NaCl", concentration_mol_dm3=0.01)
    run = weak.run(stages=[Stage(1), Stage(1, add={"AgNO3": (20.0, 0.1)})], samples=25)
    assert "Ag+" in run.of_stage(1).cell.ions_mol_dm3
    assert "Cl-" not in run.of_stage(1).cell.ions_mol_dm3


def test_a_stage_with_an_open_switch_makes_nothing():
    run = Cell("CuSO4").run(stages=[Stage(1), Stage(1, off=True)], samples=25)
    still = run.of_stage(1)
    assert (still.cathode.products, still.anode.products) == ((), ())
    assert still.supply_voltage_V.max() == 0.0


def test_a_stage_without_two_samples_is_none():
    run = Cell("CuSO4").run(stages=[Stage(1), Stage(1)], samples=3)
    with pytest.raises(ValueError, match="no two samples of stage 1"):
        run.of_stage(1)
