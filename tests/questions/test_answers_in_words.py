"""What learners write in their own words, and which marks it earns."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from question_checks import first_of, made  # beside this file


@pytest.mark.parametrize(
    ("name", "text", "answer", "earned"),
    [
        ("observation", "copper(II) sulfate solution", "a pink-brown layer", [True, True]),
        ("observation", "copper(II) sulfate solution", "a red deposit", [True, False]),
        ("observation", "copper(II) sulfate solution", "a brown precipitate", [False, True]),
        ("observation", "odium sulfate solution", "fizzing, clear gas", [True, False]),
        ("observation", "odium sulfate solution", "hydrogen", [False, False]),
        ("gas test", "for hydrogen", "a lit splint: squeaky pop", [True, True]),
        ("gas test", "for hydrogen", "a glowing splint pops", [False, False]),
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
            [True, False],
        ),
    ],
)
def test_words_earn_marks_as_an_examiner_gives_them(name, text, answer, earned):
    question = first_of(name, seeds=range(400), text=text)
    if name == "observation":
        of = "copper" if "copper" in text else "hydrogen"
        every = (made(name, seed) for seed in range(400))
        question = next(q for q in every if text in q.text and f"It is {of}" in q.why)
    marked = question.mark(answer)
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
    question = first_of(name, seeds=range(400), text=text)
    marked = question.mark(answer)
    assert [line.earned for line in marked.lines] == (earned or [True] * question.marks), (
        marked.lines
    )


def test_text_answers_say_which_words_earned_which_mark():
    every = (made("observation", seed) for seed in range(100))
    question = next(q for q in every if "brown deposit" in q.answer)
    marked = question.mark("a red-brown precipitate, a layer on the rod")
    assert [line.earned for line in marked.lines] == [False, True]
    assert "“precipitate” takes it back" in marked.lines[0].reason
    assert "“brown” says it" in marked.lines[1].reason
    assert "“red” alone is too little" in question.mark("a red deposit").lines[1].reason


@pytest.mark.parametrize(
    ("name", "text", "answer", "earned"),
    [
        ("define", "oxidation", "oxidashun: electrons are removed. reducshun: they are added", 1),
        ("define", "oxidation", "oxidation: removal of e-. reduction: addition of e-", 2),
        ("define", "an electrolyte", "it is a metal rod that lets current into the solution", 0),
        ("define", "an electrolyte", "a solution that conducts between two metal rods", 2),
        ("define", "an electrolyte", "the solution that the electrodes are put in, it conducts", 2),
        ("ions that compete", "anode when sodium chloride", "chlorine ions, hydroxide ions", 2),
        ("ions that compete", "anode when sodium chloride", "chlorine and hydroxide ions", 1),
        ("gas test", "for iodine", "shake with hexane: the top layer turns violet", 2),
        ("gas test", "for iodine", "add starch, it turns purple", 1),
        ("gas test", "for iodine", "the solution turns purple", 0),
        ("why a solid does not conduct", "solution", "electrons move but when solid they can't", 0),
        ("why acid", "sulfate", "because sulfate ions turn into sulfuric acid", 0),
        ("why acid", "sulfate", "OH- is discharged, H+ and sulfate make sulfuric acid", 2),
        ("why alkaline", "sodium", "sodium forms and reacts with the water to sodium hydroxide", 0),
        ("carbon or copper", "", "carbon: bubbles. copper: no bubbles. The blue stays in both.", 2),
        ("carbon or copper", "", "carbon: bubbles, the blue stays. copper: dissolves", 2),
        (
            "carbon or copper",
            "",
            "if you use copper the rod dissolves, if you use carbon it fizzes",
            2,
        ),
        ("carbon or copper", "", "with carbon brown gas, chlorine, bubbles", 0),
    ],
)
def test_a_class_of_wording_earns_what_it_says(name, text, answer, earned):
    question = first_of(name, seeds=range(400), text=text)
    marked = question.mark(answer)
    assert marked.earned == earned, marked.lines
