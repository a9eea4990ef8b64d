"""What the tables call read or computed, against the sources named, as other packages carry them.

CRC Handbook, 97th edition (package chemicals); Prohaska et al. 2022, atomic weights of 2021 (package
periodictable); PHREEQC's databases (USGS, package phreeqc).
"""

from __future__ import annotations

import math

import periodictable
import pytest
from tests.published.databases import crc_conductivity, crc_diffusion_m2_s, log_K

from fizzplate import data
from fizzplate.chemistry.formula import parse_formula


def rows_of(table, source):
    found = [row for row in data.rows(table) if row.source == source]
    assert found
    return found


@pytest.mark.parametrize("row", rows_of("mobility", "crc"), ids=lambda row: row["species"])
def test_limiting_conductivities_are_those_of_the_handbook(row):
    assert row.value == pytest.approx(crc_conductivity(row["species"]), rel=1e-6)


@pytest.mark.parametrize("row", rows_of("diffusion", "crc"), ids=lambda row: row["species"])
def test_diffusion_coefficients_are_those_of_the_handbook(row):
    """The handbook prints both tables; they agree by Nernst and Einstein to the last figure printed."""
    charge = parse_formula(row["species"]).charge
    assert row.value == pytest.approx(crc_diffusion_m2_s(row["species"], charge), rel=1e-3)


def test_the_databases_differ_on_hydrogensulfate_as_its_row_says():
    """50 S cm2/mol (Marcus) is 1.33e-9 m2/s, which the handbook's 52 is not."""
    row = data.find("diffusion", species="HSO4-")
    marcus = crc_diffusion_m2_s("HSO4-", -1) * 50 / 52
    assert marcus == pytest.approx(1.33e-9, rel=2e-3)
    assert "1.33e-9" in row.caveat
    assert row.value != pytest.approx(marcus, rel=0.03)


@pytest.mark.parametrize("row", rows_of("elements", "iupac2021"), ids=lambda row: row["element"])
def test_atomic_weights_are_those_of_2021(row):
    assert row.value == pytest.approx(getattr(periodictable, row["element"]).mass, abs=1e-9)


@pytest.mark.parametrize(
    ("gas", "log_henry"),
    [
        ("O2", log_K("phreeqc.dat", "O2 = O2")),
        ("H2", log_K("phreeqc.dat", "H2 = H2")),
        (
            "Cl2",  # Cl2(g) -> 2Cl- - 2e- -> Cl2(aq)
            log_K("sit.dat", "Cl2 = -2 e- + 2 Cl-") + log_K("sit.dat", "- 2 e- + 2 Cl- = Cl2"),
        ),
    ],
)
def test_henry_constants_are_those_of_phreeqcs_databases(gas, log_henry):
    value = data.find("gases", species=gas, quantity="Henry constant").value
    assert value == pytest.approx(10**log_henry, rel=2e-3)


def test_hydrolysis_of_chlorine_is_that_of_phreeqcs_databases():
    """Cl2 + H2O -> HClO + H+ + Cl-, put together from four log K; within 5 %."""
    log_hydrolysis = (
        -log_K("sit.dat", "- 2 e- + 2 Cl- = Cl2")
        + log_K("llnl.dat", "2 H2O = O2 + 4 H+ + 4 e-") / 2
        + log_K("llnl.dat", "Cl- + 0.5 O2 = ClO-")
        + log_K("llnl.dat", "H+ + ClO- = HClO")
    )
    value = data.find("equilibria", kind="halogen").value
    assert value == pytest.approx(10**log_hydrolysis, rel=0.05)


def test_hydrogensulfate_is_bound_as_in_phreeqcs_database():
    row = data.find("ion_pairs", pair="HSO4-", quantity="log association constant")
    assert row.value == pytest.approx(log_K("phreeqc.dat", "SO4-2 + H+ = HSO4-"), abs=5e-4)


def test_a_value_in_another_unit_or_one_in_a_hundred_off_fails():
    with pytest.raises(AssertionError):
        assert 2 * data.find("diffusion", species="SO4^2-").value == pytest.approx(
            crc_diffusion_m2_s("SO4^2-", -2), rel=1e-3
        )
    with pytest.raises(AssertionError):
        assert math.log10(1.01 * data.find("gases", species="O2").value) == pytest.approx(
            log_K("phreeqc.dat", "O2 = O2"), abs=5e-4
        )
