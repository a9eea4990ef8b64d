"""A cell at work: what is old is marked, what was run comes back, and the next class finds nothing."""

import pytest

from fizzplate.cell.solver.simulate import StuckError
from fizzplate.lesson import CellSetup
from fizzplate.views.bench import widget as benches
from fizzplate.views.bench.widget import About, told
from fizzplate.views.controls import run_controller as stations
from fizzplate.views.controls.board_settings import Board
from fizzplate.views.controls.prefetch import Ahead
from fizzplate.views.controls.run_controller import Station

SHORT = CellSetup("Na2SO4", minutes=0.2)


@pytest.fixture
def station(monkeypatch):
    monkeypatch.setattr(stations, "SAMPLES", 3)
    monkeypatch.setattr(benches, "charts", lambda _run: ())  # they take longest
    monkeypatch.setattr(Ahead, "begin", lambda *_: None)
    made = Station(SHORT, Board(lambda: None), lambda: None)
    made.rest()
    return made


def test_what_is_shown_is_marked_as_old_while_another_cell_or_run_is_worked_out(station):
    marked = []
    station.bench.observe(lambda change: marked.append(change["new"]), names="busy")
    station.put(CellSetup("NaCl"))
    assert marked == [True, False]
    station.put(SHORT)
    station.switch()
    assert marked == [True, False] * 3


def test_the_last_runs_come_back_as_they_were_left_and_older_ones_are_run_again(
    station, monkeypatch
):
    monkeypatch.setattr(stations, "MOST_KEPT", 2)
    run = {}
    for minutes in (0.2, 0.3, 0.4):
        setup = CellSetup("Na2SO4", minutes=minutes)
        station.put(setup)
        station.switch()
        run[setup] = station.run
    oldest, *last = run
    for setup in last:
        station.put(setup)
        assert station.run is run[setup]
    station.put(oldest)
    assert not station.is_on


def test_the_next_class_finds_nothing_of_the_last_one(station):
    station.switch()
    assert station.kept
    station.bench.emptied = 1
    assert not station.kept
    assert not station.is_on
    assert not station.bench.lesson["on"]


def test_other_words_on_the_board_leave_the_run_where_it_is(station):
    station.switch()
    run = station.run
    station.say_again()
    assert station.run is run
    assert station.bench.lesson["on"]
    assert station.bench.lesson["again"]


@pytest.mark.parametrize(
    "leave", [Station.rest, lambda station: station.put(SHORT)], ids=["at rest", "another run"]
)
def test_what_was_said_of_another_cell_is_taken_back(station, monkeypatch, leave):
    def stuck(*_given):
        raise StuckError("no step could be solved")

    station.switch()
    station.put(CellSetup("NaCl"))
    monkeypatch.setattr(Ahead, "result", stuck)
    station.switch()
    assert "could not follow" in station.refusal.value
    leave(station)
    assert station.refusal.value == ""


def test_a_class_that_is_asked_is_told_only_after_its_own_run(station):
    assert not station.may_tell
    station.bench.told = True  # of a run that is not shown any more
    assert not station.may_tell
    station.switch()
    assert not station.may_tell
    station.bench.told = True
    assert station.may_tell


def test_a_class_that_is_asked_is_not_told_of_chlorine_by_a_caution_for_long_runs():
    run = SHORT.cell().run(minutes=0.2, samples=3)
    asked = About(asking=True, only_calculated=True)
    general = told(run, asked)["lesson"]["generalCaution"]
    assert general.startswith("Calculated, not for the bench. ")
    assert "chlorine" not in general.lower()
    assert told(run, asked)["lesson"]["cautions"][0].startswith(
        "Calculated, not for the bench: chl"
    )
