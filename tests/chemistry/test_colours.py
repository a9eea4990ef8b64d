"""What a solution looks like (from memory and practice)."""

import pytest

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
