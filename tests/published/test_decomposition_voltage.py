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


#: oxyacid salts, Le Blanc's values in V (remembered)
NEUTRAL = [("Na2SO4", 0.5, 2.21), ("NiSO4", 0.5, 2.09), ("ZnSO4", 0.5, 2.35), ("AgNO3", 1.0, 0.70)]


@pytest.mark.parametrize(("salt", "strength", "le_blanc_V"), NEUTRAL)
def test_neutral_salts_begin_a_third_of_a_volt_above_le_blancs_values(salt, strength, le_blanc_V):
    """0.3 to 0.55 V above, of which 0.2 V are those of sulfuric acid: this level of current lies higher.

    The rest is the anode. Where the first electron that water gives up decides (120 mV for each power of
    ten), its rate goes by the potential whatever the pH, so oxygen needs 1.8 V beside sulfate or nitrate
    too, although its equilibrium lies 0.2 V lower there. Le Blanc's differences from acid say that on his
    platinum part of the pH counted. Exchange currents ten times as large would lower each by 0.12 V.
    """
    assert 0.25 < onset_V(salt, strength, "platinum", to_V=3.2) - le_blanc_V < 0.55


def test_oxygen_on_platinum_needs_the_same_potential_in_acid_and_beside_a_neutral_salt():
    potentials_V = [
        fp.Cell(salt, anode="platinum", cathode="platinum", current_A=0.001)
        .run(minutes=1, samples=3)
        .anode.potential_V[-1]
        for salt in ("H2SO4", "Na2SO4", "ZnSO4")
    ]
    assert max(potentials_V) - min(potentials_V) < 0.01
