"""Faraday quantities against OpenStax, Chemistry 2e, section 17.7 and chapter 17 exercises."""

from __future__ import annotations

import pytest

from fizzplate.chemistry import balance, made_g, molar_mass_g_mol
from fizzplate.chemistry.constants import FARADAY_C_MOL
from fizzplate.chemistry.substances.gases import gas_volume_cm3

THREE_FIGURES = 0.005  # the book prints three figures or more
TWO_FIGURES = 0.015


def mass_g(element, electrons, charge_C):
    charge = "+" if electrons == 1 else f"{electrons}+"
    return made_g(balance(f"{element}{charge} + e- -> {element}"), element, charge_C)


@pytest.mark.parametrize(
    ("element", "electrons", "charge_C", "printed_g"),
    [
        ("Ag", 1, 10.23 * 3600, 41.19),  # example 17.9
        ("Al", 3, 25.0 * 900, 2.10),  # example 17.9, check your learning
        ("Cr", 3, 1.32e6, 237.0),  # example 17.10
        ("Ca", 2, 3.33e5, 69.1),  # exercise 46 (a)
        ("Cr", 3, 3.33e5, 59.8),  # exercise 46 (d)
    ],
)
def test_masses(element, electrons, charge_C, printed_g):
    assert mass_g(element, electrons, charge_C) == pytest.approx(printed_g, rel=THREE_FIGURES)


@pytest.mark.parametrize(("gas", "printed_g"), [("Cl2", 122.0), ("Br2", 276.0)])  # exercise 46
def test_masses_of_halogens(gas, printed_g):
    moles = 3.33e5 / FARADAY_C_MOL / 2
    assert moles * molar_mass_g_mol(gas) == pytest.approx(printed_g, rel=THREE_FIGURES)


def test_hydrogen_over_water_is_more_than_the_dry_volume_that_exercise_48_prints():
    moles = 2.345 * 45 * 60 / FARADAY_C_MOL / 2
    dry = float(gas_volume_cm3(moles, temperature_C=20.0)) / 1000
    wet = float(gas_volume_cm3(moles, temperature_C=20.0, over_water=True)) / 1000
    assert dry == pytest.approx(0.79, rel=TWO_FIGURES)
    assert wet == pytest.approx(0.808, rel=THREE_FIGURES)


def test_a_wrong_number_of_electrons_fails():
    with pytest.raises(AssertionError):
        assert mass_g("Al", 2, 25.0 * 900) == pytest.approx(2.10, rel=THREE_FIGURES)
