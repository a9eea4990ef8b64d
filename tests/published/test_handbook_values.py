"""Values of the tables that were written from memory, against other tables and what handbooks print."""

from __future__ import annotations

import chemicals
import periodictable
import pytest

import fizzplate as fp
from fizzplate import data
from fizzplate.chemistry import molar_mass_g_mol, transmittance

METALS = [row for row in data.rows("electrodes") if row["formula"] != "C"]
CAS = {"NaCl(l)": "7647-14-5", "PbBr2(l)": "10031-22-8"}


@pytest.mark.parametrize("row", METALS, ids=lambda row: row["name"])
def test_densities_of_metals_are_those_of_the_package_periodictable(row):
    density_g_cm3 = getattr(periodictable, row["formula"]).density
    assert row.value / 1000 == pytest.approx(density_g_cm3, rel=0.005)


def test_graphite_is_lighter_than_any_metal_and_as_heavy_as_its_crystal():
    (graphite,) = (row.value for row in data.rows("electrodes") if row["formula"] == "C")
    assert graphite / 1000 == pytest.approx(periodictable.C.density, rel=0.03)


@pytest.mark.parametrize(("formula", "cas"), CAS.items())
def test_melting_points_are_those_of_the_package_chemicals(formula, cas):
    melts_C = chemicals.Tm(cas) - 273.15
    assert data.find("melts", formula=formula).value == pytest.approx(melts_C, abs=5)


@pytest.mark.parametrize(
    ("formula", "least_C", "most_C"), [("ZnCl2(l)", 275, 325), ("Al2O3(l)", 940, 980)]
)
def test_other_melts_are_worked_at_temperatures_of_the_trade(formula, least_C, most_C):
    """From memory: zinc chloride melts at 290 °C (chemicals: 325 °C); cryolite baths at 940 to 980 °C."""
    assert least_C <= data.find("melts", formula=formula).value <= most_C


@pytest.mark.parametrize(
    ("formula", "percent", "density_g_cm3"),
    [
        ("NaCl", 26.4, 1.20),
        ("KCl", 25.5, 1.17),
        ("KNO3", 24.0, 1.16),
        ("K2SO4", 10.0, 1.08),
        ("NaF", 3.9, 1.04),
        ("CuSO4", 16.9, 1.20),
        ("Pb(NO3)2", 34.0, 1.40),
    ],
)
def test_the_largest_strength_of_the_less_soluble_salts_is_that_of_the_saturated_solution(
    formula, percent, density_g_cm3
):
    """At 20 °C, from memory: grams in 100 g of saturated solution, and its density."""
    saturated = 10 * percent * density_g_cm3 / molar_mass_g_mol(formula)
    most = fp.solutions()[formula].solubility_mol_dm3
    assert most == pytest.approx(saturated, rel=0.06)


@pytest.mark.parametrize(
    ("species", "mol_dm3", "seen"),
    [
        ("Cu2+", 0.5, "blue"),
        ("Ni2+", 0.5, "green"),
        ("Fe3+", 0.1, "yellow or brown"),
        ("Br2", 0.01, "orange"),
        ("I3^-", 0.001, "brown"),
        ("I2", 0.001, "violet or brown"),
        ("Cl2", 0.02, "pale yellow green"),
        ("MnO4-", 0.0005, "purple"),
    ],
)
def test_a_solution_has_the_colour_that_books_say(species, mol_dm3, seen):
    """By the red, green and blue light that 3 cm let through."""
    red, green, blue = transmittance({species: mol_dm3}, 3.0)
    holds = {
        "blue": red < green < blue,
        "green": green > max(red, blue),
        "yellow or brown": red >= green > blue,
        "orange": red > green > blue,
        "brown": red > green > blue,
        "violet or brown": red > max(green, blue),
        "pale yellow green": red > 0.9 and green > 0.9 and 0.2 < blue < 0.8,
        "purple": green < min(red, blue),
    }
    assert holds[seen], (red, green, blue)


@pytest.mark.parametrize(("halogen", "g_dm3"), [("Br2", 34.0), ("I2", 0.335)])
def test_water_holds_as_much_halogen_as_handbooks_print(halogen, g_dm3):
    """At 25 °C, from memory."""
    saturated = data.find("gases", species=halogen, quantity="saturation").value
    assert saturated * molar_mass_g_mol(halogen) / 1000 == pytest.approx(g_dm3, rel=0.05)


@pytest.mark.parametrize("table", ["halogens", "reactivity"])
def test_an_order_gives_each_place_once(table):
    places = [row.value for row in data.rows(table)]
    assert places == list(range(1, len(places) + 1))
