"""Cells as people fill them in, groups that are left out, and what may have happened in single groups."""

import numpy as np
import pytest

from fizzplate.lesson.measure import (
    compare_with_theory,
    explain_groups,
    invented_rows,
    quantities,
    read_groups,
    results_csv,
)
from fizzplate.lesson.measure.fitting import off_the_middle

FAR = 7  # group H of the invented class, whose cathode lost flakes


def changed(row=0, **cells):
    """Give the invented class's table with other cells in one row."""
    rows = invented_rows()
    rows[row] = rows[row] | cells
    return rows


def compared(groups):
    """Compare both masses with theory."""
    return {
        name: compare_with_theory(groups, quantities("Cu")[which], which, resolution=0.001)
        for name, which in (("gain", "cathode gain"), ("loss", "anode loss"))
    }


def verdict_on(rows, row):
    """Say what may have happened in one group; nothing if it is not far off."""
    groups = read_groups(rows, {})
    found = {each.row: each for each in explain_groups(groups, compared(groups))}
    return " ".join(found[row].sentences) if row in found else ""


@pytest.mark.parametrize(
    ("key", "unit", "text", "value", "read_as"),
    [
        ("current", "A", "250 mA", 0.25, "0.25 A"),
        ("current", "A", "250mA", 0.25, "0.25 A"),
        ("current", "mA", "0.25 A", 0.25, "250 mA"),
        ("current", "A", "0.25 A", 0.25, ""),
        ("minutes", "min", "20:30", 1230, "20 min 30 s"),
        ("minutes", "min", "1:20:30", 4830, "1 h 20 min 30 s"),
        ("minutes", "min", "20 min 30 s", 1230, "20 min 30 s"),
        ("minutes", "min", "20'30\"", 1230, "20 min 30 s"),
        ("minutes", "min", "20′30″", 1230, "20 min 30 s"),
        ("minutes", "min", "20.30", 1218, "20 min 18 s"),  # a decimal, though it looks like a clock
        ("minutes", "min", "20.5", 1230, ""),
        ("minutes", "min", "90 s", 90, "1.5 min"),
        ("current", "A", "2.5E-01", 0.25, ""),  # as a spreadsheet writes it
        ("current", "A", "250 milliamps", 0.25, "0.25 A"),
        ("seconds", "s", "2 min", 120, "120 s"),
        ("cathode_before", "g", "8214 mg", 8.214, "8.214 g"),
        ("gas_cathode", "cm³", "7,5 ml", 7.5, ""),
        ("pressure", "kPa", "1013 hPa", 101.3, "101.3 kPa"),
        ("temperature", "°C", "21 C", 21, ""),
        ("temperature", "°C", "21°", 21, ""),
    ],
)
def test_a_cell_is_read_as_people_fill_it_in_and_says_how(key, unit, text, value, read_as):
    groups = read_groups([{key: text}], {key: unit})
    assert groups.values[key][0] == pytest.approx(value)
    said = [mark.sentence.replace("\N{NO-BREAK SPACE}", " ") for mark in groups.marks]
    assert said == ([f"read as {read_as}"] if read_as else [])
    assert {mark.kind for mark in groups.marks} <= {"read"}


@pytest.mark.parametrize(
    ("key", "text"),
    [
        ("current", "20 g"),
        ("current", "20:30"),
        ("minutes", "20:75"),
        ("cathode_before", "8.2.1 g"),
        ("current", "strong"),
        ("pressure", "1 atmosphere"),
    ],
)
def test_a_cell_of_another_kind_is_refused_as_it_was_typed(key, text):
    groups = read_groups([{key: text}], {})
    assert [(mark.key, mark.kind) for mark in groups.marks] == [(key, "wrong")]
    assert repr(text) in groups.marks[0].sentence
    assert np.isnan(groups.values[key][0])


def test_commas_are_said_once_for_a_table_of_commas_and_at_the_cell_among_points():
    comma = {"current": "0,25", "minutes": "20"}
    groups = read_groups([comma, {"current": "1,2"}], {})
    assert groups.remark == "Commas are read as decimal points: 0,25 as 0.25."
    assert groups.marks == ()
    mixed = read_groups([comma, {"current": "1.2"}], {})
    assert mixed.remark == ""
    assert [(mark.row, mark.sentence) for mark in mixed.marks] == [(0, "read as 0.25")]


def test_a_group_left_out_changes_no_cell_and_counts_in_no_fit_and_comes_back():
    whole = compared(read_groups(invented_rows(), {}))["gain"]
    groups = read_groups(changed(FAR, left_out="yes"), {})
    found = compared(groups)["gain"]
    assert found.left_out == ("H",)
    assert found.names == whole.names[:-1]
    assert found.everyone.names == whole.names
    assert found.everyone.origin.slope == whole.origin.slope
    without = compared(read_groups(invented_rows()[:-1], {}))["gain"]
    assert found.origin.slope == without.origin.slope != whole.origin.slope
    lines = results_csv(groups, [found]).strip().splitlines()
    assert lines[0].endswith(",left out")
    assert lines[1].endswith(",")
    assert lines[-1].startswith("H,540,0.113,")
    assert lines[-1].endswith(",yes")


def test_leaving_everyone_out_leaves_points_to_take_back_and_no_line():
    rows = [row | {"left_out": "yes"} for row in invented_rows()]
    found = compared(read_groups(rows, {}))["loss"]
    assert (found.names, found.origin) == ((), None)
    assert len(found.everyone.names) == len(rows)


def test_groups_of_one_name_are_kept_apart():
    rows = [row | {"group": "A"} for row in invented_rows()]
    rows[FAR]["left_out"] = "yes"
    groups = read_groups(rows, {})
    found = compared(groups)["gain"]
    assert found.rows == tuple(range(FAR))
    lines = results_csv(groups, [found]).strip().splitlines()
    assert [line.split(",")[2] for line in lines[1:3]] == ["0.078", "0.157"]


def test_a_point_that_pulls_the_line_to_itself_is_found_all_the_same():
    x = np.array([240.0, 480.0, 330.0, 600.0, 3600.0, 720.0])
    y = 3.3e-4 * x
    y[4] /= 10
    assert off_the_middle(x, y + np.array([1, -1, 1, -1, 0, 1]) * 1e-3) == (4,)


@pytest.mark.parametrize(
    ("row", "cells", "words"),
    [
        (
            1,
            {"current": "4.0"},
            "decimal point of its current or time may be one place too far right",
        ),
        (
            1,
            {"current": "0.04"},
            "decimal point of its current or time may be one place too far left",
        ),
        (4, {"minutes": "", "seconds": "20"}, "in minutes, but noted in seconds"),
        (2, {"minutes": "10"}, "0.525 A instead of 0.27 A, or 20.4 min instead of 10.5 min"),
        (3, {"cathode_before": "8.321", "cathode_after": "8.120"}, "in each other's places"),
        (0, {"anode_after": "9.000"}, "Possible alone: grains shed"),
        (FAR, {}, "flakes lost"),
    ],
)
def test_what_may_have_happened_in_a_group_follows_from_all_that_it_measured(row, cells, words):
    said = verdict_on(changed(row, **cells), row).replace("\N{NO-BREAK SPACE}", " ")
    assert words in said


def test_a_group_near_the_line_is_not_explained_and_one_left_out_says_so():
    assert verdict_on(invented_rows(), 1) == ""
    said = verdict_on(changed(1, left_out="yes"), 1)
    assert said == "It lies as near to the line as its own readings allow."


def test_what_did_not_change_speaks_against_a_charge_noted_wrongly():
    said = verdict_on(invented_rows(), FAR)
    assert "Loss" not in said.split(".")[0].split(";")[0]
    assert "loss on the class's line" in said
    assert "instead of" not in said
