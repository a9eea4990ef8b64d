"""What a solution looks like (from memory and practice)."""

import pytest

from fizzplate.cell import Cell, Lamp
from fizzplate.chemistry import InputError, transmittance


def test_copper_is_blue_iodine_brown_and_salt_clear():
    red, green, blue = transmittance({"Cu2+": 0.2}, 3.0)
    assert red < green < blue
    red, green, blue = transmittance({"I3^-": 2e-3}, 3.0)
    assert red > green > blue
    assert transmittance({"Na+": 1.0, "Cl-": 1.0}, 3.0) == (1.0, 1.0, 1.0)


def test_twice_the_strength_is_twice_the_depth():
    assert transmittance({"Cu2+": 0.2}, 1.0) == pytest.approx(transmittance({"Cu2+": 0.1}, 2.0))


def test_a_negative_depth_is_refused():
    with pytest.raises(InputError, match="path_cm"):
        transmittance({"Cu2+": 0.2}, -1.0)


@pytest.mark.parametrize(
    ("formula", "halogen", "bound"), [("NaBr", "Br2", "Br3^-"), ("KI", "I2", "I3^-")]
)
def test_a_halogen_that_its_halide_has_bound_still_colours_the_liquid(formula, halogen, bound):
    """Nearly all of it is bound at the anode; without the bound form the liquid there would look pale."""
    run = Cell(formula, lamp=Lamp(6.0, 0.06)).run(minutes=2, samples=3)
    free, held = (float(run.concentration(name)[-1, -1]) for name in (halogen, bound))
    assert held > 5 * free
    red, _, blue = transmittance({halogen: free / 1e3, bound: held / 1e3}, 0.15)
    assert blue < 0.5 * red
