"""What learners get wrong: behind wrong options, corrected, and watched or drawn."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import pytest

import fizzplate
from fizzplate.data import BadRowError, Line
from fizzplate.lesson import read_cell
from fizzplate.questions.makers.choices import table_choice
from fizzplate.questions.misconceptions import Idea, correction, misconceptions
from fizzplate.questions.random_source import RandomSource
from fizzplate.questions.sets import MAKERS
from fizzplate.questions.tables import reading

sys.path.insert(0, str(Path(__file__).parent))
from question_checks import GENERAL, first_of, made, made_by  # beside this file


def test_every_misconception_is_behind_a_wrong_option_or_a_planted_mistake_of_its_own():
    behind = {}
    for name in MAKERS:
        for question in made_by(name) if name not in GENERAL else ():
            for option in question.options:
                if not option.right and option.misconception:
                    behind.setdefault(option.misconception, set()).add(name)
    assert set(behind) == set(range(1, 34))
    only_planted = [n for n, names in behind.items() if names == {"find the mistake"}]
    assert only_planted == []


@pytest.mark.parametrize("name", sorted(GENERAL))
def test_general_statements_go_through_all_misconceptions(name):
    behind = {o.misconception for q in made_by(name, seeds=range(400)) for o in q.options}
    assert behind >= set(range(1, 34))


def test_every_misconception_can_be_watched_or_is_drawn():
    assert list(misconceptions()) == list(range(1, 34))
    for each in misconceptions().values():
        assert bool(each.watch) != bool(each.drawing), each.number
        if each.watch:
            assert read_cell(each.watch)[1] == []
        else:
            assert each.drawing.species
            assert each.drawing.caption.endswith(".")


def test_a_melt_is_drawn_with_its_ions_and_no_water():
    drawn = misconceptions()[14].drawing
    assert set(drawn.species) == {"Pb2+", "Br-"}
    assert drawn.species.count("Br-") == 2 * drawn.species.count("Pb2+")


def test_where_bench_and_rule_differ_the_correction_says_both():
    for number in (12, 13, 15, 28, 29):
        said = correction(number)
        assert misconceptions()[number].right in said
        assert "bench" in said
    assert "bench" not in correction(9)
    question = first_of("molten or dissolved", text="Zinc chloride")
    both_times = next(option for option in question.options if option.text == "zinc both times")
    assert "At the bench some zinc is deposited from the solution as well" in both_times.reason
    dilute = made("dilute", 0)
    assert "At the bench both gases form" in dilute.why


def test_the_blue_stays_where_the_anode_dissolves_and_fades_where_oxygen_forms():
    questions = made_by("blue", seeds=range(20))
    of_copper = [q for q in questions if "copper electrodes" in q.text]
    assert 0 < len(of_copper) < len(questions)
    for question in questions:
        right = next(option for option in question.options if option.right)
        stays = question in of_copper
        assert ("the anode dissolves" in question.why) == stays, right.text
        assert ("oxygen forms at the anode" in question.why) != stays
        assert "stay" in question.text or not stays


def test_who_rejects_a_sentence_that_is_right_is_told_the_idea_against_it():
    neutral = "Every part of the solution stays neutral while the current flows."
    seen = 0
    for question in made_by("find the mistake"):
        for option in question.options:
            assert option.misconception in range(34)
            assert bool(option.misconception) is not option.right
            if option.text == neutral and not option.right:
                assert option.misconception == Idea.SOLUTION_BECOMES_CHARGED
                seen += 1
    assert seen > 3


def test_every_idea_of_the_table_has_a_name_and_every_name_an_idea():
    assert [each.value for each in Idea] == list(misconceptions())


def test_makers_name_ideas_and_never_number_them():
    numbered = re.compile(r"correction\(\d|misconception=\d")
    makers = Path(fizzplate.__file__).parent / "questions" / "makers"
    assert [path.name for path in makers.rglob("*.py") if numbered.search(path.read_text())] == []


def test_a_name_that_no_idea_has_is_refused_with_its_line(monkeypatch):
    first, second, right, wrong, *_ = reading.rows("choice_questions")
    bad = Line(wrong.file, wrong.number, {**wrong.cells, "idea": "cations drift up"})
    monkeypatch.setattr(reading, "rows", lambda _: (first, second, right, bad))
    with pytest.raises(
        BadRowError, match=r"choice_questions\.csv, line 5, idea: 'cations drift up'"
    ):
        table_choice(RandomSource(1), "plating", metal="zinc", thing="a key", solution="x")
