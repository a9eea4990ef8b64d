"""Bad input gets one sentence that names what was given and what is allowed."""

from __future__ import annotations

import math

import pytest

import fizzplate as fp
from fizzplate.chemistry import InputError


@pytest.mark.parametrize(
    ("arguments", "named", "said"),
    [
        ({"solution": "CuSO5"}, "solution", "Did you mean 'CuSO4'"),
        ({"solution": ""}, "solution", "Use "),
        ({"solution": None}, "solution", "Use "),
        ({"solution": {}}, "solution", "at least one salt"),
        ({"anode": "grafite"}, "anode", "Did you mean 'graphite'"),
        ({"cathode": "gold"}, "cathode", "zinc or iron"),
        ({"vessel": "bucket"}, "vessel", "paper strip or still column"),
        ({"concentration_mol_dm3": 0}, "concentration_mol_dm3", "above 0"),
        ({"concentration_mol_dm3": -1}, "concentration_mol_dm3", "above 0"),
        ({"concentration_mol_dm3": math.nan}, "concentration_mol_dm3", "above 0"),
        ({"concentration_mol_dm3": "half"}, "concentration_mol_dm3", "a number"),
        ({"concentration_mol_dm3": True}, "concentration_mol_dm3", "a number"),
        ({"concentration_mol_dm3": 2.0}, "concentration_mol_dm3", "at most 1.3"),
        ({"supply_V": -6}, "supply_V", "above 0"),
        ({"supply_V": 31}, "supply_V", "at most 30"),
        ({"supply_V": 6, "current_A": 0.1}, "current_A", "not both"),
        ({"current_A": 2.0}, "current_A", "at most 1"),
        ({"supply_limit_A": 0}, "supply_limit_A", "above 0"),
        ({"lamp": "6 V"}, "lamp", "a Lamp"),
        ({"volume_cm3": 5}, "volume_cm3", "from 20 to"),
        ({"gap_cm": 9}, "gap_cm", "to 6 cm"),
        ({"immersed_area_cm2": 0}, "immersed_area_cm2", "from 0.5"),
        ({"temperature_C": 80}, "temperature_C", "from 10 to 40"),
        ({"pressure_kPa": 1}, "pressure_kPa", "from 60"),
        ({"crystal": "KMnO4"}, "crystal", "takes no crystal"),
        ({"anode_mass_g": -1}, "anode_mass_g", "above 0"),
    ],
)
def test_an_argument_that_cannot_be_used_is_refused(arguments, named, said):
    with pytest.raises(InputError) as refused:
        fp.Cell(**{"solution": "CuSO4", **arguments})
    assert refused.value.argument == named
    assert said in str(refused.value)


@pytest.mark.parametrize(("volts", "amps"), [(0, 0.06), (6, 0), (math.inf, 1), ("6", 1)])
def test_a_lamp_without_a_rating_is_refused(volts, amps):
    with pytest.raises(InputError, match="lamp rated"):
        fp.Lamp(volts, amps)


@pytest.mark.parametrize(
    "arguments",
    [
        {},
        {"minutes": 0},
        {"minutes": 1e9},
        {"minutes": 1, "samples": 1},
        {"minutes": 1, "samples": 2.5},
        {"minutes": 1, "stages": [fp.Stage(1)]},
        {"stages": []},
    ],
)
def test_a_run_without_a_sensible_time_is_refused(arguments):
    with pytest.raises(InputError):
        fp.Cell("NaCl").run(**arguments)


def test_formulae_are_taken_in_the_spellings_people_type():
    assert fp.Cell("CuSO4(aq)").solution_formulae == ("CuSO4",)


def test_a_u_tube_that_the_liquid_cannot_fill_is_refused():
    with pytest.raises(InputError, match="gap_cm"):
        fp.Cell("NaCl", vessel="U-tube", volume_cm3=50, gap_cm=22)


def test_an_unknown_gas_is_refused():
    with pytest.raises(InputError, match="formula"):
        fp.Cell("NaCl").run(minutes=1, samples=2).anode.gas_cm3("NO2")


@pytest.mark.parametrize(
    ("mixture", "solid"),
    [
        ({"NaCl": 0.5, "AgNO3": 0.1}, "silver chloride"),
        ({"CuSO4": 0.5, "NaOH": 0.1}, "copper(II) hydroxide"),
        ({"Pb(NO3)2": 0.1, "KI": 0.1}, "lead(II) iodide"),
    ],
)
def test_a_mixture_that_clouds_is_refused_with_the_solid(mixture, solid):
    with pytest.raises(InputError, match="solution") as refused:
        fp.Cell(mixture)
    assert solid in str(refused.value)


def test_the_cell_with_its_rule_and_its_run_is_one_class() -> None:
    assert fp.Cell is fp.cell.Cell
    assert fp.Cell.__subclasses__() == []
    assert fp.cell.Cell("CuSO4").rule().cathode.product == "Cu"
