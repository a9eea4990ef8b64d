"""A cell at work: what is old is marked, what was run comes back, and the next class finds nothing."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import pytest

from fizzplate.cell.solver.batch import ConvergenceError
from fizzplate.lesson import CellSetup, Wording
from fizzplate.views.bench import widget as benches
from fizzplate.views.bench.widget import About, bench_state
from fizzplate.views.controls import run_controller as run_controllers
from fizzplate.views.controls.board_settings import BoardSettings
from fizzplate.views.controls.prefetch import Prefetch
from fizzplate.views.controls.run_controller import RunController

SHORT = CellSetup("Na2SO4", minutes=0.2)


@pytest.fixture
def run_controller(monkeypatch):
    monkeypatch.setattr(run_controllers, "SAMPLES", 3)
    monkeypatch.setattr(benches, "charts", lambda _run, _wording: ())  # they take longest
    monkeypatch.setattr(Prefetch, "begin", lambda *_: None)
    made = RunController(SHORT, BoardSettings(lambda: None), lambda: None)
    made.rest()
    return made


def test_what_is_shown_is_marked_as_old_while_another_cell_or_run_is_worked_out(run_controller):
    marked = []
    run_controller.bench.observe(lambda change: marked.append(change["new"]), names="busy")
    run_controller.set_cell(CellSetup("NaCl"))
    assert marked == [True, False]
    run_controller.set_cell(SHORT)
    run_controller.switch()
    assert marked == [True, False] * 3


def test_the_last_runs_come_back_as_they_were_left_and_older_ones_are_run_again(
    run_controller, monkeypatch
):
    monkeypatch.setattr(run_controllers, "MAX_RUNS", 2)
    run = {}
    for minutes in (0.2, 0.3, 0.4):
        setup = CellSetup("Na2SO4", minutes=minutes)
        run_controller.set_cell(setup)
        run_controller.switch()
        run[setup] = run_controller.run
    oldest, *last = run
    for setup in last:
        run_controller.set_cell(setup)
        assert run_controller.run is run[setup]
    run_controller.set_cell(oldest)
    assert not run_controller.is_on


def test_how_sure_a_run_is_comes_after_it_and_goes_with_it(run_controller):
    """Without an event loop at once; the picture is shown first."""
    order = []
    run_controller.bench.observe(lambda change: order.append(change["name"]), names="show_count")
    run_controller.bench.observe(lambda change: order.append(change["new"]), names="certainty")
    run_controller.set_cell(
        CellSetup("NaCl", concentration_mol_dm3=0.01, current_A=0.03, lamp="none", minutes=1.0)
    )
    # a browser's driver may have left an event loop in this thread
    with ThreadPoolExecutor(1) as thread:
        thread.submit(run_controller.switch).result()
    shown_at_rest, shown, (cathode, anode) = order
    assert shown_at_rest == shown == "show_count"
    assert anode["high"][-1] - anode["low"][-1] > 0.3
    assert len(anode["low"]) == len(run_controller.run.time_s)
    assert any("How sure" in sentence for sentence in anode["sentences"])
    assert cathode["sentences"] == []
    run_controller.rest()
    assert run_controller.bench.certainty == []


def test_where_another_constant_leaves_the_model_no_end_the_run_stands_as_it_is(
    run_controller, monkeypatch
):
    def no_end(*_):
        raise ConvergenceError("no step could be solved")

    monkeypatch.setattr(run_controllers, "certainty_of", no_end)
    run_controller.switch()
    assert run_controller.is_on
    assert run_controller.bench.certainty == []
    assert run_controller.refusal.value == ""


def test_the_next_class_finds_nothing_of_the_last_one(run_controller):
    run_controller.switch()
    assert run_controller.runs
    run_controller.bench.reset = {"isUndo": False, "timeMs": 1}
    assert not run_controller.runs
    assert not run_controller.is_on
    assert not run_controller.bench.lesson["on"]


def test_other_words_on_the_board_leave_the_run_where_it_is(run_controller):
    run_controller.switch()
    run = run_controller.run
    run_controller.reword()
    assert run_controller.run is run
    assert run_controller.bench.lesson["on"]
    assert run_controller.bench.lesson["again"]


@pytest.mark.parametrize(
    "leave",
    [RunController.rest, lambda run_controller: run_controller.set_cell(SHORT)],
    ids=["at rest", "another run"],
)
def test_what_was_said_of_another_cell_is_taken_back(run_controller, monkeypatch, leave):
    def stuck(*_given):
        raise ConvergenceError("no step could be solved")

    run_controller.switch()
    run_controller.set_cell(CellSetup("NaCl"))
    monkeypatch.setattr(Prefetch, "result", stuck)
    run_controller.switch()
    assert "could not calculate" in run_controller.refusal.value
    leave(run_controller)
    assert run_controller.refusal.value == ""


def test_a_class_that_is_asked_is_told_only_after_its_own_run(run_controller):
    assert not run_controller.may_reveal
    run_controller.bench.reveals_products = True  # of a run that is not shown any more
    assert not run_controller.may_reveal
    run_controller.switch()
    assert not run_controller.may_reveal
    run_controller.bench.reveals_products = True
    assert run_controller.may_reveal


def test_a_class_that_is_asked_is_not_told_of_chlorine_by_a_caution_for_long_runs():
    run = SHORT.cell().run(minutes=0.2, samples=3)
    question = About(asking=True, only_calculated=True)
    general = bench_state(run, question)["lesson"]["generalCaution"]
    assert general.startswith("Only calculated, not for the bench. ")
    assert "chlorine" not in general.lower()
    assert bench_state(run, question)["lesson"]["cautions"][0].startswith(
        "Only calculated, not for the bench: making chl"
    )


def test_a_second_cell_rests_runs_and_is_forgotten_with_the_first(run_controller):
    pair = replace(SHORT, beside="NaCl")
    run_controller.set_cell(pair)
    bench = run_controller.bench
    assert bench.second["lesson"]["label"] == "NaCl"
    assert not bench.second["lesson"]["on"]
    assert bench.lesson["label"] == "Na₂SO₄"
    assert bench.lesson["key"] != bench.second["lesson"]["key"]
    run_controller.switch()
    for header, lesson, solution in (
        (bench.header, bench.lesson, "Na2SO4"),
        (bench.second["header"], bench.second["lesson"], "NaCl"),
    ):
        assert (header["solution"], lesson["on"]) == (solution, True)
    run = pair.second.cell().run(minutes=0.2, samples=3)
    assert bench.second["array_bytes"] == bench_state(run, About())["array_bytes"]
    run_controller.set_cell(SHORT)
    assert bench.second == {}
    run_controller.set_cell(pair)  # both come back as they were left
    assert bench.second["lesson"]["again"]
    bench.reset = {"isUndo": False, "timeMs": 1}
    assert not bench.second["lesson"]["on"]
    run_controller.set_cell(pair)
    assert not run_controller.is_on


def test_a_second_cell_is_called_in_the_boards_words(run_controller):
    board = run_controller._board
    run_controller.set_cell(replace(SHORT, beside="copper"))
    run_controller.switch()
    board.show(Wording(electrode_names="negative"), asking=True)
    run_controller.reword()
    titles = [each["title"] for each in run_controller.bench.second["lesson"]["electrodes"]]
    assert titles == ["Negative electrode", "Positive electrode"]


def test_a_change_is_made_in_both_cells_and_their_first_stages_stay(run_controller, monkeypatch):
    monkeypatch.setattr(run_controllers, "SAMPLES", 13)
    bench = run_controller.bench
    pair = replace(SHORT, beside="NaCl")
    run_controller._may_change = True
    run_controller.set_cell(pair)
    run_controller.switch()
    keys = [bench.lesson["key"], bench.second["lesson"]["key"]]
    before = [each["seen"][0] for each in (bench.lesson, bench.second["lesson"])]
    bench.request = {"what": "change", "kind": "swap", "atS": 6, "count": 1}
    assert "refused" not in bench.change_reply
    changed = run_controller.setup_bar.setup
    assert (len(changed.changes), changed.beside) == (1, "NaCl")
    for lesson, key, seen in zip((bench.lesson, bench.second["lesson"]), keys, before, strict=True):
        assert [each["swapped"] for each in lesson["stages"]] == [True]
        assert (lesson["key"], lesson["seen"][0]) == (key, seen)
    assert run_controller._beside[changed].swapped.any()
    bench.request = {"what": "take back", "count": 2}
    assert "stages" not in bench.second["lesson"]
    assert not run_controller.setup_bar.setup.changes
