"""Pasted tables of a class: read however they are separated, and marked where they are wrong."""

from __future__ import annotations

import re

import numpy as np
import pytest

from fizzplate.lesson.measure.class_entries import invented_rows, read_groups
from fizzplate.lesson.measure.class_table import (
    MAX_FILE_BYTES,
    read_table,
    read_value,
    safe_cell,
    write_csv,
)
from fizzplate.words.refusals import InputError


@pytest.mark.parametrize(
    "text",
    [
        "group\tcurrent\n1\t0.25\n",
        "group;current\n1;0,25\n",
        'group,current\n1,"0.25"\n',
        "\ufeffgroup,current\r\n1,0.25\r\n\r\n",
    ],
)
def test_tables_are_read_however_they_are_separated(text):
    head, row = read_table(text)
    assert head == ["group", "current"]
    assert read_value("current", row[1]) == 0.25


@pytest.mark.parametrize("text", ["", "\n\n", "\ufeff", "a\0b"])
def test_what_is_no_table_is_refused(text):
    with pytest.raises(InputError, match="file"):
        read_table(text)


def test_a_file_that_is_too_large_is_refused_by_its_size():
    with pytest.raises(InputError, match=str(MAX_FILE_BYTES)):
        read_table("1,2\n" * 2_000_000)


@pytest.mark.parametrize("text", ["strong", "1.2.3", "nan", "=1+1", "1e", "--1"])
def test_text_in_a_number_column_is_refused(text):
    with pytest.raises(InputError):
        read_value("current", text)


def test_formula_like_cells_are_written_back_safely():
    assert safe_cell("=HYPERLINK(1)") == "'=HYPERLINK(1)"
    assert safe_cell("+cmd") == "'+cmd"
    assert safe_cell("@x") == "'@x"
    assert safe_cell("-1.5") == "-1.5"
    assert "'=cmd" in write_csv([["=cmd"]])


def test_a_wrong_cell_is_marked_and_only_it_is_left_out():
    rows = invented_rows()
    rows[2]["current"] = "a lot"
    groups = read_groups(rows, {})
    wrong = [mark for mark in groups.marks if mark.kind == "wrong"]
    assert [(mark.row, mark.key) for mark in wrong] == [(2, "current")]
    assert "'a lot'" in wrong[0].sentence
    assert np.isnan(groups.charge_C[2])
    assert np.isfinite(groups.charge_C[[0, 1, 3]]).all()


@pytest.mark.parametrize(
    ("key", "text"),
    [("minutes", "-3"), ("current", "50"), ("temperature", "300"), ("cathode_before", "-1")],
)
def test_values_out_of_range_are_marked(key, text):
    groups = read_groups([{"group": "A", key: text}], {})
    assert [(mark.key, mark.kind) for mark in groups.marks] == [(key, "wrong")]


def test_lighter_than_before_is_asked_about_and_kept():
    row = {"cathode_before": "8.2", "cathode_after": "8.1", "current": "0.2", "minutes": "5"}
    groups = read_groups([row], {})
    assert [(mark.key, mark.kind) for mark in groups.marks] == [("cathode_after", "asked")]
    assert groups.gained_g[0] == pytest.approx(-0.1)


def test_units_can_be_chosen():
    row = {"current": "200", "minutes": "20", "cathode_before": "8000", "cathode_after": "8079"}
    groups = read_groups([row], {"current": "mA", "cathode_before": "mg", "cathode_after": "mg"})
    assert groups.charge_C[0] == pytest.approx(240)
    assert groups.gained_g[0] == pytest.approx(0.079)


@pytest.mark.parametrize(
    ("key", "text", "units", "sentence"),
    [
        ("minutes", "-20", {}, r"Minutes: -20 cannot be used\. .* from 0 to 600 min"),
        ("minutes", "700", {}, "to 600 min"),
        ("current", "30000", {"current": "mA"}, r"30000 cannot be used\. Use .* to 20000 mA"),
    ],
)  # fmt: skip
def test_refusals_speak_in_the_unit_that_was_typed(key, text, units, sentence):
    (mark,) = read_groups([{key: text}], units).marks
    assert re.search(sentence, mark.sentence)


@pytest.mark.parametrize(
    "key", ["cathode_before", "anode_after", "current", "minutes", "gas_cathode", "gas_anode"]
)
def test_nothing_at_all_may_be_measured_and_less_may_not(key):
    assert read_groups([{key: "0"}], {}).marks == ()
    (mark,) = read_groups([{key: "-0.01"}], {}).marks
    assert "a number from 0 to" in mark.sentence
