"""Marking agrees with an examiner on what learners write; its rules stand once, a line for each synonym."""

from __future__ import annotations

import json
import re
import sys
from importlib import resources
from pathlib import Path

import pytest

from fizzplate.lesson.equations import known_species
from fizzplate.questions.marking.plain_words import RULES, plain_words
from fizzplate.questions.random_source import RandomSource
from fizzplate.questions.sets import MAKERS

sys.path.insert(0, str(Path(__file__).parent))
from marking_cases import (
    AGAIN,
    BLIND,
    CLOSING,
    FILES,
    FINAL,
    FURTHER,
    KINDS,
    LAST,
    LATER,
    NEWEST,
    ORDINARY,
    TRAINED,
    TYPED,
    agreement,
    cases,
)  # beside this file

WANTED = 0.95
#: of what was written by somebody who did not know how it is marked, at least
REACHED = {
    BLIND: {"text": 55, "equation": 36, "number": 34},
    TYPED: {"text": 48, "equation": 68, "number": 72},
    AGAIN: {"text": 56, "equation": 53, "number": 59},
    LATER: {"text": 93, "number": 27},
    LAST: {"text": 80, "number": 24},
    NEWEST: {"text": 73, "number": 22},
    FINAL: {"text": 57, "number": 12},
    FURTHER: {"text": 94},
    CLOSING: {"text": 73},
    TRAINED: {"text": 244},
    ORDINARY: {"text": 136, "equation": 18, "number": 14},
}


@pytest.mark.parametrize("name", FILES)
def test_marking_agrees_with_an_examiner(name):
    for kind, (agreed, whole) in agreement(name).items():
        assert agreed >= max(WANTED * whole, REACHED.get(name, {}).get(kind, 0)), (name, kind)


def test_the_sample_holds_right_wrong_and_half_answers_of_each_kind():
    every = [case for name in FILES for case in cases(name)]
    for kind in KINDS:
        given = [case.given for case in every if case.kind == kind]
        assert sum(share == 1 for share in given) > 20
        assert sum(share == 0 for share in given) > 5
        assert sum(0 < share < 1 for share in given) > 10


@pytest.mark.parametrize(
    ("written", "plain"),
    [
        ("OH-", "hydroxide ion"),
        ("4OH^- ions", "hydroxide ion"),
        ("SO4 2-", "sulfate ion"),
        ("SO4(2-)", "sulfate ion"),
        ("Cu+2", "copper ion"),
        ("Cu++", "copper ion"),
        ("H2 and O2", "hydrogen and oxygen"),
        ("potasium chloirde", "potassium chloride"),
        ("the elecrtons are given away", "electron lose"),
        ("it doesn't get used up", "it not discharge"),
        ("they're moblie", "they moblie"),  # six letters, but no key word
        ("Br- gone", "bromide ion discharge"),
        ("Cu = cathode, in CuSO4", "copper = cathode, in copper sulfate"),
        ("C - gas", "carbon - gas"),
        ("the spoon is at -, not at +", "spoon at negative, not at positive"),
        ("ions are not fixed in place", "ion move"),
        ("it gets 2 electrons", "it gain electron"),
        ("they give electrons", "they lose electron"),
        ("the colour dissapears", "colour disappear"),
        ("it keeps its colour", "it stay its colour"),
        ("solids don't have free electrons", "solids not electron"),
        ("in a solid they can't", "in solid they not move"),
        ("ions drift", "ion move"),
    ],
)
def test_what_is_written_is_read_in_plain_words(written, plain):
    assert plain_words(written, mend=True) == plain


@pytest.mark.parametrize(
    "word",
    [
        *("chlorine", "chloride", "bromine", "bromide", "iodine", "iodide", "sulfite", "nitrite"),
        *("lighter", "reduced", "produced", "anion", "cation", "station", "element", "elements"),
        *("brighter", "decrease", "decreases", "complete", "reacts", "sodium", "cathode", "copper"),
        *("compare", "compete", "negatives", "particle", "material", "carbon", "crystalline"),
    ],
)
def test_words_that_are_right_are_not_mended_into_others(word):
    assert plain_words(word, mend=True).startswith(plain_words(word)[:5])


def test_every_ion_is_known_by_its_formula():
    ions = {name for name, _ in RULES["ions"]}
    assert {"hydrogen", "hydroxide", "sulfate", "copper", "aluminium"} <= ions
    for name, (_, charge) in known_species().items():
        if not charge or re.search(r"[()]|Br3|I3|O4-|HSO|HF2|IO|BrO|ClO|CuCl|CuBr|CuI|e-", name):
            continue  # no question asks for these in words
        assert plain_words(name).endswith(" ion"), name


def test_each_synonym_is_a_line_of_one_file():
    package = resources.files("fizzplate.questions.marking")
    text = package.joinpath("words.json").read_text("utf-8")
    lines = [line.strip().rstrip(",") for line in text.splitlines()]
    assert all(json.dumps(pair, ensure_ascii=False) in lines for pair in RULES["synonyms"])
    assert len({tuple(pair) for pair in RULES["synonyms"]}) == len(RULES["synonyms"])


def test_no_rule_of_words_changes_what_another_has_made():
    for word, _ in RULES["synonyms"]:
        assert plain_words(word) == word


@pytest.mark.parametrize(
    ("maker", "seed", "answer"),
    [
        ("works in words", 762025, "copper ions lose electrons at the cathode"),
        ("works in words", 762025, "silver gains electrons at the cathode"),
        ("why alkaline", 763017, "hydroxide ions are discharged leaving hydrogen ions"),
        ("observation", 763012, "it is not colourless but green"),
        ("acid or alkaline at an electrode", 770009, "more hydroxide ions are made at the anode"),
        ("acid or alkaline at an electrode", 770057, "more hydrogen ions are formed there"),
        ("brine in words", 770036, "the membrane keeps sodium ions back"),
        ("why a solid does not conduct", 770004, "solids dont have free electrons"),
        (
            "why a solid does not conduct",
            770004,
            "no free electrons in the solid but they move in water",
        ),
        ("define", 770013, "oxidation is loss of hydrogen, reduction is gain of hydrogen"),
    ],
)
def test_what_is_the_wrong_way_round_earns_nothing(maker, seed, answer):
    assert not MAKERS[maker](RandomSource(seed, edition=3)).mark(answer).earned
