"""The technician's page answers to what is opened and typed, and never shows another list's figures."""

import json
import re
import sys

import pytest
from tests.views.parts import control, is_marked_wrong, is_offered, page_text

from fizzplate.cell.solver.batch import ConvergenceError
from fizzplate.lesson import CellSetup, Wording
from fizzplate.lesson.classroom import hazards as hazards_of
from fizzplate.lesson.prepare import timetable
from fizzplate.lesson.prepare.sheets import Sheet
from fizzplate.views.controls.background_work import BackgroundWork
from fizzplate.views.controls.outdated import mark_outdated
from fizzplate.views.pages import prepare_air
from fizzplate.views.pages.prepare import Prepare
from fizzplate.views.web.html import trusted_html


class Awaited:
    """Slow work that has come when a test says so."""

    def begin(self, work, *, done, waiting, **_options):
        waiting()
        self.work, self.done = work, done

    def come(self, told):
        self.done(lambda: (trusted_html(f"<p>{told}</p>"), [Sheet(told, told, told)]))

    def come_as_it_is(self):
        self.done(lambda: self.work(lambda: True))


@pytest.fixture
def slow(monkeypatch):
    awaited = Awaited()
    monkeypatch.setattr(BackgroundWork, "begin", awaited.begin)
    return awaited


@pytest.fixture
def page(slow):
    made = Prepare()
    slow.come("of the first list")
    return made


def test_a_saved_list_brings_its_own_amounts_and_its_first_solution(page):
    page.open_file("fizzplate cells 1\nKI\nCuSO4")
    assert control(page.widget, "Solution").value == "KI"
    assert "83 g of KI" in page_text(page.widget)
    assert "124.8 g of CuSO₄·5H₂O" in page_text(page.widget)
    assert "Na₂SO₄" not in page_text(page.widget)
    assert "cells=KI;CuSO4" in page.address.query


def test_sheets_and_figures_of_earlier_settings_are_marked_as_old_until_the_new_have_come(
    page, slow
):
    control(page.widget, "Groups").value = "30"
    assert page.printing.busy
    assert mark_outdated(trusted_html("<p>of the first list</p>")) in page_text(page.widget)
    slow.come("of 30 groups")
    assert not page.printing.busy
    assert [sheet["html"] for sheet in page.printing.sheets] == ["of 30 groups"]
    assert "first list" not in page_text(page.widget)


def test_a_number_that_cannot_be_used_takes_figures_and_sheets_away_until_it_is_mended(page, slow):
    groups = control(page.widget, "Groups")
    groups.value = "0"
    assert "Groups: 0 cannot be used" in page_text(page.widget)
    assert is_marked_wrong(page.widget, "Groups")
    assert not is_marked_wrong(page.widget, "Spare, %")
    assert "124.8 g" not in page_text(page.widget)
    assert page.printing.sheets == []
    groups.value = "15"
    slow.come("of the first list")
    assert not is_marked_wrong(page.widget, "Groups")
    assert "124.8 g" in page_text(page.widget)
    assert len(page.printing.sheets) == 1


def test_what_the_model_cannot_follow_is_said_and_no_sheet_is_left(page, slow):
    def stuck():
        raise ConvergenceError("no step could be solved")

    control(page.widget, "Groups").value = "30"
    slow.done(stuck)
    assert "could not calculate one of these cells" in page_text(page.widget)
    assert "first list" not in page_text(page.widget)
    assert page.printing.sheets == []
    assert not page.printing.busy


def test_the_cupboard_is_kept_for_each_substance_and_an_acid_is_never_weighed(page):
    page.open_query("?cells=NaCl,also=KI:0.1;HCl")
    assert is_offered(page.widget, "Substance")
    control(page.widget, "Substance").value = "KI"
    control(page.widget, "Purity, %").value = "90"
    control(page.widget, "Substance").value = "NaCl"
    assert control(page.widget, "Purity, %").value == "100"
    control(page.widget, "Substance").value = "KI"
    assert control(page.widget, "Purity, %").value == "90"
    page.list.next()
    assert not is_offered(page.widget, "Substance")
    assert not is_offered(page.widget, "Purity, %")
    ((offered, _),) = control(page.widget, "In the cupboard").options
    assert "acid" in offered


def test_a_reload_brings_the_cupboard_back_as_far_as_it_fits(page):
    kept = {
        "CuSO4": ["CuSO4", "98", ""],
        "KI": ["gold", "50", "1"],
        "Au": ["Au", "1", ""],
    }
    state = {**json.loads(page.address.page_state), "cupboards": kept}
    page.restore(json.dumps(state), {})
    assert page.cupboard.entries == {"CuSO4": ("CuSO4", "98", "")}
    assert "81.4 g of CuSO₄" in page_text(page.widget)  # 79.8 g, if it were pure


def test_a_solution_that_cannot_be_made_is_refused_in_its_rows_and_the_others_are_planned(
    page, slow
):
    page.list.open((CellSetup("CuSO4", 9.0), *[CellSetup("NaCl", lamp="none")] * 4), 1)
    page.work_out()
    slow.come_as_it_is()
    assert page_text(page.widget).count("no stronger copper(II) sulfate solution can be made") == 2
    row = row_of(page_text(page.widget), "NaCl", "mA")
    assert row[-1] == "the same"  # without the lamp that there is not
    assert "In one period: 50 of 50 minutes" in page_text(page.widget)
    assert "2.3 min" in row_of(page_text(page.widget), "NaCl", "chlorine")
    assert "The hazard is a tube of collected gas, not the room" in page_text(page.widget)
    for label, value in (("Period, minutes", "60"), ("Room, m³", "20000")):
        control(page.widget, label).value = value
    slow.come_as_it_is()
    assert "In one period" not in page_text(page.widget)
    assert row_of(page_text(page.widget), "NaCl", "chlorine")[-1] == "never"
    control(page.widget, "Room, m³").value = "0.5"  # a cupboard
    slow.come_as_it_is()
    assert "This room is too small" in page_text(page.widget)


def row_of(html, first, word):
    """Give the cells of the first row that begins so and holds a word."""
    rows = (re.split(r"<[^>]+>+", row) for row in html.split("<tr>"))
    cells = ([cell for cell in row if cell.strip()] for row in rows)
    return next(row for row in cells if row[:1] == [first] and word in " ".join(row))


def test_cautions_the_rooms_air_and_the_timetable_know_one_longest_run_that_makes_chlorine(
    monkeypatch,
):
    for module in (sys.modules["fizzplate.lesson.classroom.hazards"], timetable, prepare_air):
        monkeypatch.setattr(module, "MAX_CHLORINE_RUN_MINUTES", 4.0)
    brine = CellSetup("NaCl", minutes=10.0)
    (chlorine,) = (each for each in hazards_of(brine.cell()) if each.species == "Cl2")
    assert "run for at most 4\N{NO-BREAK SPACE}minutes" in chlorine.caution
    air = prepare_air.air_tables([brine], 10, 150.0, 2.0, Wording())
    assert "Run for at most 4 minutes" in air
    assert timetable.class_version(brine).minutes == 4.0
