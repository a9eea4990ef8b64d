"""Items that other programs wrote: asked and marked as far as can be, or left out by name."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from exchange_samples import (
    GOOD,
    OPTIONS,
    entry,
    equal,
    item,
    read,
    response,
)  # beside this file


def test_a_choice_of_another_program():
    feedback = (
        '<qti-modal-feedback outcome-identifier="F" show-hide="show" identifier="two"><qti-content-body>'
        "<p>They stay.</p></qti-content-body></qti-modal-feedback>"
    )
    outcome = (
        '<qti-outcome-declaration identifier="SCORE" cardinality="single" normal-maximum="2.0"/>'
    )
    declared = response("identifier", "one") + outcome
    (question,), said = read(
        item(declared, f"<div><p>CuSO<sub>4</sub> and NaCl.</p></div>{OPTIONS}", feedback)
    )
    assert said == []
    assert (question.maker, question.topic, question.level) == ("imported", "Metals", 14)
    assert question.text == "CuSO₄ and NaCl.\nWhich metal?"
    assert [option.text for option in question.options] == ["copper", "Na⁺ ions"]
    assert [option.reason for option in question.options] == ["Yes, it settles.", "They stay."]
    assert question.mark("copper").earned == question.marks == 2
    assert question.mark("Na+ ions").earned == 0


def test_a_choice_without_feedback_says_which_is_right():
    bare = re.sub("<qti-feedback-inline.*?</qti-feedback-inline>", "", OPTIONS)
    (question,), _ = read(item(response("identifier", "one"), bare, title=""))
    assert question.topic == "imported"
    assert question.mark("Na⁺ ions").remark == "The right answer is: copper"
    assert question.mark("copper").earned == 1


@pytest.mark.parametrize(
    ("mode", "tolerance", "inside", "outside"),
    [
        ("relative", "5", "1.31", "1.32"),
        ("absolute", "0.02 0.02", "1.269", "1.275"),
        ("exact", "", "1.25", "1.251"),
    ],
)
def test_a_measured_number_of_another_program(mode, tolerance, inside, outside):
    declared = response("float", "1.25")
    (question,), said = read(
        item(declared, f"<p>It weighs {entry()} g.</p>", equal(mode, tolerance))
    )
    assert said == []
    assert (question.kind, question.text, question.answer) == (
        "number",
        "It weighs ____ g.",
        "1.25",
    )
    assert question.mark(inside).earned == 1
    assert question.mark(outside).earned == 0


def test_several_numbers_of_another_program():
    declared = response("float", "0.5", name="A") + response("float", "2.5e-3", name="B")
    declared += (
        '<qti-outcome-declaration identifier="MAXSCORE" cardinality="single" base-type="float">'
        "<qti-default-value><qti-value>3</qti-value></qti-default-value></qti-outcome-declaration>"
    )
    (question,), _ = read(item(declared, f"<p>Charge {entry('A')} C, moles {entry('B')}.</p>"))
    assert question.answer == "0.5; 0.0025"
    assert [question.mark(text).earned for text in ("0,5; 0.0025", "0.5", "1; 2.5 x 10^-3")] == [
        3,
        1,
        2,
    ]


def test_a_count_of_another_program_is_right_only_as_it_is():
    (question,), _ = read(item(response("integer", "29"), f"<p>Copper has number {entry()}.</p>"))
    assert [question.mark(text).earned for text in ("29", "It is 29", "30", "129", "2.9")] == [
        1,
        1,
        0,
        0,
        0,
    ]


def test_words_of_another_program_with_all_that_its_map_accepts():
    mapping = (
        '<qti-mapping default-value="0"><qti-map-entry map-key="Brass" mapped-value="1"/>'
        '<qti-map-entry map-key="yellow brass" mapped-value="1"/>'
        '<qti-map-entry map-key="bronze" mapped-value="0.5"/></qti-mapping>'
    )
    (question,), _ = read(
        item(response("string", "Brass", mapping=mapping), f"<p>Name it: {entry()}</p>")
    )
    assert question.kind == "text"
    assert question.points[0].words == ("brass", "yellow brass")
    assert [question.mark(text).earned for text in ("brass", "It is BRASS.", "bronze")] == [1, 1, 0]


def test_an_extended_text_of_another_program_is_marked_by_the_points_of_its_rubric():
    body = (
        "<p>A cell.</p>"
        '<qti-extended-text-interaction response-identifier="RESPONSE"><qti-prompt>Explain.</qti-prompt>'
        '</qti-extended-text-interaction><qti-rubric-block use="scoring" view="scorer tutor">'
        "<qti-content-body>"
        "<ul><li>ions move</li><li>electrons <b>do not</b></li></ul></qti-content-body></qti-rubric-block>"
        '<qti-rubric-block use="instructions" view="candidate"><qti-content-body><ul><li>no</li></ul>'
        "</qti-content-body></qti-rubric-block>"
    )
    (question,), said = read(item(response("string", "Ions carry the charge."), body))
    assert said == []
    assert (question.kind, question.text, question.marks) == ("list", "A cell.\nExplain.", 2)
    assert [point.statement for point in question.points] == ["ions move", "electrons do not"]
    assert question.why == "Ions carry the charge."
    assert (question.mark("1").earned, question.mark(question.answer).earned) == (1, 2)


def test_an_extended_text_without_a_rubric_is_one_mark():
    (question,), _ = read(
        item(
            response("string"),
            '<qti-extended-text-interaction response-identifier="RESPONSE"/><p>Why?</p>',
        )
    )
    assert (question.kind, question.marks, question.mark("1").earned) == ("list", 1, 1)


def test_kinds_that_cannot_be_asked_are_named_in_one_sentence_each():
    match = item(response("pair"), '<qti-match-interaction response-identifier="RESPONSE"/>')
    order = item(response("identifier"), '<qti-order-interaction response-identifier="RESPONSE"/>')
    several = item(response("identifier", "one", "two", cardinality="multiple"), OPTIONS)
    mixed = item(
        response("identifier", "one") + response("float", "1.5", name="B"),
        f"{OPTIONS}<p>{entry('B')}</p>",
    )
    nothing = item("", "<p>Read this.</p>")
    good = item(response("identifier", "one"), OPTIONS)
    found, said = read(match, order, match, several, mixed, nothing, good, match, match, match)
    assert len(found) == 1
    assert len(said) == 5
    assert said[0].startswith("An item with qti-match-interaction ")
    assert said[0].endswith("was left out: i0.xml, i2.xml, i7.xml and 2 more.")
    assert "qti-order-interaction" in said[1]
    assert said[2].startswith("A choice of several answers ")
    assert said[3].startswith("An item with several interactions ")
    assert said[4].startswith("An item without an interaction ")
    assert all("choice of one answer" in sentence for sentence in said)


def test_items_that_cannot_be_marked_are_named_and_the_others_still_read():
    good = item(response("identifier", "one"), OPTIONS)
    same = OPTIONS.replace("<p>Na<sup>+</sup> ions</p>", "copper")
    found, said = read(
        good,
        "<qti-assessment-item><qti-item-body>",
        item(response("identifier", "three"), OPTIONS),
        item(response("identifier", "one"), same),
        item(response("float"), f"<p>{entry()}</p>"),
        "<assessmentItem/>",
        item("", "")[:-10],
        good.replace("qti-item-body", "p"),
        good,
    )
    assert len(found) == 2
    for k, words in enumerate(
        (
            "well-formed XML",
            "identifier of one of the options",
            "options that differ",
            "right answer for each",
            "qti-assessment-item",
            "well-formed",
            "with a body",
        ),
        start=1,
    ):
        assert f"i{k}.xml" in said[k - 1]
        assert words in said[k - 1]
        assert "left out" in said[k - 1]


def test_pictures_and_texts_beside_an_item_are_said_to_be_left_out():
    body = f'<p>Look: <img src="https://x.test/a.png" alt="a"/></p>{OPTIONS}'
    reference = '<qti-assessment-stimulus-ref identifier="s" href="s.xml"/>'
    (question,), said = read(item(response("identifier", "one") + reference, body))
    assert question.text == "Look:\nWhich metal?"
    assert [sentence.partition(": ")[2] for sentence in said] == [
        "its pictures, sounds or videos were left out.",
        "the text that it refers to was left out.",
    ]


def test_no_markup_of_strangers_is_passed_on():
    attack = "&lt;img src=x onerror=alert(1)&gt;&lt;scr&lt;b&gt;ipt&gt;"
    body = (
        f"<p onclick='x()'>A{attack}</p><script>alert(2)</script><style>p{{}}</style>"
        "<p><![CDATA[<iframe src='javascript:3'></iframe>]]>B</p>"
        + OPTIONS.replace("copper", f"copper{attack}")
    )
    (question,), _ = read(item(response("identifier", "one"), body, title=attack))
    assert question.text == "A\nB\nWhich metal?"
    assert question.options[0].text == "copper"
    assert question.topic == "imported"
    assert "<" not in repr(question)


def test_texts_that_are_too_long_are_cut_and_that_is_said():
    (question,), said = read(
        item(response("identifier", "one"), f"<p>{'long ' * 2000}</p>{OPTIONS}")
    )
    assert len(question.text) == 4000
    assert said == ["i0.xml: the question was cut after 4000 of its 10012 characters."]


def test_short_answers_of_several_entries_earn_their_marks():
    declared = response("string", "SO₄²⁻", name="A") + response("integer", "29", name="B")
    declared += response("string", "Cu", name="C")
    body = f"<p>{entry('A')} {entry('B')} {entry('C')}</p>"
    (question,), said = read(item(declared, body))
    assert said == []
    assert question.mark(question.answer).earned == question.marks == 3
    assert question.mark("SO₄²⁻; 129; Cu").earned == 2


def test_a_number_whose_exact_value_cannot_be_given_is_left_out_by_name():
    long = item(response("float", "1.23456789012"), f"<p>{entry()}</p>", equal("exact", ""))
    found, said = read(GOOD["a.xml"], long)
    assert len(found) == 1
    assert said[0].startswith("i1.xml was left out. answer: '1.2345679' cannot be used. ")
