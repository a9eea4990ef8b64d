"""What questions draw from stands in tables: a row adds to them, and a bad cell is named."""

from __future__ import annotations

from types import MappingProxyType

import pytest

from fizzplate import data
from fizzplate.questions.calculations import contexts, electrode_pairs, targets
from fizzplate.questions.dice import EDITION
from fizzplate.questions.tables import reading

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
