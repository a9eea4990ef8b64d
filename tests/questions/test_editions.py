"""Sets of an edition stay as they are when a solution, a row or a maker is added, or a maker is changed."""

from __future__ import annotations

import csv
from dataclasses import replace
from importlib import resources
from types import MappingProxyType

import pytest

from fizzplate import chemistry, data
from fizzplate.lesson.measure import possible_causes
from fizzplate.questions import random_source, sets, tables
from fizzplate.questions.maker import Maker
from fizzplate.questions.makers import parts
from fizzplate.questions.makers.ions import which_way
from fizzplate.questions.makers.parts import draw_salt
from fizzplate.questions.makers.registry import MAKERS, MODULES
from fizzplate.questions.misconceptions import misconceptions
from fizzplate.questions.set_state import QuestionSet, read_set, write_set
from fizzplate.questions.sets import questions
from fizzplate.questions.tables import reading
from fizzplate.views.pages.revise import Revise

SETS = [(6, 16), (13, 14)]
PRESENT = random_source.EDITION
NEW = PRESENT + 1


def texts_of(edition=PRESENT, wanted=SETS):
    """Every text, answer and option of some sets."""
    return [
        (question.text, question.answer, question.why, [option.text for option in question.options])
        for seed, level in wanted
        for question in questions(seed=seed, count=60, level=level, edition=edition)
    ]


@pytest.fixture(scope="module")
def before():
    return texts_of()


@pytest.fixture
def fresh():
    """Forget what was read of tables, before a test and after it."""

    def forget():
        for cached in (
            reading.rows,
            reading.candidates,
            data.rows,
            misconceptions,
            possible_causes,
        ):
            cached.cache_clear()

    forget()
    yield
    forget()


def line(table, cells):
    return data.Line(f"questions/tables/{table}.csv", 2, MappingProxyType(cells))


def with_rows(monkeypatch, added):
    """Add rows to the questions' tables, at their beginnings, where they would do most harm."""
    read = reading.rows

    def rows(name):
        return (*(line(name, cells) for cells in added.get(name, ())), *read(name))

    monkeypatch.setattr(reading, "rows", rows)


def test_every_candidate_is_known_and_comes_once():
    rows = reading.rows("candidates")
    assert len({(row["kind"], row["key"]) for row in rows}) == len(rows)
    known = {
        "solution": set(chemistry.solutions()),
        "melt": set(chemistry.melts()),
        "liquid": set(chemistry.non_electrolytes()),
        "misconception": set(map(str, misconceptions())),
        "cause": {each.name for each in possible_causes()},
    }
    for row in rows:
        assert row["key"] in known[row["kind"]], row
        assert 1 <= int(row["since"]) <= random_source.EDITION


def test_a_solution_that_is_added_to_the_table_changes_no_set(before, fresh, monkeypatch):
    salts = dict(chemistry.solutions())
    assert "RbBr" not in salts
    more = {"RbBr": replace(salts["KBr"], formula="RbBr"), **salts}
    for module in (parts, *MODULES):
        if hasattr(module, "solutions"):
            monkeypatch.setattr(module, "solutions", lambda: more)
    assert texts_of() == before


def test_a_solution_is_asked_about_from_its_edition_on(fresh, monkeypatch):
    later = line("candidates", {"kind": "solution", "key": "KBr", "since": str(NEW)})
    rows = (later, *(row for row in reading.rows("candidates") if row["key"] != "KBr"))
    monkeypatch.setattr(reading, "rows", {"candidates": rows}.__getitem__)
    for edition, known in ((PRESENT, False), (NEW, True)):
        drawn = {
            draw_salt(random_source.RandomSource(seed, edition=edition)) for seed in range(400)
        }
        assert ("KBr" in drawn) == known


@pytest.mark.parametrize(
    ("kind", "key"),
    [("solution", "Pb(NO3)2"), ("melt", "NaCl(l)"), ("liquid", "H2O"), ("misconception", "3")],
)
def test_a_row_that_is_added_changes_no_set(before, fresh, monkeypatch, kind, key):
    with_rows(monkeypatch, {"candidates": [{"kind": kind, "key": key, "since": str(NEW)}]})
    assert texts_of() == before
    assert len(reading.candidates(kind, NEW)) == len(reading.candidates(kind, PRESENT)) + 1


TABLES = sorted(
    entry.name.removesuffix(".csv")
    for entry in resources.files(tables).iterdir()
    if entry.name.endswith(".csv")
)


def test_a_row_that_is_added_to_any_table_changes_no_set(before, fresh, monkeypatch):
    read = {name: reading.rows(name) for name in TABLES}
    added = {
        name: [{**row.cells, "since": str(NEW)} for row in rows] for name, rows in read.items()
    }
    with_rows(monkeypatch, added)
    assert texts_of() == before
    assert all(len(reading.edition_rows(name, NEW)) == 2 * len(read[name]) for name in TABLES)
    assert texts_of(NEW) != before


def add_rows(monkeypatch, table, *more):
    """Add rows to a table of `data/`, at its beginning, where they would do most harm."""
    read = data.tables.rows
    monkeypatch.setattr(
        data, "rows", lambda name: (*more, *read(name)) if name == table else read(name)
    )


def test_a_misconception_that_is_added_to_the_table_changes_no_set(before, fresh, monkeypatch):
    rows = data.rows("misconceptions")
    key = {**rows[0].key, "number": str(len(rows) + 1)}
    add_rows(monkeypatch, "misconceptions", replace(rows[0], key=MappingProxyType(key)))
    assert texts_of() == before


def test_a_cause_of_error_that_is_added_changes_no_set(before, fresh, monkeypatch):
    rows = data.rows("causes_of_error")
    key = {**rows[0].key, "cause": "something else"}
    add_rows(monkeypatch, "causes_of_error", replace(rows[0], key=MappingProxyType(key)))
    assert texts_of() == before
    assert possible_causes()[0].name == "something else"


def test_a_maker_that_is_added_changes_no_set(before, monkeypatch):
    new = Maker("a new one", "ions", 14, NEW, NEW, which_way.make)
    monkeypatch.setitem(MAKERS, new.name, new)
    assert texts_of() == before
    whole_set = questions(seed=1, count=100, level=16, edition=NEW)
    assert new.name in {each.maker for each in whole_set}


def test_the_order_of_the_makers_changes_no_set(before, monkeypatch):
    monkeypatch.setattr(sets, "MAKERS", dict(reversed(MAKERS.items())))
    assert texts_of() == before


def _longer(question):
    return replace(question, text=f"{question.text} Give a reason.")


def test_a_maker_that_is_changed_changes_its_own_questions_only(before, monkeypatch):
    plain = MAKERS["which way"]
    changed = replace(plain, version=NEW, make=lambda rng: _longer(plain.make(rng)))
    monkeypatch.setitem(MAKERS, plain.name, changed)
    differ = [now[0] for now, then in zip(texts_of(), before, strict=True) if now != then]
    assert differ
    assert all(text.endswith(" Give a reason.") for text in differ)


# What a link says


def test_a_link_carries_level_and_edition():
    assert (
        write_set(QuestionSet(31, 5, level=14)) == f"v=1&set=31&edition={PRESENT}&count=5&level=14"
    )
    assert read_set(write_set(QuestionSet(31, 5, level=14))) == (QuestionSet(31, 5, level=14), [])


def opened(query):
    page = Revise()
    page.open_query(query)
    return page


def test_a_link_that_names_no_edition_opens_the_set_of_today_and_says_so():
    page = opened("v=1&set=7&count=3&level=14")
    (said,) = page.address.notices
    assert said == "This link is older than the editions of sets: it opens set 7 as it is today."
    assert page.questions == questions(seed=7, count=3, level=14)
    assert f"edition={PRESENT}" in page.address.query


def test_a_link_whose_makers_have_not_changed_says_nothing():
    assert list(opened(f"v=1&set=7&edition={PRESENT}&count=3&level=14").address.notices) == []
    assert list(opened("v=1&topics=tests").address.notices) == []


def test_a_link_from_before_a_maker_changed_opens_its_new_questions_and_says_which(monkeypatch):
    whole_set = questions(seed=7, count=3, level=14)
    plain = MAKERS[whole_set[1].maker]
    changed = replace(plain, version=NEW, make=lambda rng: replace(plain.make(rng), text="New?"))
    monkeypatch.setitem(MAKERS, plain.name, changed)
    page = opened(f"v=1&set=7&edition={PRESENT}&count=3&level=14")
    assert [each.text for each in page.questions] == [whole_set[0].text, "New?", whole_set[2].text]
    (said,) = page.address.notices
    assert said.startswith("Question 2 has changed since this link was made")


def test_a_question_about_a_nitrate_offers_nitrogen_and_an_older_link_says_that_it_has_changed():
    page = opened("v=1&set=89&edition=1&count=7&level=14")
    nitrate = page.questions[6]
    assert nitrate.text.startswith("A direct current is passed through sodium nitrate solution")
    offered = {option.text: option.reason for option in nitrate.options}
    assert offered["nitrogen"].startswith("Nitrate ions are not discharged")
    (said,) = page.address.notices
    assert said.startswith("Question 7 has changed since this link was made")


def test_an_edition_that_is_not_there_yet_is_left_out_and_said():
    found, said = read_set("set=7&edition=9")
    assert said == [f"edition: '9' was left out. Use a whole number from 1 to {PRESENT}."]
    assert found.seed == 7


def test_a_paper_names_its_level_and_its_edition():
    page = opened(f"v=1&set=7&edition={PRESENT}&count=2&level=14")
    (paper, _) = page._make_papers(1)
    assert "<li>14 to 16 years</li>" in paper.html
    assert f"<li>edition {PRESENT}</li>" in paper.html


def test_the_tables_of_questions_come_with_the_package():
    files = {entry.name for entry in resources.files(tables).iterdir()}
    names = {name for name in files if name.endswith(".csv")}
    for name in names:
        text = resources.files(tables).joinpath(name).read_text(encoding="utf-8")
        assert reading.SINCE in next(csv.reader(text.splitlines()))
