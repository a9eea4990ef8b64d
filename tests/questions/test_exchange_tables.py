"""Questions in a spreadsheet: any text survives, a teacher's table is read, a bad one is refused."""

from __future__ import annotations

import csv
import io
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, assume, example, given, settings
from hypothesis import strategies as st

from fizzplate.questions.content import NearMiss, Point
from fizzplate.questions.exchange import from_csv, read_csv, to_csv
from fizzplate.questions.exchange.question_checks import search_form
from fizzplate.words.refusals import InputError

sys.path.insert(0, str(Path(__file__).parent))
from exchange_samples import CHOICE, EQUATION, NUMBER, TEXT  # beside this file

ANY_TEXT = st.text(max_size=40)
NOT_BLANK = ANY_TEXT.filter(lambda text: text.strip())
# what an answer can hold, as it is searched
WORD = (
    st.text(min_size=1, max_size=12).map(search_form).filter(lambda word: search_form(word) == word)
)
WORDS = st.lists(WORD.filter(str.strip), min_size=1, max_size=3).map(tuple)


@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    text=NOT_BLANK, topic=NOT_BLANK, why=NOT_BLANK, statement=NOT_BLANK, words=WORDS, against=WORDS
)
def test_any_text_survives_a_table(text, topic, why, statement, words, against):
    point = Point(statement, words, tuple(f"{word} {words[0]}" for word in against), words[:1])
    told = replace(
        TEXT, text=text, topic=topic, why=why, maker=topic, points=(point,), answer=words[0]
    )
    assume(told.mark(told.answer).earned == 1)
    reason = replace(CHOICE.options[0], text=f"right {text}", reason=why)
    other = replace(CHOICE.options[1], text=f"wrong{statement}", reason=text)
    chosen = replace(CHOICE, text=why, why=statement, options=(reason, other))
    part = replace(
        NUMBER.parts[0],
        prompt=text,
        steps=(why, statement),
        near_misses=(NearMiss(1.5, (1,), topic),),
    )
    found = replace(NUMBER, text=statement, parts=(part,))
    task = replace(EQUATION.task, prompt=text, goal=why, hints=(statement, text), tiles=words)
    wrote = replace(EQUATION, text=topic, task=task)
    made = [told, chosen, found, wrote]
    assert from_csv(to_csv(made)) == made


@example(0.0, 50950.0, 0.0)
@given(st.floats(0, 0.5), st.floats(1e-9, 1e9), st.floats(-1e5, 1e5))
def test_numbers_survive_a_table_to_the_last_place(tolerance, value, near):
    part = replace(
        NUMBER.parts[0], value=value, tolerance=tolerance, near_misses=(NearMiss(near, (), ""),)
    )
    question = replace(NUMBER, parts=(part,))
    assert from_csv(to_csv([question]))[0].parts[0].value == value
    assert from_csv(to_csv([question]))[0].parts[0].near_misses[0].value == near
    assert from_csv(to_csv([question]))[0].parts[0].tolerance == pytest.approx(tolerance, rel=1e-15)


BY_TEACHER = {
    ",": 'Kind,Question,Options\nchoice,What forms?,"{right}\n{wrong}"\n',
    ";": '\ufeffkind;question;options;notes\r\nchoice;What forms?;"{wrong}\r\n{right}";x\r\n;;;\r\n',
    "\t": 'question\tkind\toptions\nWhat forms?\tCHOICE\t"{wrong}\n\n{right}"\n',
}


@pytest.mark.parametrize("delimiter", list(BY_TEACHER))
def test_a_table_that_a_teacher_made_is_read_with_any_separator(delimiter):
    right, wrong = "Right: hydrogen|because : Sodium stays.", "wrong: sodium"
    (question,) = from_csv(BY_TEACHER[delimiter].format(right=right, wrong=wrong))
    assert (question.maker, question.topic, question.level, question.marks) == (
        "imported",
        "imported",
        14,
        1,
    )
    assert question.mark("hydrogen").remark == question.why == "Sodium stays."
    assert question.mark("sodium").remark == "The right answer is: hydrogen"


def test_numbers_in_a_table_with_decimal_commas_and_what_is_worked_out():
    (question,) = from_csv(
        "kind;question;numbers;marks\n"
        'number;How much?;"answer: 0,25 cm3 | tolerance: 2,5 % | figures: 2\nstep: Divide.\n'
        'near: 4 | loses: 1 | because: Upside down."\n'
    )
    assert (question.answer, question.marks, question.parts[0].tolerance) == ("0.25 cm³", 1, 0.025)
    assert question.mark("4 cm3").lines[0].reason == "Upside down."
    (question,) = from_csv("kind,question,numbers,marks\nnumber,How much?,answer: 12 g,2\n")
    assert question.mark("12 g").earned == question.marks == 2
    (question,) = from_csv('kind,question,numbers\nnumber,How much?,"answer: 12 g\nanswer: 3 C"\n')
    assert [question.mark(text).earned for text in ("12 g; 3 C", "12 g", "0; 3 C")] == [2, 1, 1]


def test_points_and_equations_in_a_table_with_what_is_worked_out():
    told, listed, wrote = from_csv(
        "kind,question,points,equation,answer\n"
        "text,What is seen?,says: bubbles | words: bubble; fizz | not with: solid,,bubbles\n"
        'list,Plan it.,"says: weighs\nsays: repeats",,\n'
        'equation,Write it.,,"accept: 2Cl⁻ → Cl2 + 2e-\naccept: 2Cl- - 2e- -> Cl2",\n'
    )
    assert (told.mark("it fizzes").earned, told.mark("a solid fizzes").earned) == (1, 0)
    assert (listed.answer, listed.marks) == ("weighs; repeats", 2)
    assert (wrote.answer, wrote.marks) == ("2Cl- -> Cl2 + 2e-", 2)
    assert wrote.mark("2Cl- - 2e- -> Cl2").earned == 2
    assert wrote.mark("Cl2 + 2e- -> 2Cl-").earned == 0


def row(**cells):
    names = ["kind", "question", *(name for name in cells if name not in {"kind", "question"})]
    held = {"question": "What?", **cells}
    quoted = ['"' + held[name].replace('"', '""') + '"' for name in names]
    return f"{','.join(names)}\n{','.join(quoted)}\n"


NO = {
    "nothing": ("", "columns: ''"),
    "words": ("these are no columns", "with kind and question among them"),
    "another separator": ("kind|question|options\nchoice|a|b\n", "commas, semicolons or tabs"),
    "a column missing": ("kind,options\nchoice,right: a\n", "with question among them"),
    "twice": ("kind,question,kind\nlist,a,b\n", "columns: 'kind'"),
    "only a header": ("kind,question,options", "at least one row"),
    "no row": ("kind,question\n\n", "at least one row"),
    "too large": ("kind,question\n" + "x" * 5_000_000, "at most 5000000 bytes"),
    "a huge cell": (row(kind="list", points="x" * 200_000), "a sensible size"),
    "a long cell": (row(kind="list", why="x" * 4001), "row 2, why: '4001 characters'"),
    "too many": ("kind,question\n" + "list,a\n" * 501, "501 questions"),
    "kind": (row(kind="choise"), "Did you mean 'choice'?"),
    "level": (row(kind="list", level="12", points="says: a"), "row 2, level: 12"),
    "marks": (row(kind="list", marks="two", points="says: a"), "row 2, marks: 'two'"),
    "marks and points": (row(kind="list", marks="2", points="says: a"), "1, one for each point"),
    "one option": (row(kind="choice", options="right: a"), "row 2, options: '1 options'"),
    "no right option": (row(kind="choice", options="wrong: a\nwrong: b"), "one right option"),
    "two right options": (row(kind="choice", options="right: a\nright: b"), "one right option"),
    "same options": (row(kind="choice", options="right: a\nwrong: a "), "options that differ"),
    "right and wrong": (
        row(kind="choice", options="right: a | wrong: b"),
        "right: or wrong: on each",
    ),
    "field": (row(kind="choice", options="rihgt: a"), "right, wrong, because or idea"),
    "no colon": (row(kind="choice", options="a\nb"), "row 2, options: 'a'"),
    "idea": (row(kind="choice", options="right: a\nwrong: b | idea: 34"), "0 to 33"),
    "no answer": (row(kind="number"), "row 2, numbers: '0 answers'"),
    "answer in words": (row(kind="number", numbers="answer: lots"), "row 2, answer: 'lots'"),
    "thousands": (row(kind="number", numbers="answer: 1,200 C\nstep: a"), "without commas between"),
    "unit": (row(kind="number", numbers="answer: 1 furlong\nstep: a"), "row 2, unit: 'furlong'"),
    "tolerance": (row(kind="number", numbers="answer: 1 g | tolerance: 0.1\nstep: a"), "per cent"),
    "infinite": (row(kind="number", numbers="answer: 1e999 g\nstep: a"), "row 2, numbers: inf"),
    "marks and answers": (
        row(kind="number", numbers="answer: 1 g\nanswer: 2 g", marks="3"),
        "2, one for each step",
    ),
    "step first": (row(kind="number", numbers="step: a\nanswer: 1 g"), "answer: on the first line"),
    "lost step": (
        row(kind="number", numbers="answer: 1 g\nstep: a\nnear: 2 | loses: 2"),
        "steps from 1 to 1",
    ),
    "nine answers": (row(kind="number", numbers="answer: 1 g\nstep: a\n" * 9), "'9 answers'"),
    "no words": (row(kind="text", points="says: a"), "at least one way to say it"),
    "answer without marks": (
        row(kind="text", points="says: a | words: fizz", answer="a solid"),
        "row 2, answer: 'a solid'",
    ),
    "no answer to a text": (
        row(kind="text", points="says: a | words: fizz"),
        "earns every mark (of 1 it earns 0)",
    ),
    "wrong answer to an equation": (
        row(kind="equation", equation="accept: 2Cl- -> Cl2 + 2e-", answer="Cl- -> Cl2 + e-"),
        "row 2, answer: 'Cl- -> Cl2 + e-'",
    ),
    "an answer rounded too far": (
        row(kind="number", numbers="answer: 1.23456 | tolerance: 0 % | figures: 4\nstep: a"),
        "row 2, answer: '1.235'",
    ),
    "huge in a chart": (
        row(kind="list", points="says: a", chart="title: a\nline: b | x: 1 | y: 1e300"),
        "numbers of at most 1e+12",
    ),
    "no points": (row(kind="text"), "row 2, marks: 0"),
    "no equation": (row(kind="equation"), "at least one form"),
    "unbalanced": (
        row(kind="equation", equation="accept: Cl- -> Cl2 + 2e-"),
        "Cl atoms: 1 on the left, 2",
    ),
    "not an equation": (
        row(kind="equation", equation="accept: chlorine"),
        "row 2, equation: 'chlorine'",
    ),
    "unknown ion": (
        row(kind="equation", equation="accept: Xx2+ + 2e- -> Xx"),
        "an equation such as",
    ),
    "watch": (
        row(kind="list", points="says: a", watch="Unobtainium"),
        "row 2, watch: 'Unobtainium'",
    ),
    "strict": (row(kind="list", points="says: a", strict="perhaps"), "row 2, strict: 'perhaps'"),
    "chart": (
        row(kind="list", points="says: a", chart="title: a\nline: b | x: 1; 2 | y: 1"),
        "as many x values as y values",
    ),
    "chart without title": (
        row(kind="list", points="says: a", chart="line: b"),
        "title: on the first",
    ),
}


@pytest.mark.parametrize("what", list(NO))
def test_a_table_that_cannot_be_used_is_refused_by_row_and_column(what):
    text, named = NO[what]
    with pytest.raises(InputError) as refused:
        from_csv(text)
    assert named in str(refused.value)
    assert "Use " in str(refused.value)


def test_no_cell_of_a_table_is_taken_for_a_formula():
    question = replace(CHOICE, text="=1+1", topic="@SUM(A1)", why="-x", maker="+x")
    text = to_csv([question])
    cells = [cell for cells in csv.reader(io.StringIO(text)) for cell in cells]
    assert "'=1+1" in cells
    assert not [cell for cell in cells if cell.startswith(("=", "+", "-", "@", "\t", "\r"))]
    assert from_csv(to_csv([question]))[0] == question


DEGREES = 'kind;question;points\r\nlist;Is it 20 °C – or −5 °C?;"says: “weighs”"\r\n'


@pytest.mark.parametrize("name", ["utf-8", "utf-8-sig", "utf-16", "utf-16-be", "cp1252"])
def test_a_table_is_read_however_its_signs_were_stored(name):
    text = DEGREES.replace("−", "-") if name == "cp1252" else DEGREES
    mark = b"\xfe\xff" if name == "utf-16-be" else b""
    (question,) = read_csv(mark + text.encode(name))
    assert question.text == text.split(";")[3]
    assert question.points[0].statement == "“weighs”"


@pytest.mark.parametrize(
    ("content", "named"),
    [
        (b"kind,question\n" + b"x" * 5_000_000, "'5000014 bytes'"),
        (b"kind,question,why\nlist,a,\x81", "bytes that are not text"),
        (b"\xff\xfek\0i", "bytes that are not text"),
        (
            DEGREES.replace("°", "\ufffd").encode(),
            "characters that another program lost, in line 2",
        ),
        (b"kind,question,options\r\n", "at least one row"),
        (b"", "columns: ''"),
        (b"PK\x03\x04\x81", "bytes that are not text"),
    ],
)
def test_bytes_that_are_no_table_are_refused_by_name(content, named):
    with pytest.raises(InputError) as refused:
        read_csv(content)
    assert named in str(refused.value)
    assert "\ufffd" not in str(refused.value)


@given(st.binary(max_size=60))
def test_any_bytes_are_read_or_refused_and_no_sign_is_lost(tail):
    try:
        (question, *_) = read_csv(b"kind,points,question\nlist,says: a," + tail)
        shown = question.text
    except InputError as refused:
        shown = str(refused)
    assert "\ufffd" not in shown


def test_a_teacher_may_write_formulae_with_capitals():
    (question,) = from_csv(
        "kind,question,points,answer\ntext,Which gas?,says: hydrogen | words: H2; H₂,It is H₂.\n"
    )
    assert question.points[0].words == ("h2", "h2")
    assert question.mark("H2").earned == 1
