"""Standard potentials and Nernst potentials against published values."""

from __future__ import annotations

import math

import pytest

from fizzplate import data
from fizzplate.chemistry.constants import FARADAY_C_MOL, GAS_J_MOL_K

NERNST_V = GAS_J_MOL_K * 298.15 / FARADAY_C_MOL


def standard_V(couple):
    return data.find("potentials", couple=couple).value


@pytest.mark.parametrize(
    ("couple", "by_log_K"),
    [
        ("Cu2+/Cu", 0.3398),
        ("Ag+/Ag", 0.7990),
        ("Zn2+/Zn", -0.7633),
        ("O2/H2O", 1.22899),
        ("Cl2/Cl-", 1.3606),
    ],
)
def test_potentials_agree_with_phreeqc(couple, by_log_K):
    """From log K of PHREEQC's llnl.dat (computed); 3 mV between the two sources."""
    assert abs(standard_V(couple) - by_log_K) <= 0.003


def test_zinc_concentration_cell():
    """OpenStax, Chemistry 2e, example 17.8, by the package's R and F: 0.50 and 0.10 mol/dm3, +0.021 V."""
    assert NERNST_V / 2 * math.log(0.50 / 0.10) == pytest.approx(0.021, abs=5e-4)


def test_aluminium_and_copper():
    """OpenStax, example 17.7, check: Al 0.15, Cu 0.025 mol/dm3: Q = 1440, 1.97 V."""
    quotient = 0.15**2 / 0.025**3
    assert quotient == pytest.approx(1440, rel=1e-3)
    emf = standard_V("Cu2+/Cu") - standard_V("Al3+/Al") - NERNST_V / 6 * math.log(quotient)
    assert emf == pytest.approx(1.97, abs=0.005)


def test_a_potential_ten_millivolts_off_fails():
    with pytest.raises(AssertionError):
        assert abs(standard_V("Cu2+/Cu") - 0.350) <= 0.003
