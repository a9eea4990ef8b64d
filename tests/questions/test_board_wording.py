"""Questions in the board's words, whose answers either name of an electrode earns."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import pytest

from fizzplate.lesson import Wording, read_cell
from fizzplate.questions.sets import MAKERS

sys.path.insert(0, str(Path(__file__).parent))
from question_checks import GENERAL, SEEDS, SIGNS, made, made_by, shown  # beside this file


def test_half_equations_follow_the_board_and_every_other_form_stays_accepted():
    board = Wording("H2O", "H2O", "minus", states=True)
    for seed in SEEDS:
        usual, water = made("half-equation", seed), made("half-equation", seed, board)
        assert water.mark(usual.answer).earned == water.marks
        assert usual.mark(water.answer).earned == usual.marks
        if "O₂" in water.answer and "hydroxide" in usual.text.split(".")[0]:
            assert "OH⁻" in water.answer
        elif "O₂" in water.answer and "OH⁻" in usual.answer:
            assert water.answer == "2H₂O(l) − 4e⁻ → O₂(g) + 4H⁺(aq)"
            assert "from water" in water.task.prompt


def test_a_chloride_is_dilute_below_the_boards_limit_only():
    board = Wording(dilute_below_mol_dm3=0.015)
    for seed in SEEDS:
        question = made("dilute", seed, board)
        strength = read_cell(question.watch)[0].concentration_mol_dm3
        expected = "oxygen" if strength < 0.015 else "still chlorine"
        assert question.answer.startswith(expected)
    named = made_by("product at the anode", Wording(dilute_below_mol_dm3=1.0))
    assert all("oncentrated" in q.text for q in named if "chloride solution" in q.text)
    chlorides = [q for q in named if "sodium chloride" in q.text.lower()]
    assert chlorides
    assert {q.answer for q in chlorides} == {"chlorine"}


def test_either_name_of_an_electrode_is_accepted():
    silver = made_by("observation", seeds=range(400))
    question = next(q for q in silver if q.answer == "The silver electrode becomes thinner")
    assert question.mark("the positive electrode gets thinner").earned == question.marks
    alkaline = made("acid or alkaline at an electrode", 0, SIGNS)
    assert "electrode" in alkaline.text
    assert alkaline.mark(alkaline.answer).earned == alkaline.marks


def test_whoever_names_electrodes_by_signs_is_not_asked_what_the_names_say():
    texts = [t for name in ("definition", *GENERAL) for q in made_by(name, SIGNS) for t in shown(q)]
    assert not any("negative electrode is negative" in text for text in texts)
    assert not any("means “negative electrode”" in text for text in texts)
    assert not any("does “negative electrode” mean" in text for text in texts)


def test_an_acid_and_an_alkali_react_with_the_ions_that_are_plentiful_in_them():
    board = Wording("H2O", "H2O")
    for question in made_by("half-equation", board):
        begins = question.text.split(".")[0]
        if "acid" in begins and "H₂" in question.answer.split("→")[1]:
            assert question.answer == "2H⁺ + 2e⁻ → H₂"
        if "hydroxide" in begins and "O₂" in question.answer:
            assert question.answer.startswith("4OH⁻")


@pytest.mark.parametrize("name", ["what is left", "dilute"])
@pytest.mark.parametrize(
    ("board", "other"),
    [
        (Wording(), r"(?i)water is oxidised|(oxygen|hydrogen)( forms| comes)? from water"),
        (Wording("H2O", "H2O"), r"(?i)(oxygen|hydrogen)( forms| comes)? from hydro"),
    ],
    ids=["ions", "water"],
)
def test_reasons_name_the_source_of_a_gas_that_the_rule_names(name, board, other):
    asked = [q for q in made_by(name, board) if not re.search(PLENTIFUL, q.text.split(".")[0])]
    said = " ".join(text for question in asked for text in shown(question))
    assert re.search("(oxygen|hydrogen)( forms| comes)? from", said)
    assert not re.search(other, said)


#: by each setting, what only another setting writes
OTHER_WORDING = [
    (Wording(), r"− \d?e⁻"),
    (Wording(electrons="minus"), r"→[^.;:]*\+ \d?e⁻"),
    (Wording(), r"\((aq|g|l|s)\)"),
    (Wording(), r"2H₂O(\(l\))? (→ O₂|− 4e⁻|\+ 2e⁻)"),
    (Wording(oxygen_from="H2O"), r"4OH⁻(\(aq\))? →"),
    (Wording(hydrogen_from="H2O"), r"2H⁺(\(aq\))? \+ 2e⁻"),
    (Wording(electrode_names="negative"), r"(?i)cathode|anode"),
]
#: the ions of acids and alkalis react whatever the board writes of water
PLENTIFUL = r"acid|hydroxide"
#: whose question shows an equation that is wrong on purpose
PLANTED = "correct a half-equation"


@pytest.mark.parametrize(("board", "other"), OTHER_WORDING)
def test_a_board_finds_no_trace_of_another_wording_in_any_question(board, other):
    for name in MAKERS:
        for question in made_by(name, board, range(6)):
            if board.electrode_names == "cathode" and (
                name == PLANTED or re.search(PLENTIFUL, question.text.split(".")[0])
            ):
                continue
            traces = [text for text in shown(question) if re.search(other, text)]
            assert traces == [], (name, question.text)


def test_the_traces_are_those_of_the_other_wording():
    water = Wording("H2O", "H2O", "minus", states=True)
    texts = {
        board: "\n".join(
            text
            for name in ("half-equation", "overall equation")
            for question in made_by(name, board, range(30))
            for text in shown(question)
        )
        for board in (Wording(), water, Wording("H2O", "H2O"))
    }
    for board, other in OTHER_WORDING[:-1]:
        assert any(re.search(other, text) for each, text in texts.items() if each != board), other


def test_the_alkali_of_brine_is_told_as_the_board_writes_hydrogen():
    for board, begins in (
        (Wording(), "Hydrogen ions of the water"),
        (Wording("H2O", "H2O"), "Water"),
    ):
        told = [made("brine in words", seed, board) for seed in range(12)]
        alkali = [each.answer for each in told if "sodium ions" in each.answer]
        assert alkali
        assert all(answer.startswith(begins) for answer in alkali)
