"""The runs that questions read charts from are those of the engine."""

from __future__ import annotations

import csv

import pytest
from tests.printed import printed_by

from fizzplate import data
from fizzplate.lesson import read_cell
from fizzplate.questions.makers.charts.stored_runs import FIGURES, MIN_VALUE, RECIPES, stored_run

RELATIVE = 2e-4  # five figures, and what processors differ by


def _misses(stored, fresh):
    """Where two lines differ: relatively, or by more than nothing where one is nothing."""
    highest = max(map(abs, fresh))
    return [
        (one, other)
        for one, other in zip(stored, fresh, strict=True)
        if abs(one - other) > RELATIVE * abs(other) + 1e-4 * highest
    ]


@pytest.mark.parametrize("name", list(RECIPES))
def test_a_stored_run_is_what_the_engine_gives(name):
    stored, recipe = stored_run(name), RECIPES[name]
    assert stored.cell == recipe.cell
    assert stored.minutes == recipe.minutes
    fresh = recipe.work_out()
    assert list(stored.quantities) == list(fresh)
    for quantity, values in fresh.items():
        assert _misses(stored.quantity(quantity), values) == [], quantity
        wrong = [1.002 * value for value in values]
        assert _misses(stored.quantity(quantity), wrong), quantity


def test_every_stored_run_is_a_cell_and_is_asked_about():
    names = {row["run"] for row in data.rows("question_runs")}
    assert names == set(RECIPES)
    for name in names:
        assert read_cell(stored_run(name).cell)[1] == []
        assert 13 <= len(stored_run(name).minutes) <= 25


def test_values_are_rounded_to_what_every_processor_gives():
    for row in data.rows("question_runs"):
        assert float(f"{row.value:.{FIGURES}g}") == row.value
        assert row.value == 0 or abs(row.value) >= MIN_VALUE
        assert row.unit == row["quantity"].rsplit(", ", 1)[1]


def test_the_table_is_written_anew_as_it_stands(tmp_path):
    table = tmp_path / "runs.csv"
    name = next(iter(RECIPES))
    script = "questions/store_question_runs.py"
    assert name in printed_by(script, "--to", str(table), "--only", name)
    with table.open(encoding="utf-8", newline="") as file:
        written = list(csv.DictReader(file))
    stored = [row for row in data.rows("question_runs") if row["run"] == name]
    assert [(row["quantity"], row["minutes"]) for row in written] == [
        (row["quantity"], row["minutes"]) for row in stored
    ]
    values = [float(row["value"]) for row in written]
    assert _misses([row.value for row in stored], values) == []


def test_an_unknown_run_is_refused():
    with pytest.raises(KeyError):
        stored_run("nowhere")
