"""A cell at work: what is old is marked, what was run comes back, and the next class finds nothing."""

import pytest

from fizzplate.lesson import CellSetup
from fizzplate.views import bench as benches
from fizzplate.views import station as stations
from fizzplate.views.board import Board
from fizzplate.views.station import Station

SHORT = CellSetup("Na2SO4", minutes=0.2)


@pytest.fixture
def station(monkeypatch):
    monkeypatch.setattr(stations, "SAMPLES", 3)
    monkeypatch.setattr(benches, "charts", lambda _run: ())  # they take longest
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
