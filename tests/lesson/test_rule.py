"""The classroom rule: what an examination at 14-18 expects (common practice)."""

from __future__ import annotations

import pytest

import fizzplate as fp
from fizzplate.chemistry import InputError, classroom_rule, observation_of, standard_test
from fizzplate.lesson.rule import explanation

EXPECTED = [
    ("Na2SO4", "graphite", "H2", "O2"),
    ("NaCl", "graphite", "H2", "Cl2"),
    ("CuCl2", "graphite", "Cu", "Cl2"),
    ("CuSO4", "graphite", "Cu", "O2"),
    ("CuSO4", "copper", "Cu", "Cu2+"),
    ("HCl", "platinum", "H2", "Cl2"),
    ("NaOH", "platinum", "H2", "O2"),
    ("H2SO4", "platinum", "H2", "O2"),
    ("NaBr", "graphite", "H2", "Br2"),
    ("NaI", "graphite", "H2", "I2"),
    ("NaF", "graphite", "H2", "O2"),
    ("NaNO3", "graphite", "H2", "O2"),
    ("KCl", "graphite", "H2", "Cl2"),
    ("KBr", "graphite", "H2", "Br2"),
    ("KI", "graphite", "H2", "I2"),
    ("K2SO4", "graphite", "H2", "O2"),
    ("KNO3", "graphite", "H2", "O2"),
    ("KOH", "platinum", "H2", "O2"),
    ("MgCl2", "graphite", "H2", "Cl2"),
    ("MgSO4", "graphite", "H2", "O2"),
    ("CaCl2", "graphite", "H2", "Cl2"),
    ("ZnCl2", "graphite", "H2", "Cl2"),
    ("ZnSO4", "zinc", "H2", "Zn2+"),
    ("Zn(NO3)2", "graphite", "H2", "O2"),
    ("FeSO4", "graphite", "H2", "O2"),
    ("NiSO4", "nickel", "H2", "Ni2+"),
    ("Cu(NO3)2", "graphite", "Cu", "O2"),
    ("AgNO3", "graphite", "Ag", "O2"),
    ("AgNO3", "silver", "Ag", "Ag+"),
    ("Pb(NO3)2", "graphite", "H2", "O2"),
    ("HNO3", "platinum", "H2", "O2"),
]


@pytest.mark.parametrize(("formula", "anode", "at_cathode", "at_anode"), EXPECTED)
def test_products_at_both_electrodes(formula, anode, at_cathode, at_anode):
    rule = fp.Cell(formula, anode=anode).rule()
    assert (rule.cathode.product, rule.anode.product) == (at_cathode, at_anode)


def test_every_solution_offered_is_expected_above():
    assert set(fp.solutions()) == {formula for formula, *_ in EXPECTED}


@pytest.mark.parametrize("formula", fp.solutions())
@pytest.mark.parametrize("anode", fp.electrodes())
def test_nothing_is_missing_from_any_explanation(formula, anode):
    rule = fp.Cell(formula, anode=anode).rule()
    for electrode in (rule.cathode, rule.anode):
        assert len(electrode.steps) == 6
        assert all(step[0].isupper() and step.endswith(".") for step in electrode.steps)
        assert electrode.half_equation.electrons > 0
        assert electrode.observation == observation_of(electrode.product)
        assert electrode.test == str(standard_test(electrode.product))


def test_the_boards_wording_is_used():
    wording = fp.Wording(oxygen_from="H2O", hydrogen_from="H2O", electrons="minus")
    rule = fp.Cell("Na2SO4").rule(wording)
    assert str(rule.cathode.half_equation) == "2H2O + 2e- -> H2 + 2OH-"
    assert str(rule.anode.half_equation) == "2H2O - 4e- -> O2 + 4H+"
    with_states = fp.Cell("CuCl2").rule(fp.Wording(states=True))
    assert str(with_states.cathode.half_equation) == "Cu2+(aq) + 2e- -> Cu(s)"


def test_dilute_chloride_counts_as_oxygen_only_where_the_board_says_so():
    dilute = fp.Cell("NaCl", concentration_mol_dm3=0.05)
    assert dilute.rule().anode.product == "Cl2"
    assert dilute.rule(dilute_chloride_below_mol_dm3=0.1).anode.product == "O2"
    strong = fp.Cell("NaCl", concentration_mol_dm3=1.0)
    assert strong.rule(dilute_chloride_below_mol_dm3=0.1).anode.product == "Cl2"


def test_in_a_mixture_the_less_reactive_ion_and_the_halide_are_discharged():
    rule = fp.Cell({"Na2SO4": 0.5, "CuCl2": 0.1}).rule()
    assert (rule.cathode.product, rule.anode.product) == ("Cu", "Cl2")
    assert "copper is less reactive" in rule.cathode.reason.lower()


@pytest.mark.parametrize("options", [{"oxygen_from": "O2"}, {"electrons": "left"}])
def test_an_unknown_wording_is_refused(options):
    with pytest.raises(InputError):
        fp.Wording(**options)


def test_an_unknown_electrode_is_refused():
    with pytest.raises(InputError, match="Did you mean 'graphite'"):
        classroom_rule({"Na+": 1.0, "Cl-": 1.0}, anode="grafite")


@pytest.mark.parametrize(
    ("cell", "is_joined"), [("H2SO4", True), ("Na2SO4", False), ("HCl", False), ("CuSO4", False)]
)
def test_an_acid_of_sulfate_says_which_ion_its_picture_shows(cell, is_joined):
    """The picture shows hydrogensulfate, so the first sentences name it, and it stands out with the rest."""
    first = explanation(fp.Cell(cell))[0]
    assert ("Some H⁺ and SO₄²⁻ are joined as HSO₄⁻." in first.sentence) == is_joined
    assert ("HSO4-" in first.species) == is_joined
