"""What questions draw from stands in tables: a row adds to them, and a bad cell is named."""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType

import pytest

from fizzplate import Cell, data
from fizzplate.lesson.rule import explanation
from fizzplate.questions.calculations import contexts, electrode_pairs, targets
from fizzplate.questions.makers.mark_points import mark_points
from fizzplate.questions.makers.observations import observation_words
from fizzplate.questions.makers.parts import rule_of, why_product
from fizzplate.questions.makers.registry import MAKERS
from fizzplate.questions.random_source import EDITION, RandomSource
from fizzplate.questions.tables import reading
from fizzplate.views.bench.payload import equation_of
from fizzplate.words import Wording, say

#: each table of calculations with what reads it
READERS = {
    "calculation_contexts": lambda edition: contexts.scenes("deposit", edition),
    "calculation_targets": targets.targets,
    "calculation_losses": targets.losses,
    "calculation_layers": targets.layers,
    "calculation_cells": lambda edition: electrode_pairs.pairs("metal", edition),
    "calculation_series": electrode_pairs.cells_in_series,
    "calculation_melts": electrode_pairs.melts,
}
EVERY = pytest.mark.parametrize("table", READERS)


def first_row(table):
    return reading.rows(table)[0]


def with_cells(monkeypatch, table, **cells):
    """Put one row more at the end of a table: its first row with other cells."""
    read, row = reading.rows, first_row(table)
    assert set(cells) <= set(row.cells)
    more = data.Line(row.file, 99, MappingProxyType({**row.cells, **cells}))
    monkeypatch.setattr(
        reading, "rows", lambda name: (*read(name), more) if name == table else read(name)
    )


@EVERY
def test_a_row_that_is_added_is_drawn_from_its_edition_on(monkeypatch, table):
    read = READERS[table]
    present = read(EDITION)
    with_cells(monkeypatch, table, since=str(EDITION + 1))
    assert read(EDITION) == present
    assert read(EDITION + 1) == (*present, present[0])


@EVERY
def test_a_bad_cell_is_refused_with_its_file_its_line_and_its_column(monkeypatch, table):
    question = 0
    for column in first_row(table).cells:
        if column in {"kind", "watch", "question"}:  # which may hold anything, or nothing
            continue
        with monkeypatch.context() as patch:
            with_cells(patch, table, **{column: ""})
            place = rf"^questions/tables/{table}\.csv, line 99, {column}: "
            with pytest.raises(data.BadRowError, match=place):
                READERS[table](EDITION)
        question += 1
    assert question >= 3


def texts_drawn(maker, edition):
    return str([MAKERS[maker](RandomSource(seed, edition=edition)) for seed in range(60)])


@pytest.mark.parametrize(
    ("table", "maker", "cells"),
    [
        ("definitions", "define", {"phrase": "an anything"}),
        ("plans", "plan", {"text": "whether anything happens"}),
        ("plan_points", "plan", {"text": "asks whether anything happens"}),
        ("mark_points", "why alkaline", {"answer": "why alkaline", "text": "anything is said"}),
        ("plated_things", "plating", {"thing": "anything"}),
        ("statement_topics", "true statement", {"text": "anything"}),
        ("gas_test_questions", "test result", {"text": "anything is done"}),
        ("explanation_sentences", "find the mistake", {"text": "Anything is right."}),
        ("terms", "definition", {"term": "anything", "meaning": "any thing"}),
        ("choice_questions", "plating", {"text": "What plates anything?"}),
        ("product_uses", "use of a product", {"use": "anything"}),
        ("plating_faults", "plating gone wrong", {"seen": "anything is seen"}),
        ("extended_answers", "longer answer", {"text": "Explain anything."}),
        ("investigation_variables", "which variable", {"text": "anything"}),
    ],
)
def test_a_row_of_words_is_asked_about_from_its_edition_on(monkeypatch, table, maker, cells):
    with_cells(monkeypatch, table, since=str(EDITION + 1), **cells)
    for edition, known in ((EDITION, False), (EDITION + 1, True)):
        assert ("nything" in texts_drawn(maker, edition)) == known, edition


def test_every_definition_has_points_and_every_point_of_the_table_is_asked_for():
    for row in reading.rows("definitions"):
        assert mark_points(row["points"], EDITION)
    question = {
        point.statement
        for name in ("define", "gas test", "why alkaline", "why acid")
        for seed in range(60)
        for point in MAKERS[name](RandomSource(seed)).points
    }
    assert question == {say(row["text"]) for row in reading.rows("mark_points")}


def test_a_name_that_is_not_known_is_refused_with_the_names_that_are(monkeypatch):
    with_cells(monkeypatch, "calculation_melts", place="kitchen")
    told = r"line 99, place: 'kitchen' is none of works, laboratory, school$"
    with pytest.raises(data.BadRowError, match=told):
        electrode_pairs.melts(EDITION)


def test_a_cell_too_many_is_refused_with_its_file_and_its_line(tmp_path, monkeypatch):
    (tmp_path / "ends.csv").write_text("text,since\nAt the end.,1\nWell, then.,1\n")
    monkeypatch.setattr(data.lines.resources, "files", {"fizzplate.questions.tables": tmp_path}.get)
    told = r"^questions/tables/ends\.csv, line 3: 3 cells under 2 headings$"
    with pytest.raises(data.BadRowError, match=told):
        data.read_lines("fizzplate.questions.tables", "ends")


def test_the_mark_for_bubbles_is_changed_in_one_row(monkeypatch):
    row = next(row for row in data.rows("observation_points") if row["point"] == "bubbles")
    read = data.tables.rows
    added = {"observation_points": (replace(row, text="froths"),)}
    monkeypatch.setattr(data, "rows", lambda name: added.get(name) or read(name))
    for gas in ("H2", "O2", "Cl2"):
        assert observation_words(gas)[0].words[0] == "froths"
    question = MAKERS["carbon or copper"](RandomSource(1))
    assert "froths" in question.points[0].words
    assert "bubble" not in question.points[0].words


def test_another_name_for_a_point_of_an_observation_changes_none_of_its_words(monkeypatch):
    rows = data.rows("observation_points")
    products = {each for row in rows for each in row["product"].split()}
    before = {each: observation_words(each) for each in products}
    assert any("corrode" in point.words for point in before["Ag+"])
    renamed = tuple(replace(row, key={**row.key, "point": "POINT"}) for row in rows)
    read = data.tables.rows
    added = {"observation_points": renamed}
    monkeypatch.setattr(data, "rows", lambda name: added.get(name) or read(name))
    for each in products:
        expected = tuple(replace(point, statement="POINT") for point in before[each])
        assert observation_words(each) == expected
    question = MAKERS["carbon or copper"](RandomSource(1))
    assert "bubble" in question.points[0].words


def test_what_oxygen_comes_from_is_decided_in_one_place(monkeypatch, request):
    """The rule, a run's equation, the order of discharge and the questions all ask the wording."""
    rule_of.cache_clear()  # of other tests, and afterwards of this one
    request.addfinalizer(rule_of.cache_clear)
    monkeypatch.setattr(Wording, "source_of", lambda _, product: {"O2": "H2O"}.get(product, "H+"))
    rule = rule_of("Na2SO4", Wording())
    assert rule.anode.half_equation.pretty() == "2H₂O → O₂ + 4H⁺ + 4e⁻"
    assert equation_of("O2", "anode", "graphite").pretty() == "2H₂O → O₂ + 4H⁺ + 4e⁻"
    places = [place.name for step in explanation(Cell("Na2SO4")) for place in step.order]
    assert "H₂O" in places
    assert "OH⁻" not in places
    assert why_product("Na2SO4", "anode", rule, Wording()).endswith("so oxygen forms, from water.")
    assert MAKERS["why acid"](RandomSource(1)).answer.startswith("Water is oxidised")
