"""Questions by a seed: well formed, true by the model, marked point by point, the same everywhere."""

from __future__ import annotations

import hashlib
import re
import sys
from dataclasses import asdict, replace
from pathlib import Path

import pytest
from tests.printed import figures, printed_by

from fizzplate.lesson import Wording, read_cell
from fizzplate.questions.misconceptions import correction, misconceptions
from fizzplate.questions.sets import MAKERS, TOPICS, another, questions
from fizzplate.words.refusals import InputError

sys.path.insert(0, str(Path(__file__).parent))
from question_checks import BOARDS, faults, made, shown  # beside this file
from question_truth import TRUE_BY, untruths

SEEDS = range(100)
SIGNS = Wording(electrode_names="negative")
GENERAL = {"true statement", "wrong statement"}
CHARTS = ("read a chart", "which line", "ratio from a chart", "current from a chart")

every_maker = pytest.mark.parametrize("name", list(MAKERS))


def made_by(name, wording=None, seeds=SEEDS):
    return [made(name, seed, wording or Wording()) for seed in seeds]


def first_of(name, seeds=SEEDS, **wanted):
    """The first question of a maker whose text holds some words."""
    return next(q for q in made_by(name, seeds=seeds) if wanted["text"] in q.text)


def test_there_are_at_least_25_makers_for_both_levels():
    assert len(MAKERS) >= 25
    assert {each.level for each in MAKERS.values()} == {14, 16}
    kinds = {made(name, 0).kind for name in MAKERS}
    assert kinds == {"choice", "number", "equation", "text", "list"}


@every_maker
def test_every_maker_gives_well_formed_questions(name):
    asked = made_by(name, seeds=range(50))
    assert [found for q in asked for found in faults(q, name)] == []


@every_maker
@pytest.mark.parametrize("board", list(BOARDS)[1:])
def test_every_maker_keeps_to_the_wording_of_the_board(name, board):
    wording = BOARDS[board]
    for asked in made_by(name, wording, range(25)):
        assert [*faults(asked, name, wording), *untruths(asked, wording)] == []


@pytest.mark.parametrize("name", list(TRUE_BY))
def test_what_is_called_right_is_right_by_the_model_and_nothing_else(name):
    asked = made_by(name, seeds=range(50))
    assert [found for q in asked for found in untruths(q, Wording())] == []


@pytest.mark.parametrize(
    "name", [n for n in TRUE_BY if made(n, 0).kind == "choice" and n not in CHARTS]
)
def test_the_model_notices_a_wrong_option_that_is_called_right(name):
    asked = made(name, 1)
    wrong = next(option for option in asked.options if not option.right)
    swapped = tuple(replace(o, right=o is wrong) for o in asked.options)
    assert untruths(replace(asked, options=swapped), Wording())


def test_the_model_notices_a_number_that_is_off():
    for name in ("read a chart", "ratio from a chart", "current from a chart", "least voltage"):
        asked = made(name, 2)
        off = replace(asked, parts=(replace(asked.parts[0], value=1.1 * asked.parts[0].value),))
        assert untruths(off, Wording()), name


def test_the_checks_notice_what_is_not_well_formed():
    asked = made("blue", 0)
    two_right = tuple(replace(option, right=True) for option in asked.options)
    bare = tuple(replace(option, reason="Wrong.") for option in asked.options)
    assert faults(replace(asked, options=two_right), "blue")
    assert faults(replace(asked, options=bare), "blue")
    assert faults(replace(asked, text="no sentence"), "blue")
    assert faults(asked, "blue", SIGNS)  # it says cathode


@every_maker
def test_a_maker_has_more_than_one_question(name):
    assert len({(q.text, q.answer, q.chart) for q in made_by(name, seeds=range(40))}) >= 3


# Misconceptions


def test_every_misconception_is_behind_a_wrong_option_or_a_planted_mistake_of_its_own():
    behind = {}
    for name in MAKERS:
        for asked in made_by(name) if name not in GENERAL else ():
            for option in asked.options:
                if not option.right and option.misconception:
                    behind.setdefault(option.misconception, set()).add(name)
    assert set(behind) == set(range(1, 31))
    only_planted = [n for n, names in behind.items() if names == {"find the mistake"}]
    assert only_planted == []


@pytest.mark.parametrize("name", sorted(GENERAL))
def test_general_statements_go_through_all_misconceptions(name):
    behind = {o.misconception for q in made_by(name, seeds=range(400)) for o in q.options}
    assert behind >= set(range(1, 31))


def test_every_misconception_can_be_watched_or_is_drawn():
    assert [each.number for each in misconceptions()] == list(range(1, 31))
    for each in misconceptions():
        assert bool(each.watch) != bool(each.drawn), each.number
        if each.watch:
            assert read_cell(each.watch)[1] == []
        else:
            assert each.drawn.species
            assert each.drawn.caption.endswith(".")


def test_a_melt_is_drawn_with_its_ions_and_no_water():
    drawn = misconceptions()[13].drawn
    assert set(drawn.species) == {"Pb2+", "Br-"}
    assert drawn.species.count("Br-") == 2 * drawn.species.count("Pb2+")


def test_where_bench_and_rule_differ_the_correction_says_both():
    for number in (12, 13, 15, 28, 29):
        said = correction(number)
        assert misconceptions()[number - 1].right in said
        assert "bench" in said
    assert "bench" not in correction(9)
    asked = first_of("molten or dissolved", text="Zinc chloride")
    both_times = next(option for option in asked.options if option.text == "zinc both times")
    assert "At the bench the solution plates some zinc" in both_times.reason
    dilute = made("dilute", 0)
    assert "At the bench both gases form" in dilute.why


def test_the_blue_stays_where_the_anode_dissolves_and_fades_where_oxygen_forms():
    asked = made_by("blue", seeds=range(20))
    of_copper = [q for q in asked if "copper electrodes" in q.text]
    assert 0 < len(of_copper) < len(asked)
    for question in asked:
        right = next(option for option in question.options if option.right)
        stays = question in of_copper
        assert ("the anode dissolves" in question.why) == stays, right.text
        assert ("oxygen forms at the anode" in question.why) != stays
        assert "stay" in question.text or not stays


# The board's wording


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
            assert "from water" in water.task.asks


def test_a_chloride_is_dilute_below_the_boards_limit_only():
    board = Wording(dilute_below_mol_dm3=0.015)
    for seed in SEEDS:
        asked = made("dilute", seed, board)
        strength = read_cell(asked.watch)[0].concentration_mol_dm3
        assert asked.answer.startswith("oxygen" if strength < 0.015 else "chlorine")
    named = made_by("product at the anode", Wording(dilute_below_mol_dm3=1.0))
    assert all("oncentrated" in q.text for q in named if "chloride solution" in q.text)
    chlorides = [q for q in named if "sodium chloride" in q.text.lower()]
    assert chlorides
    assert {q.answer for q in chlorides} == {"chlorine"}


def test_either_name_of_an_electrode_is_accepted():
    silver = made_by("observation", seeds=range(400))
    asked = next(q for q in silver if q.answer == "The silver electrode becomes thinner")
    assert asked.mark("the positive electrode gets thinner").earned == asked.marks
    alkaline = made("acid or alkaline at an electrode", 0, SIGNS)
    assert "electrode" in alkaline.text
    assert alkaline.mark(alkaline.answer).earned == alkaline.marks


def test_whoever_names_electrodes_by_signs_is_not_asked_what_the_names_say():
    texts = [t for name in ("definition", *GENERAL) for q in made_by(name, SIGNS) for t in shown(q)]
    assert not any("negative electrode is negative" in text for text in texts)
    assert not any("means “negative electrode”" in text for text in texts)
    assert not any("does “negative electrode” mean" in text for text in texts)


# Words that earn marks


@pytest.mark.parametrize(
    ("name", "text", "answer", "earned"),
    [
        ("observation", "copper(II) sulfate solution", "a pink-brown layer", [True, True]),
        ("observation", "copper(II) sulfate solution", "a red deposit", [True, False]),
        ("observation", "copper(II) sulfate solution", "a brown precipitate", [False, True]),
        ("observation", "odium sulfate solution", "fizzing, clear gas", [True, False]),
        ("observation", "odium sulfate solution", "hydrogen", [False, False]),
        ("gas test", "for hydrogen", "a lit splint: squeaky pop", [True, True]),
        ("gas test", "for hydrogen", "a glowing splint pops", [False, True]),
        ("gas test", "for oxygen", "it relights a glowing splint", [True, True]),
        ("gas test", "for chlorine", "damp litmus paper is bleached", [True, True]),
        ("gas test", "for chlorine", "litmus goes red", [False, False]),
        ("why alkaline", "", "H⁺ ions gain electrons, OH⁻ ions are left", [True, True]),
        ("why alkaline", "", "hydrogen is given off so there is excess hydroxide", [True, True]),
        ("why alkaline", "", "water is reduced, leaving OH-", [True, True]),
        ("why alkaline", "", "it is an alkali", [False, False]),
        ("why acid", "", "OH- ions are discharged and H+ ions are left", [True, True]),
        ("why acid", "", "hydrogen", [False, False]),
        ("define", "electrolysis", "breaking down a compound with electricity", [True, True]),
        ("define", "inert", "it does not react but conducts", [True]),
        ("define", "oxidation", "oxidation is loss and reduction is gain", [True, True]),
        ("define", "oxidation", "oxidation is gain, reduction is loss", [False, False]),
        ("why a solid does not conduct", "", "ions are fixed, then free to move", [True, True]),
        ("why a solid does not conduct", "", "its electrons are free when molten", [False, False]),
        ("ions that compete", "cathode when sodium chloride", "Na⁺ and H⁺", [True, True]),
        (
            "ions that compete",
            "cathode when sodium chloride",
            "sodium ions, chloride ions",
            [False, False],
        ),
    ],
)
def test_words_earn_marks_as_an_examiner_gives_them(name, text, answer, earned):
    asked = first_of(name, seeds=range(400), text=text)
    if name == "observation":
        of = "copper" if "copper" in text else "hydrogen"
        asked = next(
            q for q in made_by(name, seeds=range(400)) if text in q.text and f"It is {of}" in q.why
        )
    marked = asked.mark(answer)
    assert [line.earned for line in marked.lines] == earned, marked.lines
    assert all(line.reason for line in marked.lines)


@pytest.mark.parametrize(
    ("name", "text", "answer", "earned"),
    [
        (
            "define",
            "electrolysis",
            "When a current is passed through a molten compound and decomposes it",
            None,
        ),
        (
            "define",
            "electrolyte",
            "an ionic compound that is molten or dissolved, but doesn't conduct when solid",
            None,
        ),
        (
            "define",
            "oxidation",
            "Oxidation is when a substance loses electrons and reduction is when it gains electrons",
            None,
        ),
        ("define", "oxidation", "OIL RIG", None),
        (
            "define",
            "oxidation",
            "Oxidation is a loss of electrons, reduction is a gain of electrons",
            None,
        ),
        ("define", "inert", "It doesn’t take part in the reaction", None),
        ("define", "inert", "one made from graphite", [False]),
        (
            "why a solid does not conduct",
            "",
            "The ions can’t move in the lattice; molten, the ions are free to move",
            None,
        ),
        (
            "why a solid does not conduct",
            "",
            "Solid: ions are fixed. Liquid: ions can move. There are no free electrons",
            None,
        ),
        (
            "why a solid does not conduct",
            "",
            "in the solid the ions are not free to move",
            [True, False],
        ),
        ("gas test", "for hydrogen", "a lit splint makes a squeaky pop", None),
        (
            "gas test",
            "for oxygen",
            "Light a splint, blow it out and put it in glowing: it reignites",
            None,
        ),
        ("gas test", "for carbon dioxide", "it turns clear limewater milky", None),
        ("gas test", "for carbon dioxide", "limewater stays clear", [True, False]),
        ("why alkaline", "", "Hydrogen ions are removed, so there is an excess of OH-", None),
        (
            "why alkaline",
            "",
            "Water is reduced to hydrogen, so the OH- concentration increases",
            None,
        ),
        (
            "why alkaline",
            "",
            "hydrogen is produced at the cathode, leaving Na+ and OH- ions behind",
            None,
        ),
        ("why alkaline", "", "loss of hydroxide ions", [False, False]),
        ("why acid", "", "Hydroxide ions are lost, so hydrogen ions are in excess", None),
        (
            "why acid",
            "",
            "oxygen is given off, H+ ions are left behind with the sulphate ions",
            None,
        ),
        ("why acid", "", "excess hydroxide", [False, False]),
        (
            "acid or alkaline at an electrode",
            "alkaline",
            "H+ is used up making hydrogen, so hydroxide ions build up",
            None,
        ),
        (
            "acid or alkaline at an electrode",
            "acid",
            "OH- is discharged, so there are more H+ ions than OH- ions",
            None,
        ),
        ("ions that compete", "cathode when sodium chloride", "sodium and hydrogen ions", None),
        (
            "carbon or copper",
            "",
            "carbon: bubbles, the blue colour fades; copper: the anode gets smaller, no colour change",
            None,
        ),
        (
            "carbon or copper",
            "",
            "oxygen at carbon, and it gets paler; copper dissolves, and the solution stays blue",
            None,
        ),
        (
            "carbon or copper",
            "",
            "the carbon anode stays the same, with bubbles of colourless gas",
            [True, False, False, False],
        ),
        ("carbon or copper", "", "the solution gets lighter", [False] * 4),
        (
            "carbon or copper",
            "",
            "with carbon the solution gets lighter",
            [False, False, True, False],
        ),
    ],
)
def test_what_good_students_write_earns_every_mark_and_half_an_answer_half(
    name, text, answer, earned
):
    asked = first_of(name, seeds=range(400), text=text)
    marked = asked.mark(answer)
    assert [line.earned for line in marked.lines] == (earned or [True] * asked.marks), marked.lines


def test_an_acid_and_an_alkali_react_with_the_ions_that_are_plentiful_in_them():
    board = Wording("H2O", "H2O")
    for asked in made_by("half-equation", board):
        begins = asked.text.split(".")[0]
        if "acid" in begins and "H₂" in asked.answer.split("→")[1]:
            assert asked.answer == "2H⁺ + 2e⁻ → H₂"
        if "hydroxide" in begins and "O₂" in asked.answer:
            assert asked.answer.startswith("4OH⁻")


def test_text_answers_say_which_words_earned_which_mark():
    asked = next(q for q in made_by("observation") if "brown deposit" in q.answer)
    marked = asked.mark("a red-brown precipitate, a layer on the rod")
    assert [line.earned for line in marked.lines] == [False, True]
    assert "“precipitate” takes it back" in marked.lines[0].reason
    assert "“brown” says it" in marked.lines[1].reason
    assert "“red” alone is too little" in asked.mark("a red deposit").lines[1].reason


def test_a_planted_mistake_that_is_not_found_tells_which_idea_it_was():
    for asked in made_by("find the mistake"):
        ideas = {option.misconception for option in asked.options if not option.right}
        assert len(ideas) == 1
        assert ideas <= set(range(1, 31))


def test_a_half_equation_to_correct_or_complete_earns_nothing_as_it_stands():
    for asked in made_by("correct a half-equation"):
        marker = next(m for m in ("writes ", "book has ", "gives ") if m in asked.text)
        as_it_stands = asked.text.split(marker)[1].split(" as the half")[0]
        assert asked.mark(as_it_stands).earned == 0
    for asked in made_by("complete a half-equation"):
        as_it_stands = asked.text.split("whole: ")[1].rstrip(".").replace("__ ", "")
        assert asked.mark(as_it_stands).earned == 0


# Bad input


@pytest.mark.parametrize("text", ["x" * 10_000, "\u202e7", "<b>copper</b>", "１２．５ cm³", "−5"])
def test_hostile_answers_are_handled(text):
    for asked in questions(seed=5, count=40):
        marked = asked.mark(text)
        assert 0 <= marked.earned <= asked.marks


# Sets


def _told_apart(asked):
    """What two questions of a set must not share: of a list the answer is only numbers."""
    return asked.maker, asked.gist, asked.chart


@pytest.mark.parametrize("level", [14, 16])
def test_a_set_never_asks_the_same_twice(level):
    for seed in range(60):
        asked = questions(seed=seed, count=30, level=level)
        assert len(asked) == 30
        assert len({question.text for question in asked}) == 30
        assert len({_told_apart(question) for question in asked}) == 30


@pytest.mark.parametrize("topic", TOPICS)
def test_a_set_of_one_topic_is_full_and_never_asks_the_same_twice(topic):
    for seed in range(10):
        asked = questions(seed=seed, count=10, topics=[topic])
        assert len(asked) == 10
        assert len({question.text for question in asked}) >= 9
        assert len({(question.text, question.answer) for question in asked}) == 10


def test_a_set_goes_through_the_makers_before_it_comes_back_to_one():
    asked = questions(seed=8, count=40)
    assert len({question.maker for question in asked}) == 40


def test_a_set_is_the_same_for_everyone():
    assert questions(seed=11, count=30) == questions(seed=11, count=30)
    assert questions(seed=12, count=30) != questions(seed=11, count=30)


def test_the_first_questions_of_a_longer_set_are_those_of_the_shorter():
    assert questions(seed=3, count=40)[:10] == questions(seed=3, count=10)


def test_topics_and_level_are_kept_to():
    for topic in TOPICS:
        for asked in questions(seed=2, count=3, topics=[topic], level=16):
            assert asked.topic == topic == MAKERS[asked.maker].topic
    two = questions(seed=2, count=12, topics=["tests", "charts"])
    assert {asked.topic for asked in two} == {"tests", "charts"}
    assert all(asked.level == 14 for asked in questions(seed=4, count=20, level=14))


def test_strictness_goes_with_every_question_for_numbers():
    for strict in (True, False):
        asked = questions(seed=1, count=10, topics=["quantities"], strict=strict)
        numbers = [each for each in asked if each.kind == "number"]
        assert len(numbers) > 4
        assert all(each.strict is strict for each in numbers)


@pytest.mark.parametrize(
    ("options", "words"),
    [
        ({"topics": ["cooking"]}, "topics"),
        ({"level": 12}, "level"),
        ({"count": 0}, "count"),
        ({"seed": -1}, "seed"),
        ({"topics": ["rule and bench"], "level": 14}, "level 14"),
    ],
)
def test_what_is_not_offered_is_refused(options, words):
    with pytest.raises(InputError, match=words):
        questions(**{"seed": 1, **options})


# Another like this


@every_maker
def test_another_is_by_the_same_maker_and_differs(name):
    asked = made(name, 1)
    more = another(name, 2, unlike=asked.text)
    assert more.maker == name
    assert more.text != asked.text
    assert another(name, 2, unlike=asked.text) == more


def test_another_keeps_to_the_wording_and_the_strictness():
    assert another("charge", 4, strict=True).strict
    assert "electrode" in another("which way", 4, wording=SIGNS, strict=True).answer


def test_another_by_nobody_is_refused():
    with pytest.raises(InputError, match="maker"):
        another("riddle", 1)


# The same on every processor and version of Python: stored when the makers were last changed


def _digest(wording):
    whole = questions(seed=11, count=60, wording=wording)
    plain = [_whole_question(each) for each in whole]
    return hashlib.sha256(repr(plain).encode()).hexdigest()[:16]


def _whole_question(asked):
    """Everything that a question of any type holds, in one order."""
    held = asdict(asked) | {"kind": asked.kind, "marks": asked.marks, "answer": asked.answer}
    if "task" in held:
        held["task"] = str(asked.task)
    none = {"options": (), "parts": (), "points": (), "task": None, "strict": False}
    names = (
        *("maker", "topic", "level", "text", "kind", "marks", "answer", "why"),
        *("options", "parts", "points", "task", "chart", "watch", "strict"),
    )
    return {name: (none | held)[name] for name in names}


def test_questions_are_those_that_were_stored():
    assert (_digest(None), _digest(BOARDS["water, minus, states, signs, dilute"])) == DIGESTS


DIGESTS = ("afc617d514f440d5", "1037f137c6d28fbf")


def test_a_sweep_by_hand_goes_through_every_maker_and_prints_its_time():
    printed = printed_by("questions/sweep_questions.py", "1")
    assert f"{len(MAKERS)} makers, 1 seeds each, 0 faults" in printed
    for name in MAKERS:  # faults, texts, answers, and then milliseconds
        figures(printed, re.escape(name) + " +0 +1 +1 +")
