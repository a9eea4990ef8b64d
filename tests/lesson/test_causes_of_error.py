"""Causes of error: which of them a class's own data allow, and how big each must be."""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType

import pytest

from fizzplate import data
from fizzplate.lesson.measure.causes_of_error import (
    judge_causes,
    possible_causes,
    resolution_sentence,
)
from fizzplate.lesson.measure.class_entries import invented_rows, read_groups
from fizzplate.lesson.measure.fitting import through_origin
from fizzplate.lesson.measure.theory_comparison import compare_with_theory, quantities


@pytest.mark.parametrize(
    ("off", "possible"),
    [
        ({"gain": (-1.0, 2.0), "loss": (12.0, 2.0)}, {"grains shed"}),
        ({"gain": (-15.0, 2.0), "loss": (0.0, 2.0)}, {"flakes lost", "hydrogen with the metal"}),
        ({"gain": (-8.0, 2.0), "loss": (-8.0, 2.0)}, {"current below what was noted"}),
        (
            {"gas": (-15.0, 2.0)},
            {
                "gas dissolved",
                "carbon burning",
                "gas lost outside the tube",
                "current below what was noted",
            },
        ),
        ({"gain": (0.5, 2.0), "loss": (-0.5, 2.0)}, set()),
    ],
)
def test_the_class_s_own_data_say_which_causes_they_allow(off, possible):
    found = judge_causes(off)
    allowed = {each.cause.name for each in found if each.allowed}
    assert possible <= allowed
    if not possible:
        assert allowed == set()
    assert all(each.sentence.endswith(".") for each in found)


def test_hydrogen_and_oxygen_are_judged_apart_and_carbon_burns_only_in_oxygen():
    off = {"hydrogen": (0.5, 1.0), "oxygen": (-20.0, 1.0)}
    found = {each.cause.name: each for each in judge_causes(off)}
    assert found["carbon burning"].allowed
    assert found["gas dissolved"].allowed
    assert "oxygen" in found["gas dissolved"].sentence
    assert not found["current below what was noted"].allowed
    assert "twice its uncertainty" in found["current below what was noted"].sentence
    assert "carbon burning" not in {
        each.cause.name for each in judge_causes({"hydrogen": (-20.0, 1.0)})
    }


def test_another_cause_s_effect_rules_nothing_out():
    off = {"gain": (8.0, 1.0), "loss": (12.0, 1.0)}
    found = {each.cause.name: each for each in judge_causes(off)}
    assert found["liquid trapped"].sentence.startswith(
        "Not alone: the loss is off by +12\N{NO-BREAK SPACE}%, in the opposite direction"
    )
    assert not any(each.sentence.startswith("No:") for each in found.values())


def test_the_size_of_a_cause_decides_whether_it_is_big_enough():
    off = {"loss": (12.0, 1.0)}
    grains = next(each for each in possible_causes() if each.name == "grains shed")
    allowed = {}
    for milligrams in (2.0, 14.0):
        effects = {grains.name: grains.effects(milligrams, {"loss": 0.8})}
        allowed[milligrams] = next(
            each for each in judge_causes(off, effects) if each.cause is grains
        )
    assert not allowed[2.0].allowed
    assert "a cause of this size makes +1.6\N{NO-BREAK SPACE}%" in allowed[2.0].sentence
    assert allowed[14.0].allowed


def test_what_a_milligram_does_to_a_slope_is_what_it_does():
    groups = read_groups(invented_rows(), {})
    quantity = quantities("Cu")["anode loss"]
    found = compare_with_theory(groups, quantity, "anode loss", resolution=0.001)
    more = through_origin(found.charge_C, found.measured + 0.005).slope
    expected = through_origin(found.charge_C, found.theory).slope
    assert 100 * (more - found.origin.slope) / expected == pytest.approx(
        0.005 * found.percent_per_unit
    )


def test_the_resolution_stands_beside_the_causes():
    sentence = resolution_sentence({"gain": (-1.0, 0.8), "loss": (12.0, 0.8)})
    assert (
        "The gain is off by −1\N{NO-BREAK SPACE}%. "
        "The resolution of the instrument can explain up to 1.6\N{NO-BREAK SPACE}%." in sentence
    )
    assert "can explain only 1.6\N{NO-BREAK SPACE}%" in sentence


def test_a_cause_whose_cell_is_bad_is_refused_with_its_line_and_its_column(monkeypatch):
    rows = data.rows("causes_of_error")
    key = {**rows[1].key, "gain": "heavier"}
    bad = replace(rows[1], key=MappingProxyType(key))
    monkeypatch.setattr(data, "rows", {"causes_of_error": (rows[0], bad)}.get)
    told = r"^data/causes_of_error\.csv, line 3, gain: 'heavier' is none of nothing, high, low$"
    with pytest.raises(data.BadRowError, match=told):
        possible_causes.__wrapped__()
