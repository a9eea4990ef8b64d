"""Questions by a seed: well formed, marked point by point, the same everywhere."""

from __future__ import annotations

import hashlib
import re

import pint
import pytest

from fizzplate.chemistry.checks import InputError
from fizzplate.lesson import read_cell
from fizzplate.lesson.dice import Dice
from fizzplate.lesson.equation_tasks import judge
from fizzplate.lesson.misconceptions import misconceptions
from fizzplate.lesson.questions import MAKERS, TOPICS, questions

SEEDS = range(60)


def made_by(name):
    maker = MAKERS[name][0]
    return [maker(Dice(seed)) for seed in SEEDS]


def test_there_are_at_least_25_makers_for_both_levels():
    assert len(MAKERS) >= 25
    assert {level for _, _, level in MAKERS.values()} == {14, 16}


@pytest.mark.parametrize("name", list(MAKERS))
def test_every_maker_gives_well_formed_questions(name):
    _, _, level = MAKERS[name]
    for asked in made_by(name):
        assert asked.maker == name
        assert asked.level == level
        assert asked.text.endswith((".", "?"))
        assert "nan" not in asked.text + asked.answer + asked.why
        assert asked.marks >= 1
        for cell in filter(None, asked.watch.split(";")):
            assert read_cell(cell)[1] == []
        marked = asked.mark(asked.answer)
        assert marked.earned == asked.marks == len(marked.lines), (asked.text, asked.answer)
        assert asked.mark("").earned == 0
        assert all(line.reason for line in asked.mark("").lines)


@pytest.mark.parametrize("name", [n for n in MAKERS if MAKERS[n][0](Dice(0)).kind == "choice"])
def test_one_option_is_right_and_each_wrong_one_has_its_reason(name):
    for asked in made_by(name):
        texts = [option.text for option in asked.options]
        assert len(set(texts)) == len(texts) >= 3
        assert sum(option.right for option in asked.options) == 1
        for option in asked.options:
            marked = asked.mark(option.text)
            assert marked.earned == (asked.marks if option.right else 0)
            assert marked.remark == option.reason
            assert len(option.reason) > 8
            assert marked.misconception == (0 if option.right else option.misconception)


@pytest.mark.parametrize("name", [n for n in MAKERS if MAKERS[n][0](Dice(0)).kind == "number"])
def test_numbers_are_marked_with_near_misses_units_and_figures(name):
    for asked in made_by(name):
        assert 0.001 < asked.value < 200_000
        plain = f"{asked.value:.4g}"
        assert asked.mark(f"{plain} {asked.unit}").remark == ""
        assert "Give the unit" in asked.mark(plain).remark
        assert asked.mark(f"{plain} kg").earned == asked.marks
        assert "unit asked for" in asked.mark(f"{plain} kg").remark
        assert asked.mark(plain.replace(".", ",")).earned == asked.marks
        assert "more figures" in asked.mark(f"{asked.value:.8f}").remark
        for miss in asked.near_misses:
            marked = asked.mark(f"{miss.value:.5g} {asked.unit}")
            assert marked.earned == miss.marks < asked.marks
            assert miss.reason in marked.remark
        assert asked.mark(f"{17.3 * asked.value:.4g}").earned == 0


def test_every_misconception_is_behind_some_wrong_option():
    behind = set()
    for name in MAKERS:
        for seed in range(400 if name in {"true statement", "find the mistake"} else 30):
            asked = MAKERS[name][0](Dice(seed))
            behind |= {option.misconception for option in asked.options if not option.right}
    assert behind >= set(range(1, 31))
    assert len(misconceptions()) == 30


def test_where_bench_and_rule_differ_the_correction_says_both():
    iron = misconceptions()[11]
    assert "the rule gives hydrogen" in iron.right
    assert "bench" in iron.caveat


def test_calculations_agree_with_an_independent_one():
    units = pint.UnitRegistry()
    faraday = 96485.33212 * units.coulomb / units.mole
    pattern = re.compile(
        r"([\d.]+) A flow for (\d+) minutes through a solution of a (\w+) salt.*M = ([\d.]+)"
    )
    electrons = {"copper": 2, "silver": 1, "zinc": 2, "lead": 2, "nickel": 2}
    for asked in made_by("mass"):
        current, minutes, metal, molar = pattern.search(asked.text).groups()
        passed = float(current) * units.ampere * float(minutes) * units.minute
        mass = passed / faraday / electrons[metal] * float(molar) * units.gram / units.mole
        assert asked.value == pytest.approx(mass.to("gram").magnitude, rel=1e-3)


def test_equations_asked_for_are_judged_by_their_task():
    for name in ("half-equation", "correct a half-equation", "overall equation"):
        for asked in made_by(name):
            assert judge(asked.answer, asked.task).code == "right"
            if name == "correct a half-equation":
                shown = asked.text.split("writes ")[1].split(" for the")[0]
                assert judge(shown, asked.task).code == "unbalanced"
                assert asked.mark(shown).earned < asked.marks


def test_text_answers_say_which_words_earned_which_mark():
    asked = next(q for q in made_by("observation") if "brown deposit" in q.answer)
    marked = asked.mark("a red-brown precipitate, a layer on the rod")
    assert [line.earned for line in marked.lines] == [False, True]
    assert "“precipitate” takes it back" in marked.lines[0].reason
    assert "“brown” says it" in marked.lines[1].reason


@pytest.mark.parametrize("text", ["x" * 10_000, "\u202e7", "<b>copper</b>", "１２．５ cm³", "−5"])
def test_hostile_answers_are_handled(text):
    for asked in questions(seed=5, count=20):
        marked = asked.mark(text)
        assert 0 <= marked.earned <= asked.marks


def test_full_width_digits_and_decimal_commas_are_read():
    asked = made_by("charge")[0]
    wide = str(round(asked.value)).translate(str.maketrans("0123456789", "０１２３４５６７８９"))
    assert asked.mark(f"{wide} C").earned == asked.marks


def test_a_set_is_the_same_for_everyone_and_never_asks_twice():
    first, again = questions(seed=11, count=30), questions(seed=11, count=30)
    assert first == again
    assert questions(seed=12, count=30) != first
    asked = [(question.text, question.answer) for question in first]
    assert len(set(asked)) == len(asked) == 30
    whole = "\n".join(f"{q.text}|{q.answer}|{[o.text for o in q.options]}" for q in first)
    # the same on every processor and version of Python: stored when the makers were last changed
    assert hashlib.sha256(whole.encode()).hexdigest()[:16] == DIGEST


DIGEST = "3fece406e1ea906d"


def test_topics_and_level_are_kept_to():
    for topic in TOPICS:
        for asked in questions(seed=2, count=3, topics=[topic], level=16):
            assert MAKERS[asked.maker][1] == topic
    assert all(asked.level == 14 for asked in questions(seed=4, count=20, level=14))


@pytest.mark.parametrize(
    ("options", "words"),
    [
        ({"topics": ["cooking"]}, "topics"),
        ({"level": 12}, "level"),
        ({"count": 0}, "count"),
        ({"seed": -1}, "seed"),
        ({"topics": ["practical work"], "level": 14}, "level 14"),
    ],
)
def test_what_is_not_offered_is_refused(options, words):
    with pytest.raises(InputError, match=words):
        questions(**{"seed": 1, **options})
