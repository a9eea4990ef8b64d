"""What is said of a run: differences from the rule, narration, cautions, the results table."""

from __future__ import annotations

import sys
from itertools import pairwise

import pytest
from tests.questions.plain_spaces import with_plain_spaces

import fizzplate as fp
from fizzplate.lesson import (
    cautions,
    charge_share,
    differences,
    narration,
    observations,
    results_table,
    sentence_at,
)
from fizzplate.lesson.classroom.hazards import GENERAL_CAUTION
from fizzplate.lesson.rule.residue import residue

LAMP = fp.Lamp(6.0, 0.06)


def run_of(formula, minutes=5, **options):
    return fp.Cell(formula, lamp=LAMP, **options).run(minutes=minutes, samples=21)


def test_oxygen_beside_chlorine_is_told_with_its_share():
    run = run_of("NaCl", concentration_mol_dm3=0.02)
    _, at_anode = differences(run)
    share = charge_share(run.anode, "O2")
    assert share > 0.02
    assert f"{100 * share:.0f} % of the charge makes oxygen" in with_plain_spaces(at_anode[0])


def test_chlorine_that_stays_dissolved_is_told():
    _, at_anode = differences(run_of("NaCl"))
    assert any("stays dissolved or reacts with the alkali" in said for said in at_anode)
    _, at_acid = differences(run_of("HCl"))
    assert not any("alkali" in said for said in at_acid)


@pytest.mark.parametrize(
    ("solution", "cell", "said"),
    [
        (
            "NaCl",
            {"anode": "copper"},
            "By the rule, copper dissolves as copper(II). In the model, 66 % of the charge makes copper(I)",
        ),
        (
            "HCl",
            {"anode": "silver", "concentration_mol_dm3": 0.02},
            "makes oxygen: chloride ions do not reach it fast enough for the whole current.",
        ),
        (
            "NaF",
            {"anode": "zinc"},
            "makes oxygen: the solution at the anode is saturated, so the metal cannot dissolve fast enough",
        ),
        (
            "Na2SO4",
            {"anode": "zinc", "anode_mass_g": 0.02},
            "makes oxygen, once all of the metal has dissolved.",
        ),
        (
            "NaF",
            {"anode": "iron"},
            "turns iron(II) into iron(III): the solution turns yellow.",
        ),
    ],
)
def test_a_metal_anode_is_told_with_what_really_keeps_it_from_the_rule(solution, cell, said):
    run = fp.Cell(solution, supply_V=6.0, **cell).run(minutes=10, samples=11)
    _, at_anode = differences(run)
    assert any(said in with_plain_spaces(each) for each in at_anode)


@pytest.mark.parametrize(
    ("mixture", "said"),
    [
        (
            {"FeSO4": 1.0, "NaI": 0.1},
            "turns iron(II) into iron(III), because iodide ions do not reach it fast enough.",
        ),
        (
            {"CuCl2": 0.5, "KBr": 0.1},
            "makes chlorine, because bromide ions do not reach it fast enough.",
        ),
        ({"FeSO4": 0.5}, "turns iron(II) into iron(III), which needs less voltage"),
    ],
)
def test_what_comes_after_the_easiest_ion_is_told_with_its_short_supply(mixture, said):
    """Iodide needs less voltage than iron(II), bromide less than chloride: they are taken first."""
    run = fp.Cell(mixture, vessel="U-tube", supply_V=9.0, lamp=LAMP).run(minutes=5, samples=6)
    _, at_anode = differences(run)
    assert any(said in each for each in at_anode)


def test_copper_at_both_ends_is_told_with_equal_masses():
    _, at_anode = differences(run_of("CuSO4", anode="copper", cathode="copper"))
    assert any("the blue stays" in said for said in at_anode)


def test_in_copper_chloride_the_blue_is_not_said_to_stay_beside_unequal_masses():
    run = run_of("CuCl2", anode="copper", cathode="copper")
    _, at_anode = differences(run)
    assert any("more copper dissolves than is deposited" in said for said in at_anode)
    told = [*at_anode, *(sentence for _, sentence in narration(run))]
    assert not any("blue stays" in said for said in told)


@pytest.mark.parametrize(
    ("formula", "metal", "reason"),
    [
        ("ZnSO4", "zinc", "a much higher voltage on zinc"),
        ("NiSO4", "nickel", "few hydrogen ions"),
        ("FeSO4", "iron", "few hydrogen ions"),
    ],
)
def test_a_metal_plates_before_hydrogen_for_the_reason_that_holds_on_it(formula, metal, reason):
    at_cathode, _ = differences(run_of(formula))
    (said,) = (said for said in at_cathode if f"plates {metal}" in said)
    assert reason in said


def test_rust_that_clouds_the_liquid_comes_from_iron_that_reacts_with_water():
    at_cathode, at_anode = differences(run_of("FeSO4", minutes=30))
    assert not any("iron(III) hydroxide" in said for said in at_cathode)
    (said,) = (said for said in at_anode if "iron(III) hydroxide" in said)
    assert "react with water" in said


@pytest.mark.parametrize(("strength", "is_short"), [(0.1, True), (1.0, False)])
def test_oxygen_beside_lead_oxide_is_explained_by_the_supply_of_lead(strength, is_short):
    cell = fp.Cell("Pb(NO3)2", concentration_mol_dm3=strength, current_A=0.15)
    _, at_anode = differences(cell.run(minutes=5, samples=6))
    assert any("lead(IV) oxide" in said for said in at_anode)
    assert any("Lead(II) ions do not reach" in said for said in at_anode) == is_short


def test_where_rule_and_bench_agree_nothing_is_said_of_other_products():
    at_cathode, at_anode = differences(run_of("Na2SO4"))
    assert not any("By the rule" in said for said in (*at_cathode, *at_anode))


def test_a_run_that_never_started_differs_from_nothing():
    run = fp.Cell("NaCl").run(stages=[fp.Stage(1, off=True)], samples=2)
    assert differences(run) == ((), ())
    assert "switch is open" in sentence_at(run, 0)


def test_too_low_a_voltage_is_told_apart_from_an_open_switch():
    run = fp.Cell("Na2SO4", supply_V=0.5).run(minutes=1, samples=2)
    assert "Hardly any current" in sentence_at(run, 1)


def test_the_narration_changes_only_when_the_sentence_does():
    said = narration(run_of("NaCl"))
    assert said[0][0] == 0
    assert all(a[1] != b[1] for a, b in pairwise(said))
    assert "alkaline" in said[-1][1]


def test_swapped_wires_swap_what_is_said():
    cell = fp.Cell("CuSO4", lamp=LAMP)
    run = cell.run(stages=[fp.Stage(2), fp.Stage(1, swapped=True)], samples=13)
    assert "copper atoms give up" not in sentence_at(run, 1)
    assert "copper atoms give up" in sentence_at(run, 10)


@pytest.mark.parametrize(
    ("formula", "words"),
    [
        ("NaCl", ("Chlorine irritates", "Hydrogen burns", "alkaline", "Never add acid")),
        ("CuSO4", ("Copper salts",)),
        ("NaOH", ("corrosive",)),
        ("H2SO4", ("Sulfuric acid",)),
    ],
)
def test_cautions_stand_where_the_hazard_is(formula, words):
    said = cautions(fp.Cell(formula))
    assert all(any(word in sentence for sentence in said) for word in words)


def test_alkali_is_warned_of_where_the_run_makes_it():
    acid = run_of("ZnSO4")
    assert acid.cathode.pH[-1] < 4
    assert not any("alkaline" in sentence for sentence in cautions(acid.cell, acid))
    alkaline = run_of("NaCl")
    assert any("alkaline" in sentence for sentence in cautions(alkaline.cell, alkaline))
    mixed = run_of("CuSO4", concentration_mol_dm3=0.05)
    assert any("Copper salts" in sentence for sentence in cautions(mixed.cell, mixed))


def test_the_general_caution_tells_no_answer():
    said = GENERAL_CAUTION.lower()
    for product in ("hydrogen", "chlorine", "oxygen", "alkali", "acid", "bromine", "iodine"):
        assert product not in said
    assert "risk assessment" in said


@pytest.mark.parametrize("formula", fp.solutions())
def test_cautions_defer_to_the_school(formula):
    assert "risk assessment, local rules and a qualified person" in cautions(fp.Cell(formula))[-1]


def test_no_chlorine_is_warned_of_where_none_forms():
    assert not any("Chlorine" in sentence for sentence in cautions(fp.Cell("Na2SO4")))


def test_the_results_table_has_a_row_a_run_and_lines_up():
    lines = results_table([run_of("Na2SO4"), run_of("CuSO4")]).splitlines()
    assert len(lines) == 4
    assert lines[2].split()[0] == "Na2SO4"
    column = lines[0].index("anode: rule")
    assert [line[column:].split()[0] for line in lines[2:]] == ["O2", "O2"]


def test_chlorine_that_dissolves_as_it_rises_is_seen_less_than_the_hydrogen_that_does_not():
    """In brine about as much of both forms bubbles at the faces, but few of chlorine's reach the surface."""
    run = fp.Cell("NaCl", lamp=LAMP).run(minutes=5, samples=11)
    formed = [run.cathode.bubbles_cm3("H2")[-1], run.anode.bubbles_cm3("Cl2")[-1]]
    assert formed[0] < 1.3 * formed[1]
    assert observations(run)[-1][1].endswith("There are more bubbles at the cathode.")


def test_other_words_for_what_is_seen_do_not_change_what_is_said(monkeypatch):
    run = run_of("Na2SO4")
    more = "There are more bubbles at the cathode."
    assert observations(run)[-1][1].endswith(more)
    module = sys.modules["fizzplate.lesson.rule.sights"]
    monkeypatch.setattr(module, "observation_of", {"H2": "fizzing", "O2": "gas"}.get)
    assert observations(run)[-1][1] == f"At the cathode: fizzing. At the anode: gas. {more}"


def test_what_stays_in_a_solution_has_a_sentence_of_its_own():
    cell = fp.Cell("CuSO4")
    left = residue(cell.rule(), cell.ions_mol_dm3)
    assert "SO₄²⁻" in left.staying
    assert left.sentences == (left.staying, *left.changes)
    assert left.changes[-1] == "The blue fades."
