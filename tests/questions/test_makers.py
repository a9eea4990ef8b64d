"""Each maker: well formed, true by the model, never the same twice, safe with any answer."""

from __future__ import annotations

import re
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from tests.printed import figures, printed_by

from fizzplate.lesson import Wording
from fizzplate.questions.sets import MAKERS, another, questions
from fizzplate.words.refusals import InputError

sys.path.insert(0, str(Path(__file__).parent))
from question_checks import BOARDS, SIGNS, every_maker, faults, made, made_by  # beside this file
from question_truth import TRUE_BY, untruths

CHARTS = ("read a chart", "which line", "ratio from a chart", "current from a chart")


def test_there_are_at_least_25_makers_for_both_levels():
    assert len(MAKERS) >= 25
    assert {each.level for each in MAKERS.values()} == {14, 16}
    kinds = {made(name, 0).kind for name in MAKERS}
    assert kinds == {"choice", "number", "equation", "text", "list", "levels", "plot", "structured"}


@every_maker
def test_every_maker_gives_well_formed_questions(name):
    questions = made_by(name, seeds=range(50))
    assert [found for q in questions for found in faults(q, name)] == []


@every_maker
@pytest.mark.parametrize("board", list(BOARDS)[1:])
def test_every_maker_keeps_to_the_wording_of_the_board(name, board):
    wording = BOARDS[board]
    for question in made_by(name, wording, range(25)):
        assert [*faults(question, name, wording), *untruths(question, wording)] == []


@pytest.mark.parametrize("name", list(TRUE_BY))
def test_what_is_called_right_is_right_by_the_model_and_nothing_else(name):
    questions = made_by(name, seeds=range(50))
    assert [found for q in questions for found in untruths(q, Wording())] == []


@pytest.mark.parametrize(
    "name", [n for n in TRUE_BY if made(n, 0).kind == "choice" and n not in CHARTS]
)
def test_the_model_notices_a_wrong_option_that_is_called_right(name):
    question = made(name, 1)
    wrong = next(option for option in question.options if not option.right)
    swapped = tuple(replace(o, right=o is wrong) for o in question.options)
    assert untruths(replace(question, options=swapped), Wording())


def test_the_model_notices_a_number_that_is_off():
    for name in ("read a chart", "ratio from a chart", "current from a chart", "least voltage"):
        question = made(name, 2)
        off = replace(
            question, parts=(replace(question.parts[0], value=1.1 * question.parts[0].value),)
        )
        assert untruths(off, Wording()), name


def test_the_checks_notice_what_is_not_well_formed():
    question = made("blue", 0)
    two_right = tuple(replace(option, right=True) for option in question.options)
    bare = tuple(replace(option, reason="Wrong.") for option in question.options)
    assert faults(replace(question, options=two_right), "blue")
    assert faults(replace(question, options=bare), "blue")
    assert faults(replace(question, text="no sentence"), "blue")
    assert faults(question, "blue", SIGNS)  # it says cathode


@every_maker
def test_a_maker_has_more_than_one_question(name):
    assert len({(q.text, q.answer, q.chart) for q in made_by(name, seeds=range(40))}) >= 3


def test_a_half_equation_to_correct_or_complete_earns_nothing_as_it_stands():
    for question in made_by("correct a half-equation"):
        marker = next(m for m in ("writes ", "book has ", "gives ") if m in question.text)
        as_it_stands = question.text.split(marker)[1].split(" as the half")[0]
        assert question.mark(as_it_stands).earned == 0
    for question in made_by("complete a half-equation"):
        as_it_stands = question.text.split("whole: ")[1].rstrip(".").replace("__ ", "")
        assert question.mark(as_it_stands).earned == 0


@pytest.mark.parametrize("text", ["x" * 10_000, "\u202e7", "<b>copper</b>", "１２．５ cm³", "−5"])
def test_hostile_answers_are_handled(text):
    for question in questions(seed=5, count=40):
        marked = question.mark(text)
        assert 0 <= marked.earned <= question.marks


@every_maker
def test_another_is_by_the_same_maker_and_differs(name):
    question = made(name, 1)
    more = another(name, 2, unlike=question.text)
    assert more.maker == name
    assert more.text != question.text
    assert another(name, 2, unlike=question.text) == more


def test_another_keeps_to_the_wording_and_the_strictness():
    assert another("charge", 4, strict=True).strict
    assert "electrode" in another("which way", 4, wording=SIGNS, strict=True).answer


def test_another_by_nobody_is_refused():
    with pytest.raises(InputError, match="maker"):
        another("riddle", 1)


def test_a_sweep_by_hand_goes_through_every_maker_and_prints_its_time():
    printed = printed_by("questions/sweep_questions.py", "1")
    assert f"{len(MAKERS)} makers, 1 seeds each, 0 faults" in printed
    for name in MAKERS:  # faults, texts, answers, and then milliseconds
        figures(printed, re.escape(name) + " +0 +1 +1 +")


def test_a_printed_mean_is_rounded_as_schools_round():
    question = next(
        q for q in made_by("outlier and mean", seeds=range(2000)) if "16.15" in q.parts[1].steps[1]
    )
    assert question.parts[1].answer == "16.2 cm³"


def test_a_part_does_not_tell_what_another_part_asks():
    told = {
        "aluminium works in parts": "three electrons",
        "brine works in parts": "sodium ions that pass",
    }
    for name, words in told.items():
        for question in made_by(name, seeds=range(200)):
            chosen = [option.text for each in question.sections for option in each.options]
            assert not any(words in text for text in chosen), question.text


def test_fluoride_is_said_to_stay_where_a_halogen_could_be_expected():
    asked = [
        q.text for q in made_by("product at the anode", seeds=range(300)) if "fluoride" in q.text
    ]
    assert asked
    assert all("Fluoride ions are not discharged" in text for text in asked)


def test_no_reason_forgets_the_ions_of_the_cryolite():
    asked = [q for q in made_by("melt", seeds=range(100)) if "cryolite" in q.text]
    assert asked
    assert not any("only the ions of the salt" in q.why for q in asked)
