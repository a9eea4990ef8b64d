"""A run that is changed at the bench: made, refused, taken back; what the class wrote and saw stays."""

import re
from importlib.resources import files

import numpy as np
import pytest

from fizzplate.lesson import CellSetup, Wording
from fizzplate.lesson.state import Change
from fizzplate.share.takeaway.packing import Block
from fizzplate.share.takeaway.snapshots import snapshots
from fizzplate.views.bench import About, bench_state, stages
from fizzplate.views.bench import widget as benches
from fizzplate.views.bench.stages import lesson_in_stages
from fizzplate.views.controls import run_controller as run_controllers
from fizzplate.views.controls.board_settings import BoardSettings
from fizzplate.views.controls.prefetch import Prefetch
from fizzplate.views.controls.run_controller import RunController

SAMPLES = 31


@pytest.fixture
def controller(monkeypatch):
    monkeypatch.setattr(run_controllers, "SAMPLES", SAMPLES)
    monkeypatch.setattr(benches, "charts", lambda _run, _wording: ())  # they take longest
    monkeypatch.setattr(Prefetch, "begin", lambda *_: None)
    made = RunController(
        CellSetup("CuSO4", minutes=1), BoardSettings(lambda: None), lambda: None, may_change=True
    )
    made.rest()
    made.switch()
    return made


def ask(controller, what="change", **fields):
    controller.bench.request = {"what": what, "count": 1, **fields}
    return controller.bench.change_reply


def header_array(bench, name, index=None):
    place = (index or bench.header["index"])[name]
    floats = np.frombuffer(bench.array_bytes, dtype="<f4")
    return floats[place["offset"] : place["offset"] + place["length"]]


def test_a_change_is_a_stage_of_the_same_run_with_the_same_key_row_and_words_until_then(controller):
    before = controller.bench.lesson
    seen = header_array(controller.bench, "0:layer_g")
    reply = ask(controller, kind="swap", atS=31.2)
    lesson, setup = controller.bench.lesson, controller.setup_bar.setup
    assert "refused" not in reply
    assert setup.changes == (Change(31, "swap"),)
    assert lesson["key"] == before["key"]
    assert lesson["classroom"]["row"] == before["classroom"]["row"]
    assert lesson["classroom"]["steps"] == before["classroom"]["steps"]
    assert lesson["again"]
    assert lesson["marks"] == [{"atS": 31, "text": "wires swapped"}]
    (stage,) = lesson["stages"]
    assert (stage["fromS"], stage["firstS"], stage["swapped"]) == (31, 32, True)
    now = header_array(controller.bench, "0:layer_g")
    assert np.array_equal(now[:16], seen[:16])  # to the last figure
    assert now[-1] < seen[-1]
    # the scales of the picture are those of the run without the change
    unchanged = controller.bench.header["unchanged"]
    kept = header_array(controller.bench, "0:layer_g", unchanged["index"])
    assert np.array_equal(kept, seen)
    assert "changed at 0:31" in controller.setup_bar.line


def test_what_is_said_of_a_stage_is_said_of_the_electrode_that_has_the_role_then(controller):
    ask(controller, kind="swap", atS=30)
    cathode, anode = controller.bench.lesson["stages"][0]["electrodes"]
    assert (cathode["title"], anode["title"]) == ("Cathode", "Anode")
    assert cathode["product"] == "copper"
    assert anode["product"] == "copper dissolves"
    assert anode["main"] == "Cu2+"
    assert "deposited there before the wires were swapped" in " ".join(anode["difference"])
    times = [at for at, _ in controller.bench.lesson["seen"]]
    assert times == sorted(times)
    assert any("becomes thinner" in text for at, text in controller.bench.lesson["seen"] if at > 30)


@pytest.mark.parametrize(
    ("fields", "field", "part"),
    [
        ({"kind": "water", "amount": "500"}, "water_cm3", "at most 40"),
        ({"kind": "water", "amount": "much"}, "water_cm3", "Use a number"),
        ({"kind": "V", "amount": "99"}, "supply_V", "at most 30"),
        ({"kind": "V", "amount": "6"}, "supply_V", "6 cannot be used: it is 6\xa0V already"),
        ({"kind": "add", "amount": "1", "substance": "AgNO3", "strength": "9"}, "add", "stronger"),
        ({"kind": "add", "amount": "1", "substance": "NH4Cl", "strength": "1"}, "added", "explode"),
        ({"kind": "add", "amount": "1", "substance": "BaCl2", "strength": ""}, "added_mol_dm3", ""),
        ({"kind": "magic"}, "change", "cannot be used"),
    ],
)
def test_what_is_refused_leaves_the_picture_and_says_why_at_its_field(
    controller, fields, field, part
):
    shown = controller.bench.show_count
    reply = ask(controller, atS=30, **fields)
    assert reply["field"] == field
    assert part in reply["refused"]
    assert controller.bench.show_count == shown
    assert not controller.bench.busy
    assert controller.setup_bar.setup.changes == ()
    # the same again is a new answer, which the page hears
    assert ask(controller, atS=30, **fields)["number"] == reply["number"] + 1


def test_the_last_change_is_taken_back_and_the_run_is_as_it_was(controller):
    before = controller.bench.array_bytes
    ask(controller, kind="V", amount="9,5", atS=20)
    ask(controller, kind="swap", atS=40)
    assert [each.kind for each in controller.setup_bar.setup.changes] == ["V", "swap"]
    ask(controller, "take back")
    assert [each.amount for each in controller.setup_bar.setup.changes] == [9.5]
    ask(controller, "take back")
    assert controller.setup_bar.setup.changes == ()
    assert controller.bench.array_bytes == before
    assert "stages" not in controller.bench.lesson
    ask(controller, "take back")  # nothing is left
    assert controller.setup_bar.setup.changes == ()


def test_another_setting_of_the_cell_forgets_what_was_changed_and_a_reload_does_not(controller):
    ask(controller, kind="swap", atS=30)
    setup = controller.setup_bar.setup
    controller.set_cell(setup, on=True)
    assert controller.bench.lesson["stages"]
    controller.setup_bar._controls["concentration_mol_dm3"].value = "0.2"
    assert controller.setup_bar.setup.changes == ()


def test_runs_with_changes_leave_room_for_those_of_other_cells(controller):
    for k in range(8):
        ask(controller, kind="swap", atS=10 + 5 * k)
    assert len(controller.runs) == 2


def test_a_page_that_does_not_offer_changes_makes_none(controller):
    controller._may_change = False
    ask(controller, kind="swap", atS=30)
    assert controller.setup_bar.setup.changes == ()


def test_a_caution_that_becomes_due_is_given_and_an_indicator_is_no_stage():
    changes = (
        Change(20, "add", 2.0, "AgNO3", 0.1),
        Change(30, "indicator", substance="litmus"),
        Change(40, "water", 10),
    )
    setup = CellSetup("NaCl", minutes=1, changes=changes)
    run, unchanged = setup.run(SAMPLES), setup.unchanged.run(SAMPLES)
    state = bench_state(run, About(changes=changes, unchanged=unchanged, may_change=True))
    first, second = state["lesson"]["stages"]
    assert any("Silver salts" in text for text in first["addedCautions"])
    assert second["addedCautions"] == []
    assert state["lesson"]["indicatorsAdded"] == [[30, "litmus"]]
    assert [each["atS"] for each in state["lesson"]["marks"]] == [20, 30, 40]
    assert {"Ag+", "NO3-"} <= set(state["header"]["poured"])
    assert any(
        "cloud" in text.lower() or "white" in text
        for at, text in state["lesson"]["seen"]
        if at > 20
    )
    assert state["lesson"]["change"]["lastS"] == 40


@pytest.mark.parametrize(
    "cell",
    [
        {"solution": "CuSO4", "anode": "copper", "cathode": "copper"},
        {"solution": "KI"},
        {"solution": "AgNO3", "anode": "silver"},
        {"solution": "Na2SO4", "vessel": "U-tube"},
        {"solution": "ZnSO4", "anode": "zinc"},
        {"solution": "H2SO4", "cathode": "platinum"},
        {"solution": "Na2SO4", "vessel": "paper strip", "crystal": "KMnO4"},
        {"solution": "H2O"},
        {"solution": "Pb(NO3)2"},
    ],
)
def test_there_are_words_for_every_stage(cell):
    """Swapped, off and on again, at another voltage."""
    changes = (Change(10, "swap"), Change(24, "switch"), Change(36, "switch"), Change(48, "V", 3.0))
    setup = CellSetup(minutes=1, changes=changes, **cell)
    run, unchanged = setup.run(SAMPLES), setup.unchanged.run(SAMPLES)
    lesson = lesson_in_stages(run, unchanged, changes, Wording())
    assert [stage["text"] for stage in lesson["stages"]] == [
        *("wires swapped", "switch opened", "switch closed", "supply 3\xa0V")
    ]
    for stage in lesson["stages"]:
        assert len(stage["classroom"]["ask"]) == len(stage["electrodes"]) == 2
    still = lesson["stages"][1]
    assert [card["waiting"][:10] for card in still["electrodes"]] == ["The switch"] * 2


def test_a_page_to_take_away_holds_the_run_with_its_changes_and_no_array_that_it_lacks():
    setup = CellSetup("NaCl", minutes=1, changes=(Change(20, "swap"),))
    (made,) = snapshots([setup], Wording(), asking=False)
    assert [stage["text"] for stage in made.on["lesson"]["stages"]] == ["wires swapped"]
    packed = Block().record(made.on["header"], made.on["array_bytes"])
    assert "unchanged" not in packed["header"]
    assert "swapped" in packed["scales"]


def test_bubbles_are_spoken_of_as_long_as_the_picture_shows_them():
    motion = files("fizzplate.views.scene") / "motion"
    clock = (motion / "clock.js").read_text(encoding="utf-8")
    bubbles = (motion / "bubbles.js").read_text(encoding="utf-8")
    speeds = re.search(r"SPEEDS = \[([^]]+)\]", clock)[1]
    assert tuple(map(int, speeds.split(","))) == stages.PACES
    assert float(re.search(r"SHOW_S = (\d+)", clock)[1]) == stages.SHOW_S
    growth_s = float(re.search(r"GROWTH_S = ([\d.]+)", bubbles)[1])
    rise_share_s = float(re.search(r"RISE_SHARE_S = ([\d.]+)", bubbles)[1])
    assert abs(growth_s + 1 / rise_share_s - stages.BUBBLES_STAY_S) < 0.2
