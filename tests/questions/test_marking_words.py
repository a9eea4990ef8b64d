"""Answers in words: what is denied, said of the other thing, or found inside a word earns nothing."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from fizzplate.questions.content import Point
from fizzplate.questions.marking.words import mark_point

sys.path.insert(0, str(Path(__file__).parent))
from question_checks import made  # beside this file

DAMP_BLEACHED = ("gas test", "for chlorine")
SEEN_GAS = ("observation", "odium sulfate solution")
SEEN_COPPER = ("observation", "copper(II) sulfate solution")
MEANT = ("define", "oxidation")
RODS = ("carbon or copper", "")
ALKALINE = ("why alkaline", "")
NONE, HALF, ALL = [False, False], [True, False], [True, True]


def question_of(name, text):
    for seed in range(400):
        question = made(name, seed)
        if text not in question.text:
            continue
        if (
            name != "observation"
            or f"It is {'copper' if 'copper' in text else 'hydrogen'}" in question.why
        ):
            return question
    raise AssertionError(name)


def earned(of, answer):
    return [line.earned for line in question_of(*of).mark(answer).lines]


@pytest.mark.parametrize(
    ("of", "answer", "marks"),
    [
        (DAMP_BLEACHED, "The paper is not bleached. No damp litmus.", NONE),
        (DAMP_BLEACHED, "damp blue litmus does not turn white", HALF),
        (DAMP_BLEACHED, "damp blue litmus doesn’t turn white", HALF),
        (DAMP_BLEACHED, "damp litmus paper is never bleached", HALF),
        (DAMP_BLEACHED, "hold a burning splint, it goes black when you get wet", NONE),
        (DAMP_BLEACHED, "moist universal indicator is bleached", [False, True]),
        (DAMP_BLEACHED, "Litmus paper that has been made damp goes white", ALL),
        (DAMP_BLEACHED, "damp litmus. It turns red and then it is bleached", ALL),
        (DAMP_BLEACHED, "Damp starch-iodide paper is held in the gas. It goes blue-black.", ALL),
        (DAMP_BLEACHED, "not dry but damp litmus paper: bleached", ALL),
        (SEEN_GAS, "no bubbles, colourless", [False, True]),
        (SEEN_GAS, "bubbling, no colour", ALL),
        (SEEN_GAS, "clear bubbles", HALF),
        (SEEN_GAS, "bubbles\nno colour", ALL),
        (SEEN_GAS, "not only bubbles, they are colourless", ALL),
        (SEEN_COPPER, "orange-brown deposit is not seen", NONE),
        (SEEN_COPPER, "an orange-brown deposit and no bubbles", ALL),
        (SEEN_COPPER, "there is no deposit", NONE),
        (MEANT, "Oxidation: electrons lost. Reduction: electrons gained.", ALL),
        (
            MEANT,
            "when something loses electrons it is oxidised, when it gains electrons it is reduced",
            ALL,
        ),
        (
            MEANT,
            "When it loses electrons, it is oxidised, and when it gains them, it is reduced",
            ALL,
        ),
        (MEANT, "oxidation is when a metal loses electrons, reduction when it gains them", ALL),
        (MEANT, "Losing electrons = oxidation; gaining = reduction", ALL),
        (MEANT, "Electrons are lost in oxidation and gained in reduction", ALL),
        (MEANT, "Oxidation Is Loss, Reduction Is Gain", ALL),
        (MEANT, "oil rig", ALL),
        (MEANT, "oilrig", ALL),
        (MEANT, "Oxidation is gaining electrons. Reduction is losing electrons.", NONE),
        (MEANT, "Losing electrons is reduction, gaining electrons is oxidation", NONE),
        (MEANT, "oxidation does not mean losing electrons", NONE),
        (MEANT, "Oxidation is gain of oxygen and reduction is loss of oxygen", NONE),
        (ALKALINE, "hydrogen ions form hydrogen gas. hydroxide ions left over", ALL),
        (ALKALINE, "Water is reduced at the cathode: 2H2O + 2e- -> H2 + 2OH-", ALL),
        (ALKALINE, "Hydrogen ions are not discharged and no hydroxide ions are left", NONE),
        (
            RODS,
            (
                "With copper electrodes the blue fades and oxygen bubbles off. With carbon the blue stays "
                "and the carbon wears away"
            ),
            [False] * 4,
        ),
        (
            RODS,
            (
                "The blue fades with carbon but stays with copper. There are bubbles at the carbon anode, "
                "while the copper anode dissolves."
            ),
            [True] * 4,
        ),
        (
            RODS,
            (
                "With carbon the copper ions are used up, so the blue fades, and oxygen bubbles off. With "
                "copper no oxygen forms: the anode dissolves and the solution stays blue."
            ),
            [True] * 4,
        ),
        (RODS, "Bubbles form and the blue fades with carbon", [True, False, True, False]),
    ],
)
def test_marks_are_earned_as_an_examiner_gives_them(of, answer, marks):
    lines = question_of(*of).mark(answer).lines
    assert [line.earned for line in lines] == marks, lines


def test_what_is_denied_and_what_is_the_wrong_way_round_is_said():
    denied = question_of(*SEEN_GAS).mark("no bubbles").lines[0]
    assert denied.reason.endswith("“bubble” is denied.")
    turned = question_of(*MEANT).mark(
        "Oxidation is gaining electrons, reduction is losing electrons"
    )
    assert all("is the wrong way round" in line.reason for line in turned.lines)
    assert (
        "“clear” alone is too little"
        in question_of(*SEEN_GAS).mark("clear bubbles").lines[1].reason
    )


@pytest.mark.parametrize(
    ("words", "answer", "earns"),
    [
        (("ion",), "station", False),
        (("ion",), "an ion", True),
        (("ion",), "ions", True),
        (("ion",), "éion", True),  # only plain letters make a word, as in the page
        (("oh-",), "2OH⁻", True),
        (("hydroxide ions",), "4OH-", True),
        ((" red ",), "a red one", True),
        (("not free to move",), "they are not free to move", True),
        (("no colour",), "it has no colour", True),
        (("fizz",), "it does not at any time in the whole experiment fizz", True),
        (("fizz",), "nothing moves, it will not ever fizz", False),
        (("fizz",), "it does not smoke but fizz", True),
        (("fizz",), "no fizz; later on fizz", True),
        (("litmus & damp",), "the paper is litmus and it is damp", True),
        (("litmus & damp",), "the paper is litmus. It is damp", False),
        (("litmus & damp",), "litmus that is not damp", False),
    ],
)
def test_a_listed_word_is_found_where_it_is_said(words, answer, earns):
    from fizzplate.questions.marking.plain_answers import plain_answer

    assert mark_point(Point("it", words), plain_answer(answer)).earned is earns


def test_what_takes_a_point_back_does_not_when_it_is_denied():
    point = Point("a layer", ("layer",), ("precipitate",))
    assert mark_point(point, "a layer, not a precipitate").earned
    assert not mark_point(point, "a layer, a precipitate").earned


@pytest.mark.parametrize(
    ("answer", "said"),
    [
        ("cathode: pink. it is copper", True),
        ("anode: a gas. it is copper", False),
        ("at the anode a gas. there are bubbles. at the cathode it is copper", True),
        ("anode: gas;copper at the cathode", True),
        ("copper at the cathode and chlorine at the anode", True),
        ("chlorine at the cathode and copper at the anode", False),
    ],
)
def test_a_sentence_that_names_neither_goes_on_about_what_came_before(answer, said):
    point = Point("copper forms", ("copper",), within=("cathode",), besides=("anode",))
    assert mark_point(point, answer).earned is said


@pytest.mark.parametrize("word", ['"', "“” ", '" & "', "fade .. '"])
def test_a_listed_word_without_letters_is_said_nowhere(word):
    """A table of one's own may hold anything; such a word once broke the marking."""
    assert not mark_point(Point("the blue fades", (word,)), "the blue fades").earned
    assert mark_point(Point("the blue fades", (word, "fades")), "the blue fades").earned
