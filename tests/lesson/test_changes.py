"""What is changed while a cell runs, as a part of its set-up: checked, written in links, made into stages."""

import pytest

from fizzplate.cell import Stage
from fizzplate.lesson import CellSetup, from_query, read_cell, write_cell
from fizzplate.lesson.state import MAX_CHANGES, Change, placed, require_difference, texts
from fizzplate.lesson.state.changes import read_change, stages_of, whole_minutes, write_change
from fizzplate.words import InputError

EACH = (
    Change(60, "swap"),
    Change(75, "switch"),
    Change(90, "V", 9.0),
    Change(120, "water", 10.0),
    Change(150, "add", 1.5, "AgNO3", 0.05),
    Change(180, "indicator", substance="litmus"),
)


@pytest.mark.parametrize("change", [*EACH, Change(30, "A", 0.05)])
def test_each_kind_is_written_and_read(change):
    assert read_change(write_change(change)) == change


def test_a_link_brings_back_what_is_changed_and_one_without_changes_is_as_before():
    setup = CellSetup("NaCl", 0.1, changes=EACH)
    assert read_cell(write_cell(setup)) == (setup, [])
    assert write_cell(setup.unchanged) == "NaCl,c=0.1"
    assert write_cell(setup).startswith("NaCl,c=0.1,at=60:swap,at=75:switch,at=90:V:9,")


@pytest.mark.parametrize(
    ("text", "part"),
    [
        ("at=soon:swap", "Use a number"),
        ("at=60:explode", "cannot be used"),
        ("at=60:V", "as a copied link writes it"),
        ("at=60:V:99", "at most 30 V"),
        ("at=60:water:50", "at most 40 cm3 more"),
        ("at=60:add:5:HCl:0.1", "chlorine"),  # chlorine has made bleach: acid sets it free again
        ("at=60:add:1:KMnO4:0.1", "permanganate"),
        ("at=60:add:1:AgNO3:50", "no stronger silver nitrate solution"),
        ("at=60:indicator:ink", "cannot be used"),
    ],
)
def test_what_cannot_be_changed_is_left_out_with_a_sentence(text, part):
    state, said = from_query(f"cells=NaCl,{text}")
    assert state.cells[0].changes == ()
    assert part in " ".join(said)


def test_a_run_of_an_hour_does_not_go_on_at_its_end():
    hour = CellSetup("NaCl", minutes=60)
    with pytest.raises(InputError, match="at most 60 minutes in all"):
        CellSetup("NaCl", minutes=60, changes=(Change(3600, "swap"),)).cell()
    assert hour.whole_minutes == 60


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (Change(20, "V", 6.0), "supply_V: 6.0 cannot be used: it is 6 V already"),
        (Change(80, "V", 9.0), "it is 9 V already"),
        (Change(90, "indicator", substance="litmus"), "it is in the cell already"),
        (Change(60, "swap"), "the wires are swapped at 1:00 already"),
        (Change(60, "switch"), ""),
        (Change(20, "V", 9.0), ""),
        (Change(80, "V", 6.0), ""),
        (Change(50, "indicator", substance="litmus"), ""),
        (Change(61, "swap"), ""),
    ],
)
def test_a_change_that_changes_nothing_is_refused(change, said):
    before = [
        Change(30, "V", 9.0),
        Change(60, "swap"),
        Change(70, "indicator", substance="litmus"),
    ]
    if not said:
        require_difference(change, before, 6.0)
        return
    with pytest.raises(InputError, match=said):
        require_difference(change, before, 6.0)


def test_so_many_changes_are_made_and_no_more():
    changes = tuple(Change(10 * (k + 1), "swap") for k in range(MAX_CHANGES + 1))
    CellSetup("NaCl", changes=changes[:-1]).cell()
    with pytest.raises(InputError, match=f"at most {MAX_CHANGES} changes"):
        CellSetup("NaCl", changes=changes).cell()


def test_what_is_poured_in_is_named_in_its_refusal():
    with pytest.raises(InputError) as refused:
        CellSetup("NaCl", changes=(Change(60, "add", 50.0, "AgNO3", 0.1),)).cell()
    assert refused.value.given == "50 cm³ of silver nitrate"


def test_changes_become_stages_that_last_as_long_as_the_run():
    stages = stages_of(EACH, 5)
    assert [round(stage.minutes, 2) for stage in stages] == [1.0, 0.25, 0.25, 0.5, 0.5, 2.5]
    assert [stage.swapped for stage in stages] == [False, *[True] * 5]
    assert [stage.off for stage in stages] == [False, False, *[True] * 4]
    assert [stage.supply_V for stage in stages] == [None, None, None, 9.0, None, None]
    assert stages[4] == Stage(0.5, swapped=True, off=True, water_cm3=10.0)
    assert dict(stages[5].add or {}) == {"AgNO3": (1.5, 0.05)}


def test_what_is_changed_at_one_time_is_one_stage():
    at_once = (
        Change(60, "swap"),
        Change(60, "add", 1.0, "AgNO3", 0.1),
        Change(60, "add", 3.0, "AgNO3", 0.02),
        Change(60, "swap"),
    )
    _, stage = stages_of(at_once, 5)
    assert not stage.swapped
    assert dict(stage.add or {}) == {"AgNO3": pytest.approx((4.0, 0.04))}
    assert texts(at_once[:2]) == [(60, "wires swapped, 1\xa0cm³ of AgNO₃, 0.1\xa0mol/dm³")]


def test_a_change_that_comes_with_another_has_its_time_and_none_comes_at_once():
    assert placed(Change(131, "swap"), [Change(128, "V", 9)], 5).at_s == 128
    assert placed(Change(125.4, "swap"), [Change(128, "V", 9)], 5).at_s == 128
    assert placed(Change(150.4, "swap"), [Change(128, "V", 9)], 5).at_s == 150
    assert placed(Change(0, "swap"), [], 5).at_s == 7.5


@pytest.mark.parametrize(("at_s", "minutes"), [(100, 5), (291, 5), (293, 10), (300, 10), (600, 15)])
def test_a_run_that_is_changed_at_its_end_goes_on_for_as_long_again(at_s, minutes):
    assert whole_minutes([Change(at_s, "swap")], 5) == minutes
    lasts = sum(stage.minutes for stage in stages_of([Change(at_s, "swap")], 5))
    assert lasts == pytest.approx(minutes)


def test_a_longer_run_has_its_samples_as_close_together():
    setup = CellSetup("NaCl", minutes=0.5, changes=(Change(30, "swap"),))
    run = setup.run(13)
    assert run.time_s[1] == pytest.approx(2.5)
    assert run.time_s[-1] == pytest.approx(60)
    assert run.of_stage(1).cell.cathode == "graphite"
