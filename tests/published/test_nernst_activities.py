"""Electrode potentials at equilibrium beside published activities: Nernst's equation with activities.

Mean activity coefficients by Robinson and Stokes, and reference electrodes as handbooks print them: all
of them remembered, none read at a source. With concentrations in place of activities the potentials of
these electrodes are off by 6 to 36 mV.
"""

import math

import pytest

import fizzplate as fp

NERNST_V = 0.025693  # 25 °C
SMALLEST_V = 1e-4  # drives a current, and moves an electrode by less than that

#: solution, electrode, mol/dm3, standard potential in V, electrons, mean activity coefficient (remembered)
METALS = [
    ("CuSO4", "copper", 0.01, 0.337, 2, 0.41),
    ("CuSO4", "copper", 0.1, 0.337, 2, 0.150),
    ("CuSO4", "copper", 0.5, 0.337, 2, 0.062),
    ("AgNO3", "silver", 0.1, 0.7996, 1, 0.734),
    ("AgNO3", "silver", 1.0, 0.7996, 1, 0.429),
]


@pytest.mark.parametrize(
    ("salt", "metal", "strength", "standard_V", "electrons", "coefficient"), METALS
)
def test_a_metal_in_its_salt(salt, metal, strength, standard_V, electrons, coefficient):
    cell = fp.Cell(
        salt, concentration_mol_dm3=strength, cathode=metal, anode=metal, supply_V=SMALLEST_V
    )
    run = cell.run(minutes=1, samples=3)
    middle_V = 0.5 * (run.cathode.potential_V[0] + run.anode.potential_V[0])
    published_V = standard_V + NERNST_V / electrons * math.log(strength * coefficient)
    assert middle_V == pytest.approx(published_V, abs=0.005)


@pytest.mark.parametrize(("strength", "printed_V"), [(0.1, 0.288), (1.0, 0.235)])
def test_silver_with_silver_chloride_in_potassium_chloride(strength, printed_V):
    """The reference electrode of handbooks; a current of a microampere moves it by less than 1 mV."""
    cell = fp.Cell(
        "KCl", concentration_mol_dm3=strength, cathode="platinum", anode="silver", current_A=1e-6
    )
    anode_V = cell.run(minutes=1, samples=3).anode.potential_V[0]
    assert anode_V == pytest.approx(printed_V, abs=0.003)


@pytest.mark.parametrize(("strength", "printed_V"), [(0.01, 0.4642), (0.1, 0.3524)])
def test_hydrogen_and_silver_chloride_in_hydrochloric_acid(strength, printed_V):
    """Harned's cell, whose voltages define pH: E0 - 2 RT/F ln(m g), with E0 = 0.2223 V."""
    cell = fp.Cell(
        "HCl", concentration_mol_dm3=strength, cathode="platinum", anode="silver", current_A=1e-6
    )
    run = cell.run(minutes=1, samples=3)
    voltage_V = run.anode.potential_V[0] - run.cathode.potential_V[0]
    assert voltage_V == pytest.approx(printed_V, abs=0.004)
