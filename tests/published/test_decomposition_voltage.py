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
