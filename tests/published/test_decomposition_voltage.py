"""Decomposition voltages beside those of textbooks.

Ranges as textbooks give them, and Le Blanc's values (1893, smooth platinum, normal solutions) as textbooks
repeat them: all of them remembered, none read at a source.
"""

import re
from functools import cache

import pytest
from tests.published.databases import DATABASES

import fizzplate as fp
from fizzplate import data

#: solution, concentration in mol/dm3, electrodes, range in V (remembered), Le Blanc's value in V (remembered)
REMEMBERED = [
    ("H2SO4", 0.5, "platinum", (1.7, 2.1), 1.67),
    ("HCl", 1.0, "platinum", (1.3, 1.5), 1.31),
    ("CuSO4", 0.5, "platinum", (1.3, 1.7), 1.49),
]
WITHIN_V = 0.25  # two overpotentials, each known to a factor of ten of current: 0.12 V


@cache
def onset_V(salt, strength, material, to_V=2.4):
    cell = fp.Cell(salt, concentration_mol_dm3=strength, anode=material, cathode=material)
    return fp.sweep_voltage(cell, to_V=to_V, points=7).onset_V


@pytest.mark.parametrize(("salt", "strength", "material", "between", "le_blanc_V"), REMEMBERED)
def test_the_onset_lies_where_textbooks_have_it(salt, strength, material, between, le_blanc_V):
    found_V = onset_V(salt, strength, material)
    assert between[0] <= found_V <= between[1]
    assert found_V == pytest.approx(le_blanc_V, abs=WITHIN_V)


def test_graphite_needs_more_because_hydrogen_forms_slowly_on_it():
    """By its overpotential at 0.1 mA/cm2: 118 mV for each power of ten between exchange currents."""
    platinum_V, graphite_V = (onset_V("HCl", 1.0, each) for each in ("platinum", "graphite"))
    assert 0.4 < graphite_V - platinum_V < 0.7
    assert not 1.3 <= graphite_V <= 1.5


def test_brine_on_graphite_is_near_what_is_remembered():
    """About 2.5 V (remembered): potentials 1.36 V and 0.6 V, and hydrogen 0.7 V more."""
    found_V = onset_V("NaCl", 1.0, "graphite", to_V=3.0)
    assert found_V == pytest.approx(2.5, abs=WITHIN_V)


def test_oxygen_diffuses_as_in_phreeqcs_database():
    printed = (DATABASES / "phreeqc.dat").read_text(encoding="utf-8", errors="replace")
    value = re.search(r"2 H2O = O2 .*?-dw\s+(\S+)", printed, re.DOTALL)[1]
    assert data.find("diffusion", species="O2").value == float(value)


#: salts whose solutions are neutral, Le Blanc's values in V (remembered)
NEUTRAL = [
    ("Na2SO4", 0.5, 2.21),
    ("NaNO3", 1.0, 2.15),
    ("KNO3", 1.0, 2.17),
    ("ZnSO4", 0.5, 2.35),
    ("AgNO3", 1.0, 0.70),
    ("NaCl", 1.0, 1.98),
    ("NaBr", 1.0, 1.58),
    ("NaI", 1.0, 1.12),
]


@pytest.mark.parametrize(("salt", "strength", "le_blanc_V"), NEUTRAL)
def test_neutral_salts_begin_near_le_blancs_values(salt, strength, le_blanc_V):
    """Acid forms at the anode and alkali at the cathode: to pH 3.6 and 10.7 at this level of current."""
    found_V = onset_V(salt, strength, "platinum", to_V=3.2)
    assert found_V == pytest.approx(le_blanc_V, abs=0.2)


@pytest.mark.parametrize(("salt", "le_blanc_V"), [("NiSO4", 2.09), ("Pb(NO3)2", 1.52)])
def test_metals_and_oxides_that_form_slowly_begin_near_le_blancs_values_as_well(salt, le_blanc_V):
    """Lead(IV) oxide by its overpotential, whatever the pH; nickel as plating baths need it."""
    found_V = onset_V(salt, 0.5, "platinum", to_V=3.2)
    assert found_V == pytest.approx(le_blanc_V, abs=WITHIN_V)


def test_a_nickel_bath_plates_at_the_potential_that_platers_know():
    """About -0.8 V for 10 mA/cm2 at 25 °C, in 1 mol/dm3 of the sulfate (common practice, from memory)."""
    bath = fp.Cell(
        "NiSO4", concentration_mol_dm3=1.0, anode="nickel", cathode="nickel", current_A=0.055
    )
    assert bath.run(1, samples=3).cathode.potential_V[-1] == pytest.approx(-0.8, abs=0.1)


def test_the_voltage_of_a_neutral_salt_lies_higher_than_acids_by_what_its_faces_have_of_acid_and_alkali():
    """On platinum the overpotential at a current is about the same at every pH, so pH counts in full."""
    acid, neutral = (
        fp.Cell(salt, anode="platinum", cathode="platinum", current_A=0.00055).run(1, samples=3)
        for salt in ("H2SO4", "Na2SO4")
    )
    higher_V = [
        each.anode.potential_V[-1] - each.cathode.potential_V[-1] for each in (neutral, acid)
    ]
    faces_pH = neutral.cathode.pH[-1] - neutral.anode.pH[-1]
    assert higher_V[0] - higher_V[1] == pytest.approx(0.0592 * faces_pH, abs=0.06)
