"""What is dangerous is refused with its reason and with what to use instead."""

from __future__ import annotations

import re

import pytest

import fizzplate as fp
from fizzplate.cell.solver.required_voltage import voltage_needed
from fizzplate.chemistry import InputError, solutions
from fizzplate.chemistry.substances.refused import dangers
from fizzplate.words import NO_BREAK, page_refusal

ACIDIC = {"H+", "Cu2+", "Zn2+", "Fe2+", "Ni2+"}
OXIDISED = {"H+", "Cl-", "Br-", "I-", "Fe2+"}
PRECIPITATE_FLUORIDE = {"Ca2+", "Mg2+", "Pb2+"}
others = pytest.mark.parametrize("formula", [f for f in solutions() if f != "NaF"])


@others
def test_fluoride_is_refused_with_every_acid_and_acidic_salt_and_with_nothing_else(formula):
    mixture = {"NaF": 0.01, formula: 0.01}
    ions = set(solutions()[formula].ions)
    if ions & PRECIPITATE_FLUORIDE:
        with pytest.raises(InputError, match="would form at once"):
            fp.Cell(mixture)
    elif ions & ACIDIC:
        with pytest.raises(InputError) as refused:
            fp.Cell(mixture)
        said = str(refused.value)
        assert refused.value.argument == "solution"
        assert solutions()[formula].name in said
        assert "hydrogen fluoride, which is very toxic and attacks glass" in said
        assert "Use a chloride instead of the fluoride" in said
    else:
        assert fp.Cell(mixture).ions_mol_dm3["F-"] == pytest.approx(0.01)


def test_a_salt_that_counts_as_acidic_is_acid_by_the_model():
    """The reason of the table: the solution as made is acid, so some fluoride would be its acid.

    The least acid is nickel(II) sulfate's, 5.7 to 6.0 by PHREEQC's databases (``tests/published``).
    """
    for formula, salt in solutions().items():
        if set(salt.ions) & ACIDIC:
            run = fp.Cell(formula, concentration_mol_dm3=0.5).run(
                stages=[fp.Stage(1e-4, off=True)], samples=2
            )
            assert run.cathode.pH[0] < 5.9, formula


@pytest.mark.parametrize("formula", list(solutions()))
def test_a_crystal_of_permanganate_is_refused_with_all_that_it_oxidises(formula):
    options = {"vessel": "paper strip", "crystal": "KMnO4", "concentration_mol_dm3": 0.1}
    if not OXIDISED & set(solutions()[formula].ions):
        assert fp.Cell(formula, **options).crystal == "KMnO4"
        return
    with pytest.raises(InputError) as refused:
        fp.Cell(formula, **options)
    assert refused.value.argument == "crystal"
    assert "permanganate" in str(refused.value.why)
    assert "sodium sulfate or potassium nitrate" in refused.value.allowed


@pytest.mark.parametrize("role", ["anode", "cathode"])
def test_a_crystal_is_refused_with_iron_at_either_electrode_since_the_wires_can_be_swapped(role):
    strip = {"solution": "KNO3", "vessel": "paper strip", "crystal": "KMnO4"}
    with pytest.raises(InputError, match=r"crystal: .*iron\(II\)") as refused:
        fp.Cell(**strip, **{role: "iron"})
    assert "graphite, platinum or copper electrodes" in refused.value.allowed


def test_a_mixture_from_which_a_solid_falls_out_is_refused_by_its_name():
    with pytest.raises(InputError) as refused:
        fp.Cell({"NaCl": 0.5, "AgNO3": 0.1})
    said = str(refused.value)
    assert "'sodium chloride and silver nitrate' cannot be used" in said
    assert "solid silver chloride would form at once" in said
    assert "{" not in said


@pytest.mark.parametrize("halide", ["Cl-", "Br-", "I-"])
def test_ammonium_with_a_halide_is_refused_whenever_it_comes_to_be_offered(halide):
    (row,) = dangers({"NH4+", halide})
    assert "explodes" in row.text
    assert "instead of the ammonium salt" in row["instead"]


@pytest.mark.parametrize(
    ("given", "reason"),
    [
        ("NH4Cl", "explode"),
        ("NH4NO3(aq)", "explode"),
        ("NH3", "explode"),
        ("ammonium chloride", "explode"),
        ("BaCl2", "barium"),
        ("Ba(NO3)2", "barium"),
        ("Barium chloride", "barium"),
        ("K2CrO4", "chromium(VI)"),
        ("Na2Cr2O7", "chromium(VI)"),
        ("potassium dichromate", "chromium(VI)"),
        ("CdSO4", "cadmium"),
        ("HgCl2", "mercury"),
        ("CoCl2", "cobalt"),
        ("KCN", "cyanide"),
        ("HF", "hydrofluoric"),
        ("NaClO", "chlorine"),
        ("KMnO4", "oxidiser"),
    ],
)
def test_a_solution_that_is_never_offered_is_refused_with_the_danger(given, reason):
    for solution in (given, {given: 0.1, "NaCl": 0.1}):
        with pytest.raises(InputError) as refused:
            fp.Cell(solution)
        assert refused.value.argument == "solution"
        assert reason in str(refused.value.why)
        assert "Use " in str(refused.value)
        assert "Did you mean" not in str(refused.value)


@pytest.mark.parametrize("given", ["CO2", "SrCl2", "LiCl", "KSCN", "AlCl3", "CaCO3", "gold"])
def test_a_solution_that_is_merely_unknown_is_told_of_no_danger(given):
    with pytest.raises(InputError) as refused:
        fp.Cell(given)
    assert refused.value.why == ""


@pytest.mark.parametrize("role", ["anode", "cathode"])
@pytest.mark.parametrize(
    ("given", "reason"),
    [
        ("stainless steel", "chromium(VI)"),
        ("Steel", "nickel"),
        ("chromium", "chromium(VI)"),
        ("lead", "toxic"),
        ("mercury", "toxic"),
    ],
)
def test_an_electrode_that_is_never_offered_is_refused_with_the_danger(role, given, reason):
    with pytest.raises(InputError) as refused:
        fp.Cell("NaCl", **{role: given})
    assert refused.value.argument == role
    assert reason in str(refused.value.why)
    assert "graphite" in refused.value.allowed


def test_a_pencil_lead_is_told_of_no_danger():
    with pytest.raises(InputError) as refused:
        fp.Cell("NaCl", anode="pencil lead")
    assert refused.value.why == ""


def test_no_supply_gives_more_than_30_v():
    assert fp.Cell("NaCl", supply_V=30).supply_V == 30
    with pytest.raises(InputError, match=r"at most 30 V \(more is not safe to touch\)"):
        fp.Cell("NaCl", supply_V=30.1)


@pytest.mark.parametrize(
    "arguments",
    [
        {"solution": "NaCl", "concentration_mol_dm3": 0.01, "current_A": 0.5},
        {"solution": "H2O", "current_A": 0.05},
        {"solution": "NaCl", "vessel": "U-tube", "current_A": 0.5},
        {"solution": "NaCl", "lamp": fp.Lamp(6.0, 0.06), "current_A": 0.2},
        {"solution": "KNO3", "vessel": "paper strip", "current_A": 0.1},
    ],
)
def test_a_held_current_that_would_need_more_than_30_v_is_refused_with_what_it_takes(arguments):
    with pytest.raises(InputError) as refused:
        fp.Cell(**arguments)
    said = refused.value
    assert said.argument == "current_A"
    (needed_V,) = map(float, re.findall(r"would need about (\S+) V", str(said)))
    (most,) = re.findall(r"at most (\S+) A here", str(said))
    max_current_A = float(most)
    assert needed_V > 30
    assert ("without the lamp" in str(said)) == ("lamp" in arguments)
    on_a_page = page_refusal(said)
    assert f"more than 30{NO_BREAK}V" in on_a_page
    assert f"at most {most}{NO_BREAK}A here" in on_a_page
    cell = fp.Cell(**{**arguments, "current_A": max_current_A})
    needed = voltage_needed(cell, max_current_A)
    assert 26 < needed.voltage_V <= 30
    with pytest.raises(InputError):
        fp.Cell(**{**arguments, "current_A": 1.2 * max_current_A})
    assert voltage_needed(cell, arguments["current_A"]).voltage_V == pytest.approx(
        needed_V, rel=0.1
    )


def test_a_current_that_comes_to_need_more_falls_and_the_run_says_so():
    cell = fp.Cell("CuSO4", concentration_mol_dm3=0.02, vessel="dish", current_A=0.011)
    run = cell.run(minutes=10, samples=61)
    assert run.current_A[0] == pytest.approx(0.011)
    assert run.current_A.min() < 0.9 * 0.011
    assert run.supply_voltage_V.max() == pytest.approx(30, abs=1e-3)
    (said,) = [each for each in run.warnings if each.startswith("To keep the current")]
    assert (
        "keep the current at 0.011 A, the supply would need more than 30 V. It stays at 30 V"
        in said
    )
    assert f"the current falls to {run.current_A.min():.2g} A" in said


def test_a_current_that_is_held_throughout_is_told_of_no_limit():
    run = fp.Cell("NaCl", current_A=0.05).run(minutes=2, samples=5)
    assert not any(each.startswith("To keep the current") for each in run.warnings)
