"""Molten salts have the rule and quantities; pure water and sugar show what does not conduct."""

import pytest

import fizzplate as fp
from fizzplate.chemistry import InputError, melts, non_electrolytes
from fizzplate.chemistry.constants import FARADAY_C_MOL

LAMP = fp.Lamp(6.0, 0.06)


@pytest.mark.parametrize(
    ("formula", "at_cathode", "at_anode", "moles"),
    [
        ("NaCl(l)", "Na", "Cl2", (1, 1 / 2)),
        ("PbBr2(l)", "Pb", "Br2", (1 / 2, 1 / 2)),
        ("ZnCl2(l)", "Zn", "Cl2", (1 / 2, 1 / 2)),
        ("Al2O3(l)", "Al", "O2", (1 / 3, 1 / 4)),
    ],
)
def test_a_melt_gives_metal_and_non_metal(formula, at_cathode, at_anode, moles):
    cell = fp.Cell(formula)
    rule = cell.rule()
    assert (rule.cathode.product, rule.anode.product) == (at_cathode, at_anode)
    assert "no water" in rule.cathode.steps[0]
    assert "H⁺" not in " ".join(rule.cathode.steps)
    assert cell.rule_amounts_mol(FARADAY_C_MOL) == pytest.approx(moles)


@pytest.mark.parametrize("formula", melts())
def test_a_melt_is_not_run(formula):
    with pytest.raises(InputError, match="no bench model for melts"):
        fp.Cell(formula).run(minutes=1)


@pytest.mark.parametrize("formula", non_electrolytes())
def test_the_lamp_stays_dark_and_the_run_says_why(formula):
    run = fp.Cell(formula, lamp=LAMP).run(minutes=2, samples=3)
    assert run.current_A.max() < 1e-3 * LAMP.rated_A
    assert non_electrolytes()[formula].reason in run.warnings
    assert any("trace of salt" in said for said in run.warnings)
