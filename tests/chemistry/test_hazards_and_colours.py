"""What a solution looks like, does to people, and where its waste goes (from memory and practice)."""

import pytest

import fizzplate as fp
from fizzplate.chemistry import InputError, hazard, transmitted, waste_route


@pytest.mark.parametrize("formula", fp.solutions())
def test_every_solution_has_a_hazard_and_a_waste_route_at_every_strength(formula):
    most = fp.solutions()[formula].solubility_mol_dm3
    said = [hazard(formula, share * most) for share in (0.0, 0.1, 0.5, 1.0)]
    assert all("check against your own rules" in each for each in said)
    assert waste_route(formula)


def test_bands_change_where_the_trade_says():
    assert "harmful" not in hazard("CuSO4", 0.99)
    assert "harmful" in hazard("CuSO4", 1.0)
    assert "corrosive" not in hazard("NaOH", 0.49)
    assert "corrosive" in hazard("NaOH", 0.5)


def test_heavy_metals_are_collected_and_common_salts_are_not():
    assert all("collect" in waste_route(f) for f in ("CuSO4", "AgNO3", "ZnCl2", "Pb(NO3)2"))
    assert all("sink with" in waste_route(f) for f in ("NaCl", "K2SO4", "MgCl2"))


def test_copper_is_blue_iodine_brown_and_salt_clear():
    red, green, blue = transmitted({"Cu2+": 0.2}, 3.0)
    assert red < green < blue
    red, green, blue = transmitted({"I3^-": 2e-3}, 3.0)
    assert red > green > blue
    assert transmitted({"Na+": 1.0, "Cl-": 1.0}, 3.0) == (1.0, 1.0, 1.0)


def test_twice_the_strength_is_twice_the_depth():
    assert transmitted({"Cu2+": 0.2}, 1.0) == pytest.approx(transmitted({"Cu2+": 0.1}, 2.0))


def test_a_negative_depth_is_refused():
    with pytest.raises(InputError, match="path_cm"):
        transmitted({"Cu2+": 0.2}, -1.0)
