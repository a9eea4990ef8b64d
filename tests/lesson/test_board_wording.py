"""Every sentence of a lesson speaks in the board's wording, and in no other."""

from __future__ import annotations

import re
from dataclasses import fields, is_dataclass

import pytest

from fizzplate.cell import Cell
from fizzplate.chemistry import Equation, solutions
from fizzplate.lesson import (
    CellSetup,
    Wording,
    cautions,
    differences,
    narration,
    observations,
    results_table,
    sentence_at,
)
from fizzplate.lesson.classroom.cell_comparison import compare_cells, compared_curves
from fizzplate.lesson.classroom.hazards import hazards
from fizzplate.lesson.classroom.investigations import investigations
from fizzplate.lesson.classroom.sweeps import SWEEPS, sweep
from fizzplate.lesson.equations.equation_tasks import half_task, overall_task
from fizzplate.lesson.measure.causes_of_error import possible_causes
from fizzplate.lesson.measure.class_entries import COLUMNS, read_groups
from fizzplate.lesson.measure.theory_comparison import quantities
from fizzplate.lesson.prepare.amounts import ClassNeeds
from fizzplate.lesson.prepare.sheets import sheets
from fizzplate.lesson.prepare.timetable import one_period, plan
from fizzplate.lesson.prepare.visibility import visibility_advice
from fizzplate.lesson.rule.explanation import explanation
from fizzplate.lesson.rule.residue import acidity_statement, residue

SIGNS = Wording("H2O", "H2O", "minus", states=True, electrode_names="negative")
BOTH = Wording("H2O", "H2O", "minus", states=True, electrode_names="both")
ROLE = re.compile(r"\b(cathode|anode)s?\b", re.IGNORECASE)
BARE_SIGN = re.compile(r"(?<!\()\b(negative|positive) electrode\b", re.IGNORECASE)
ELECTRONS_RIGHT = re.compile(r"→[^.;→]*e⁻")
STATE = re.compile(r"\((s|l|g|aq)\)")
#: cells whose runs meet every kind of sentence: gases, halogens, metals that dissolve, hazes, deposits
RUN = [
    CellSetup("Na2SO4", lamp="none"),
    CellSetup("NaCl", 0.02, lamp="none", minutes=10.0),
    CellSetup("CuSO4", anode="copper", cathode="copper", lamp="none"),
    CellSetup("Pb(NO3)2", 0.1, lamp="none"),
    CellSetup("FeSO4", anode="iron"),
    CellSetup("MgSO4", anode="zinc", vessel="U-tube"),
]


def texts(value):
    """Give every text within a value: a sentence, or what a dataclass, a list or a table of them holds."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, Equation):
        yield value.pretty()
    elif is_dataclass(value):
        for field in fields(value):
            yield from texts(getattr(value, field.name))
    elif isinstance(value, dict):
        for part in value.values():
            yield from texts(part)
    elif isinstance(value, (list, tuple)):
        for part in value:
            yield from texts(part)


def check(value, board):
    """Find no trace of another wording."""
    found = list(texts(value))
    assert found
    other = ROLE if board.electrode_names == "negative" else BARE_SIGN
    for text in found:
        assert not other.search(text), text
        assert "{" not in text, text
        if board.electrons == "minus":
            assert not ELECTRONS_RIGHT.search(text), text
        if board.states and "→" in text.strip(" →"):
            assert STATE.search(text), text


def rule_texts(formula, anode, board):
    """Give all that is said of a cell without a run."""
    cell = Cell(formula, concentration_mol_dm3=0.05, anode=anode)
    rule = cell.rule(board)
    halves = rule.cathode.half_equation, rule.anode.half_equation
    products = rule.cathode.product, rule.anode.product
    tasks = [
        half_task(halves[0], products[0], "cathode", board),
        half_task(halves[1], products[1], "anode", board),
        overall_task(halves[0], products[0], halves[1], products[1], board),
    ]
    return [
        rule,
        residue(rule, cell.ions_mol_dm3, wording=board),
        explanation(cell, board),
        [(task.prompt, task.goal, task.hints) for task in tasks if task is not None],
        cautions(cell, wording=board),
        [(each.caution, each.label, each.risk) for each in hazards(cell, wording=board)],
        CellSetup(formula, anode=anode).label_in(board),
    ]


@pytest.mark.parametrize("formula", list(solutions()))
@pytest.mark.parametrize("anode", ["graphite", "copper"])
@pytest.mark.parametrize("board", [SIGNS, BOTH], ids=["signs", "both"])
def test_rule_explanation_tasks_and_cautions_speak_as_the_board(formula, anode, board):
    check(rule_texts(formula, anode, board), board)


@pytest.mark.parametrize("formula", list(solutions()))
def test_a_board_that_lets_water_react_hears_of_water_and_not_of_its_ions(formula):
    cell = Cell(formula, concentration_mol_dm3=0.05)
    rule, steps = cell.rule(SIGNS), explanation(cell, SIGNS)
    pairs = (
        (1, "OH-", "O2", rule.anode, "hydroxide"),
        (0, "H+", "H2", rule.cathode, "hydrogen ions"),
    )
    for side, ion, product, at_electrode, words in pairs:
        if (
            ion in cell.ions_mol_dm3
        ):  # an acid and an alkali react by their own ions with every board
            continue
        own = [step for step in steps if step.side == side]
        said = [
            at_electrode.reason,
            at_electrode.steps[2],
            *(step.sentence for step in own),
            *(place.name for step in own for place in step.order),
        ]
        printed = {"OH-": "OH⁻", "H+": "H⁺"}[ion]
        for text in said:
            assert printed not in text, text
            assert words not in text, text
        assert "water" in at_electrode.steps[2]
        if at_electrode.product == product:
            assert "from water" in at_electrode.reason or "dilute" in at_electrode.reason


#: with each board, what only the other kind of board says of the gases that a neutral solution gives
OTHER_SOURCE = {
    "ions": (Wording(), re.compile(r"(oxygen|hydrogen)( forms| comes)? from water", re.IGNORECASE)),
    "water": (
        Wording(oxygen_from="H2O", hydrogen_from="H2O"),
        re.compile(
            r"oxygen( forms| comes)? from hydroxide|hydrogen( forms| comes)? from hydrogen ions",
            re.IGNORECASE,
        ),
    ),
}


@pytest.mark.parametrize(("board", "other"), OTHER_SOURCE.values(), ids=OTHER_SOURCE)
def test_what_is_left_and_why_names_the_source_of_a_gas_that_the_rule_names(board, other):
    said = set()
    for formula, solution in solutions().items():
        cell = Cell(formula, concentration_mol_dm3=0.05)
        left = residue(cell.rule(board), cell.ions_mol_dm3, wording=board)
        steps = [step.sentence for step in explanation(cell, board)]
        said |= set(left.sentences)
        if not {"H+", "OH-"} & set(solution.ions):
            assert not other.search(" ".join((*steps, *left.sentences))), formula
    oxygen, hydrogen = (
        ("hydroxide ions", "hydrogen ions") if board.oxygen_from == "OH-" else ("water", "water")
    )
    assert any(text.startswith(f"The oxygen comes from {oxygen}. The water's") for text in said)
    assert any(text.startswith(f"The hydrogen comes from {hydrogen}. The water's") for text in said)


@pytest.mark.parametrize(("board", "other"), OTHER_SOURCE.values(), ids=OTHER_SOURCE)
def test_an_investigation_names_the_source_of_oxygen_that_the_rule_names(board, other):
    acid = next(each for each in investigations(board) if each.name == "Where the acid goes")
    answer = acid.answer(board)
    assert "the oxygen comes from " in answer
    assert not other.search(answer)


@pytest.fixture(scope="module")
def runs():
    return [setup.cell().run(minutes=setup.minutes, samples=7) for setup in RUN]


@pytest.mark.parametrize("board", [SIGNS, BOTH], ids=["signs", "both"])
def test_what_is_said_of_a_run_is_in_the_boards_wording(runs, board):
    for setup, run in zip(RUN, runs, strict=True):
        rule = run.cell.rule(board)
        acidity = residue(rule, run.cell.ions_mol_dm3).acidity
        said = [
            [sentence for _, sentence in narration(run, board)],
            [sentence for _, sentence in observations(run, board)],
            sentence_at(run, 3, board),
            differences(run, board),
            explanation(run.cell, board, run),
            acidity_statement(acidity, run, board),
            cautions(run.cell, run, board),
            list(compared_curves(run, board)),
            visibility_advice(setup, wording=board) if setup is RUN[1] else "",
        ]
        check(said, board)
        other = CellSetup("CuSO4", anode="silver")
        check(compare_cells(other, setup, (runs[0], run), board), board)
    check(results_table(runs, board).splitlines()[0], board)


def test_oxygen_from_water_is_told_as_water_at_every_moment(runs):
    for run in (runs[0], runs[3]):  # sodium sulfate and lead(II) nitrate
        said = " ".join(sentence for _, sentence in narration(run, SIGNS))
        assert "electrons come from water, and bubbles of oxygen form" in said
        assert "hydroxide" not in said
        usual = " ".join(sentence for _, sentence in narration(run))
        assert "electrons come from hydroxide ions, and bubbles of oxygen form" in usual
    said = " ".join(sentence for _, sentence in narration(runs[0], SIGNS))
    assert "electrons pass to water, and bubbles of hydrogen form" in said


@pytest.mark.parametrize("kind", SWEEPS)
def test_sweeps_speak_as_the_board(kind, monkeypatch):
    monkeypatch.setattr("fizzplate.lesson.classroom.sweeps.POINTS", 4)
    setup = CellSetup("CuSO4", lamp="none", minutes=1.0)
    found = sweep(kind, setup, SIGNS)
    check([found.title, found.x_label, found.y_label, found.sentence, list(found.lines)], SIGNS)


@pytest.mark.parametrize("board", [SIGNS, BOTH], ids=["signs", "both"])
def test_sheets_plans_investigations_and_a_class_table_speak_as_the_board(board):
    setups = (CellSetup("NaCl", anode="copper", cathode="zinc"),)
    needs = ClassNeeds(15, 60, 10, 0.1)
    check([re.split(r"<[^>]*>", each.html) for each in sheets(setups, needs, board)], board)
    check([plan(setups, 50.0, board), one_period(setups * 4, 50.0, board)], board)
    questions = [(each.question, each.vary, each.look_for) for each in investigations(board)]
    check(questions, board)
    check([each.title_in(board) for each in COLUMNS], board)
    check([each.name_in(board) for each in quantities("Cu").values()], board)
    check([(each.name, each.how_in(board)) for each in possible_causes()], board)
    check([(each.name, each.improvement_in(board)) for each in possible_causes()], board)
    wrong = read_groups([{"cathode_before": "heavy"}, {"anode_after": "-4"}], {}, board)
    check([mark.sentence for mark in wrong.marks], board)
    assert len(wrong.marks) == 2


def test_the_usual_wording_names_cathode_and_anode():
    said = " ".join(texts(rule_texts("Na2SO4", "graphite", Wording())))
    assert "drift to the cathode" in said
    assert "oxygen forms from hydroxide ions" in said
    assert not BARE_SIGN.search(said)
