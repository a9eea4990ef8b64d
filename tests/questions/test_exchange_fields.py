"""Fields that are added to the plain data later go through tables and packages by their names."""

from __future__ import annotations

import json
import sys
from dataclasses import dataclass, replace
from pathlib import Path

import pytest

from fizzplate.questions.content import Part, Point
from fizzplate.questions.exchange.plain_data import build
from fizzplate.questions.exchange.qti import extra_data
from fizzplate.questions.exchange.spreadsheet import numbers_column, points_column
from fizzplate.questions.exchange.spreadsheet.further_fields import further_cells, read_further
from fizzplate.words.refusals import InputError

sys.path.insert(0, str(Path(__file__).parent))
from exchange_samples import NUMBER, TEXT  # beside this file


@dataclass(frozen=True, slots=True)
class WiderPoint(Point):
    whole_words: bool = False
    said_by: str = ""
    in_turn: tuple[str, ...] = ()
    minimum: int = 1
    groups: tuple[tuple[str, ...], ...] = ()


@dataclass(frozen=True, slots=True)
class WiderPart(Part):
    least: float = 0.0
    unit_free: bool = True


POINT = WiderPoint(
    "it | fizzes",
    ("fizz",),
    whole_words=True,
    said_by=" a | b;",
    in_turn=("a; b", " c "),
    minimum=2,
    groups=(("x", "y|"), ("z",)),
)
PART = WiderPart(1.5, "g", ("Weigh.",), least=-0.25, unit_free=False)


@pytest.fixture
def wider(monkeypatch):
    """Let tables and packages know a point and a part with more fields."""
    for module in (points_column, extra_data):
        monkeypatch.setattr(module, "Point", WiderPoint)
    for module in (numbers_column, extra_data):
        monkeypatch.setattr(module, "Part", WiderPart)


def test_further_fields_come_back_from_a_table(wider):
    cells = points_column.write_points((POINT, WiderPoint("b", ())))
    assert points_column.read_points(cells) == (POINT, WiderPoint("b", ()))
    assert "whole words: yes" in cells.splitlines()[0]
    assert "whole words" not in cells.splitlines()[1]  # as usual
    assert numbers_column.read_numbers(numbers_column.write_numbers((PART,))) == (PART,)


def test_further_fields_come_back_from_a_package(wider):
    told = replace(TEXT, points=(POINT,))
    assert extra_data.read_extra_data(extra_data.write_extra_data(told)).points == (POINT,)
    counted = replace(NUMBER, parts=(PART,))
    assert extra_data.read_extra_data(extra_data.write_extra_data(counted)).parts == (PART,)


def test_what_was_stored_before_a_field_was_added_is_read(wider):
    stored = json.loads(extra_data.write_extra_data(TEXT))
    for point in stored["points"]:
        for name in ("whole_words", "said_by", "in_turn", "minimum", "groups"):
            point.pop(name, None)
    assert extra_data.read_extra_data(json.dumps(stored)).points[0] == WiderPoint(
        *(getattr(TEXT.points[0], name) for name in points_column._POINT)
    )


@pytest.mark.parametrize(
    ("cell", "statement"),
    [
        ("whole words", "perhaps"),
        ("minimum", "1.5"),
        ("minimum", "true"),
        ("groups", '["x"]'),
        ("groups", "x"),
    ],
)
def test_further_fields_of_another_kind_are_refused(cell, statement):
    with pytest.raises(InputError, match=f"^points, {cell}: "):
        read_further(WiderPoint, points_column._POINT, "points", {cell: statement})


def test_what_is_needed_must_be_there():
    with pytest.raises(KeyError):
        build(Point, {"statement": "a"})
    with pytest.raises(TypeError):
        build(Point, {"statement": "a", "words": "fizz"})
    assert further_cells(Point("a", ("b",)), points_column._POINT) == []
