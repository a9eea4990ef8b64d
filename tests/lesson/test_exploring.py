"""Comparisons, sweeps and investigations say what the runs give."""

from __future__ import annotations

import runpy
from dataclasses import dataclass, replace

import numpy as np
import pytest
from tests.questions.plain_spaces import with_plain_spaces

from fizzplate.lesson import CellSetup, state
from fizzplate.lesson.classroom import cell_comparison
from fizzplate.lesson.classroom.cell_comparison import compare_cells, compared_curves
from fizzplate.lesson.classroom.investigations import investigations
from fizzplate.lesson.classroom.sweeps import SWEEPS, sweep
from fizzplate.words.refusals import InputError


def compared(first, second):
    runs = tuple(setup.cell().run(minutes=setup.minutes, samples=5) for setup in (first, second))
    return compare_cells(first, second, runs)


def test_one_change_is_named_with_both_values_and_a_reason():
    found = compared(CellSetup("CuSO4"), CellSetup("CuSO4", anode="copper"))
    assert found.differences == (("anode", "graphite", "copper"),)
    assert "anode" not in found.same
    said = " ".join(found.outcome)
    assert "oxygen in the first cell, copper(II) in the second" in said
    assert "Why: an anode of an active metal dissolves" in said


def test_a_new_part_of_a_set_up_without_a_name_is_refused_at_once(monkeypatch):
    @dataclass(frozen=True, slots=True)
    class Stirred(CellSetup):
        stirrer: str = "none"

    monkeypatch.setattr(state, "CellSetup", Stirred)
    with pytest.raises(TypeError, match=r"NAMES of cell_comparison\.py names no stirrer"):
        runpy.run_path(cell_comparison.__file__)


def test_a_held_current_twice_as_large_gives_twice_the_mass():
    first = CellSetup("CuSO4", supply_V=None, current_A=0.05, lamp="none")
    found = compared(first, replace(first, current_A=0.1))
    said = " ".join(found.outcome)
    assert "Charge passed: 2 times as much in the second." in said
    assert "Copper at the cathode: 2 times as much in the second." in said


def test_both_rods_of_another_material_are_one_change():
    found = compared(CellSetup("CuSO4"), CellSetup("CuSO4", anode="copper", cathode="copper"))
    assert found.differences == (("electrodes", "graphite", "copper"),)
    assert not {"cathode", "anode"} & set(found.same)
    said = " ".join(found.outcome)
    assert "More than one thing" not in said
    assert "Why: an anode of an active metal dissolves" in said
    mixed = compared(CellSetup("CuSO4"), CellSetup("CuSO4", anode="copper", cathode="zinc"))
    assert "More than one thing" in mixed.outcome[0]


@pytest.mark.parametrize("chosen", investigations(), ids=lambda each: each.name)
def test_no_investigation_sets_up_an_unfair_pair(chosen):
    if len(chosen.setups) == 2:
        found = compared(*(replace(setup, minutes=0.5) for setup in chosen.setups))
        assert len(found.differences) == 1
        assert not any("More than one thing" in sentence for sentence in found.outcome)


def test_the_same_lists_only_what_is_there():
    plain = CellSetup("CuSO4", minutes=0.5)
    same = compared(plain, replace(plain, supply_V=3.0)).same
    assert set(same) == {
        "solution",
        "concentration, mol/dm³",
        "volume, cm³",
        "cathode",
        "anode",
        "lamp",
        "vessel",
        "room, °C",
        "time, minutes",
    }
    full = replace(plain, also="NaCl", lamp="none", supply_V=None, current_A=0.02)
    same = compared(full, replace(full, concentration_mol_dm3=0.1)).same
    assert {"also dissolved", "its concentration, mol/dm³", "constant current, A"} <= set(same)
    assert not {"lamp", "supply, V", "crystal"} & set(same)


def test_a_halide_made_at_the_cathode_is_called_halogen_reduced_again():
    found = sweep("shares against concentration", CellSetup("NaCl"))
    assert not any(name.startswith("chloride") for name in found.lines)
    assert "chlorine reduced again, cathode" in found.lines


def test_equal_volumes_are_called_equal():
    sentence = sweep("gas against time", CellSetup("NaCl", 1.0)).sentence
    assert sentence == "At the end the volumes made at both electrodes are equal."
    sentence = sweep("gas against time", CellSetup("Na2SO4")).sentence
    assert "made at the cathode is 2" in sentence
    assert sweep("gas against time", CellSetup("AgNO3", 0.1, anode="silver")).sentence == (
        "Hardly any gas forms."
    )


def test_two_changes_are_no_fair_test():
    found = compared(CellSetup("NaCl"), CellSetup("KI", 0.1))
    assert "does not show which of them is the cause" in found.outcome[0]


def test_equal_cells_say_so():
    found = compared(CellSetup("NaCl"), CellSetup("NaCl"))
    assert found.differences == ()
    assert "Both cells are the same" in found.outcome[0]


def test_nothing_flows_in_one_of_them():
    found = compared(CellSetup("H2O"), CellSetup("NaCl"))
    assert any("second" in sentence for sentence in found.outcome)


def test_what_is_laid_over_is_the_runs_own():
    run = CellSetup("CuSO4").cell().run(minutes=5, samples=5)
    drawn = compared_curves(run)
    assert drawn["Metal on the cathode, mg"][-1] == pytest.approx(
        1e3 * run.cathode.mass_g("Cu")[-1]
    )
    assert drawn["Current, mA"] == pytest.approx(1e3 * run.current_A)


@pytest.mark.parametrize("kind", list(SWEEPS))
@pytest.mark.parametrize("salt", ["NaCl", "CuSO4", "KI"])
def test_every_sweep_has_lines_of_its_own_length(kind, salt):
    found = sweep(kind, CellSetup(salt, minutes=2))
    assert all(line.shape == found.x.shape for line in found.lines.values())
    assert found.sentence.endswith(".")
    assert found.lines or (kind, salt) in {
        ("metal against charge", "NaCl"),
        ("metal against charge", "KI"),
    }


def test_a_sweep_is_drawn_as_far_as_a_supply_drives_the_current_that_is_held():
    held = CellSetup("NaCl", lamp="none", supply_V=None, current_A=0.5, minutes=1)
    found = sweep("shares against concentration", held)
    assert 3 <= len(found.x) < 16
    assert found.x[0] > 0.011
    assert all(line.shape == found.x.shape for line in found.lines.values())
    assert "a current of 0.5 A would need more than 30 V" in with_plain_spaces(found.sentence)


def test_a_sweep_that_no_supply_drives_is_refused_with_the_reason():
    strong = CellSetup("NaCl", 5.0, vessel="U-tube", lamp="none", supply_V=None, current_A=0.9)
    with pytest.raises(InputError, match="no supply here gives more than 30 V"):
        sweep("shares against concentration", strong)


def test_dilute_brine_turns_to_oxygen():
    found = sweep("shares against concentration", CellSetup("NaCl", minutes=2, lamp="none"))
    oxygen = found.lines["oxygen, anode"]
    assert oxygen[0] > oxygen[-1] + 10
    assert "oxygen forms at the anode" in found.sentence


def test_the_mass_lies_on_a_straight_line_through_the_origin():
    found = sweep("metal against charge", CellSetup("CuSO4"))
    slope = found.lines["copper"][1:] / found.x[1:]
    assert slope == pytest.approx(0.3293, rel=0.01)  # mg/C, from Faraday's constant


def test_the_onset_lies_where_departments_see_it_and_is_said():
    """Common practice: about 2-2.5 V for brine, 1.5-2 V for copper(II) sulfate on carbon."""
    for salt, low, high in (("NaCl", 1.5, 3.0), ("CuSO4", 1.2, 2.2)):
        found = sweep("current against voltage", CellSetup(salt))
        assert low < found.onset_V < high
        said = with_plain_spaces(found.sentence)
        assert f"The decomposition voltage (onset) is {found.onset_V:.2g} V." in said
        assert "only a residual current flows, here 0.6" in said
        assert "oxygen of the air" in said
        current = found.lines["current"]
        enlarged_foot = found.enlarged * np.interp(found.onset_V, found.x, current)
        assert 0.1 * current.max() < enlarged_foot < current.max()


def test_a_cell_whose_anode_dissolves_has_no_decomposition_voltage():
    found = sweep("current against voltage", CellSetup("CuSO4", anode="copper", cathode="copper"))
    assert found.onset_V is None
    assert found.enlarged == 1
    assert "no decomposition voltage" in found.sentence


def test_a_sweep_that_is_not_offered_is_refused():
    with pytest.raises(ValueError, match="kind"):
        sweep("colour against taste", CellSetup("NaCl"))


@pytest.mark.parametrize("chosen", investigations(), ids=lambda each: each.name)
def test_every_investigation_runs_and_answers(chosen):
    assert chosen.question.endswith("?")
    assert chosen.sweep in {"", *SWEEPS}
    for setup in chosen.setups:
        setup.cell()
    answer = chosen.answer()
    assert any(character.isdigit() for character in answer)
    assert "nan" not in answer


def test_investigations_have_names_of_their_own():
    names = [each.name for each in investigations()]
    assert len(names) == len(set(names)) >= 8
