"""What the tables call read or computed, against the sources named, as other packages carry them.

CRC Handbook, 97th edition (package chemicals); Prohaska et al. 2022, atomic weights of 2021 (package
periodictable); PHREEQC's databases (USGS, package phreeqc).
"""

from __future__ import annotations

import math

import periodictable
import phreeqc
import pytest
from tests.published.databases import (
    as_phreeqc_writes,
    change_by,
    crc_conductivity,
    crc_diffusion_m2_s,
    log_K,
    reactions,
)

from fizzplate import data
from fizzplate.cell import Cell, Lamp, Liquid
from fizzplate.chemistry import solutions
from fizzplate.chemistry.equilibria import ChemicalSystem, dissolve
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
    """Cl2 + H2O -> HClO + H+ + Cl-, put together from four log K."""
    log_hydrolysis = (
        -log_K("sit.dat", "- 2 e- + 2 Cl- = Cl2")
        + log_K("llnl.dat", "2 H2O = O2 + 4 H+ + 4 e-") / 2
        + log_K("llnl.dat", "Cl- + 0.5 O2 = ClO-")
        + log_K("llnl.dat", "H+ + ClO- = HClO")
    )
    row = data.find("speciation", equation="HClO + H+ + Cl- -> Cl2 + H2O", quantity="log K")
    assert row.value == pytest.approx(-log_hydrolysis, abs=0.02)


def read_equilibria():
    return [row for row in data.rows("speciation") if row.status == "read"]


@pytest.mark.parametrize("row", read_equilibria(), ids=lambda row: row["equation"])
def test_equilibria_are_those_of_the_database_that_the_row_names(row):
    database = row.caveat.split(",")[0] or "phreeqc.dat"
    change = change_by(as_phreeqc_writes(row["equation"]), " -> ")
    assert row.value == pytest.approx(reactions(database)[change], abs=1e-6)


def test_sulfuric_acid_gives_the_sulfate_of_the_pitzer_database():
    """Within 8 % up to 2 mol/dm3, as the row says."""
    for molality in (0.05, 0.1, 0.2, 0.5, 1.0, 1.5, 2.0):
        solver = phreeqc.Phreeqc()
        solver.LoadBuiltInDatabase("pitzer.dat")
        solver.RunString(
            f"SOLUTION 1\nunits mol/kgw\npH 1 charge\nS(6) {molality}\n"
            "SELECTED_OUTPUT\n-reset false\n-high_precision true\n-molalities SO4-2\nEND"
        )
        printed = solver.GetSelectedOutputValue(solver.GetSelectedOutputRowCount() - 1, 0)
        ours = free("SO4^2-", {"H+": 2 * molality, "SO4^2-": molality})
        assert ours == pytest.approx(printed, rel=0.08)


def test_half_molar_sulfuric_acid_is_mostly_hydrogensulfate():
    assert free("SO4^2-", {"H+": 1.0, "SO4^2-": 0.5}) == pytest.approx(0.111, rel=0.1)


def test_as_much_copper_is_free_in_its_sulfate_as_databases_say():
    """0.14 to 0.22 mol/dm3 in those that know copper(II) sulfate, at 0.5 mol/dm3."""
    assert 0.14 < free("Cu2+", {"Cu2+": 0.5, "SO4^2-": 0.5}) < 0.22


def free(species, ions_mol_dm3):
    """Give the concentration of a species in a solution made of these ions, mol/dm3."""
    system = ChemicalSystem.of(ions_mol_dm3, oxidised=False)
    made = dissolve(system, {ion: 1e3 * amount for ion, amount in ions_mol_dm3.items()})
    return 1e-3 * made[[member.formula for member in system.species].index(species)]


def test_a_value_in_another_unit_or_one_in_a_hundred_off_fails():
    with pytest.raises(AssertionError):
        assert 2 * data.find("diffusion", species="SO4^2-").value == pytest.approx(
            crc_diffusion_m2_s("SO4^2-", -2), rel=1e-3
        )
    with pytest.raises(AssertionError):
        assert math.log10(1.01 * data.find("gases", species="O2").value) == pytest.approx(
            log_K("phreeqc.dat", "O2 = O2"), abs=5e-4
        )


#: databases that know how the ion of each salt hydrolyses
DATABASES_OF_PH = {
    "CuSO4": ("phreeqc.dat", "wateq4f.dat", "minteq.v4.dat", "llnl.dat", "sit.dat"),
    "CuCl2": ("phreeqc.dat", "wateq4f.dat", "minteq.v4.dat", "llnl.dat", "sit.dat"),
    "Cu(NO3)2": ("phreeqc.dat", "wateq4f.dat", "minteq.v4.dat", "llnl.dat", "sit.dat"),
    "ZnSO4": ("phreeqc.dat", "wateq4f.dat", "minteq.v4.dat", "llnl.dat"),
    "ZnCl2": ("phreeqc.dat", "wateq4f.dat", "minteq.v4.dat", "llnl.dat"),
    "Zn(NO3)2": ("phreeqc.dat", "wateq4f.dat", "minteq.v4.dat", "llnl.dat"),
    "NiSO4": ("wateq4f.dat", "minteq.v4.dat", "llnl.dat", "sit.dat"),
    "FeSO4": ("phreeqc.dat", "wateq4f.dat", "llnl.dat", "sit.dat"),
    "Pb(NO3)2": ("phreeqc.dat", "wateq4f.dat", "minteq.v4.dat", "llnl.dat", "sit.dat"),
    "MgSO4": ("phreeqc.dat", "wateq4f.dat", "minteq.v4.dat", "llnl.dat", "sit.dat"),
    "MgCl2": ("phreeqc.dat", "wateq4f.dat", "minteq.v4.dat", "llnl.dat", "sit.dat"),
}
#: as a database writes each ion whose oxidation state it must not change
ELEMENTS = {"Cu2+": "Cu(2)", "Fe2+": "Fe(2)", "NO3-": "N(5)", "SO4^2-": "S(6)"}
NEAR = 0.15  # of pH, beyond what the databases say


def pH_by_database(database, ions_mol_dm3):
    """Give the pH of a solution of these ions, with no more acid than they make."""
    solver = phreeqc.Phreeqc()
    solver.LoadBuiltInDatabase(database)
    lines = ["SOLUTION 1", "units mol/l", "pH 7 charge", "pe 10"]
    for ion, amount in ions_mol_dm3.items():
        lines.append(f"{ELEMENTS.get(ion) or next(iter(parse_formula(ion).elements))} {amount}")
    lines += ["SELECTED_OUTPUT", "-reset false", "-high_precision true", "-pH true", "END"]
    assert solver.RunString("\n".join(lines)) == 0, solver.GetErrorString()
    return float(solver.GetSelectedOutputValue(1, 0))


@pytest.mark.parametrize("formula", DATABASES_OF_PH)
def test_a_salt_makes_its_solution_as_acid_as_databases_say(formula):
    """At 0.5 mol/dm3, where they differ among themselves by 0.2 to 1.2."""
    ions = {ion: 0.5 * count for ion, count in solutions()[formula].ions.items()}
    said = [pH_by_database(database, ions) for database in DATABASES_OF_PH[formula]]
    ours = Liquid.of(Cell(formula, concentration_mol_dm3=0.5)).pH[0]
    assert min(said) - NEAR < ours < max(said) + NEAR


def test_alkaline_sodium_bromide_has_the_pH_that_a_database_gives_its_totals():
    """After half an hour between carbon rods, in the middle: bromate(I), and 0.05 of pH from llnl.dat."""
    run = Cell("NaBr", lamp=Lamp(6.0, 0.06)).run(minutes=30, samples=3)
    middle = run.position_m.size // 2
    c = {name: float(run.concentration(name)[-1, middle]) for name in (*run.ions, *run.dissolved)}
    oxidised = c["HBrO"] + c["BrO-"] + c["Br2"] + c["Br3^-"]
    bromide = c["Br-"] + c["Br2"] + 2 * c["Br3^-"]
    solver = phreeqc.Phreeqc()
    solver.LoadBuiltInDatabase("llnl.dat")
    solver.RunString(
        f"SOLUTION 1\nunits mmol/l\npH 9 charge\npe 10\nNa {c['Na+']}\nBr(-1) {bromide}\n"
        f"Br(1) {oxidised}\nSELECTED_OUTPUT\n-reset false\n-high_precision true\n-pH true\nEND"
    )
    assert run.pH[-1, middle] == pytest.approx(solver.GetSelectedOutputValue(1, 0), abs=0.05)
    assert oxidised > 4


@pytest.mark.parametrize("strength", [0.1, 0.5])
def test_acid_and_fluoride_at_an_anode_have_the_pH_that_a_database_gives_their_totals(strength):
    """Hydrofluoric acid and HF2- take up the acid: pH 3 to 4.5, where free H+ would have 1.3."""
    cell = Cell("NaF", concentration_mol_dm3=strength, anode="platinum", lamp=Lamp(6.0, 0.06))
    run = cell.run(minutes=5, samples=3)
    c = {name: float(run.concentration(name)[-1, -1]) for name in (*run.ions, *run.dissolved)}
    solver = phreeqc.Phreeqc()
    solver.LoadBuiltInDatabase("minteq.v4.dat")
    solver.RunString(
        f"SOLUTION 1\nunits mmol/l\npH 4 charge\nNa {c['Na+']}\n"
        f"F {c['F-'] + c['HF'] + 2 * c['HF2-']}\n"
        "SELECTED_OUTPUT\n-reset false\n-high_precision true\n-pH true\nEND"
    )
    assert 3 < run.anode.pH[-1] < 4.5
    assert run.anode.pH[-1] == pytest.approx(solver.GetSelectedOutputValue(1, 0), abs=0.1)


def test_iron_two_hydroxide_dissolves_in_alkali_no_more_than_three_databases_say():
    """log K -31 in phreeqc.dat, llnl.dat and wateq4f.dat; minteq.v4.dat has a hundred times as much."""
    row = data.find("speciation", equation="Fe2+ + 3H2O -> Fe(OH)3- + 3H+", quantity="log K")
    change = change_by(as_phreeqc_writes(row["equation"]), " -> ")
    for database in ("phreeqc.dat", "llnl.dat", "wateq4f.dat"):
        assert row.value == reactions(database)[change]
