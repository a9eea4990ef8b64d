"""Two cells and a sweep: nothing is compared or drawn too early, and what is old says so."""

import numpy as np
import pytest
from tests.views.parts import control, page_text

from fizzplate.lesson.classroom import investigations
from fizzplate.lesson.classroom.sweeps import Sweep
from fizzplate.views.bench import widget as benches
from fizzplate.views.controls import run_controller as run_controllers
from fizzplate.views.controls.prefetch import Prefetch
from fizzplate.views.pages import sweep_panel as sweep_panels
from fizzplate.views.pages.explore import Explore
from fizzplate.views.pages.sweep_panel import ANOTHER_CELL

FOUND = Sweep(
    title="Shares of the charge",
    x_label="c",
    y_label="share",
    x=np.array([0.1, 1.0]),
    lines={"chlorine, anode": np.array([0.2, 0.9])},
    here=0.5,
    logarithmic=True,
    sentence="The stronger, the more chlorine.",
)
CELLS = "?cells=NaCl,min=0.2;NaCl,min=0.2,c=0.1"


@pytest.fixture
def page(monkeypatch):
    monkeypatch.setattr(run_controllers, "SAMPLES", 3)
    monkeypatch.setattr(benches, "charts", lambda _run, _wording: ())  # they take longest
    monkeypatch.setattr(Prefetch, "begin", lambda *_: None)
    monkeypatch.setattr(sweep_panels, "sweep", lambda _kind, _setup, _wording: FOUND)
    return Explore()


def press(page, label):
    control(page.widget, label).click()


def test_two_cells_are_compared_when_both_have_run_and_may_be_told_of(page):
    page.open_query(CELLS)
    assert "Switch both on" in page_text(page.widget)
    page.first.switch()
    assert "Switch both on" in page_text(page.widget)
    page.second.switch()
    assert "compare what you saw" in page_text(page.widget)
    page.first.bench.reveals_products = True
    assert "compare what you saw" in page_text(page.widget)
    page.second.bench.reveals_products = True
    assert "What differs" in page_text(page.widget)
    assert "Current, mA, both cells" in page_text(page.widget)
    assert "Metal on the cathode, mg, both cells" not in page_text(page.widget)  # there is none
    press(page, "Remove the second cell")
    assert "What differs" not in page_text(page.widget)
    assert ";" not in page.address.query


def test_a_sweep_is_drawn_once_it_may_be_told_and_goes_when_the_class_is_asked(page):
    page.open_query(CELLS.split(";")[0])
    press(page, "Draw it")
    assert "Then you can draw this sweep" in page_text(page.widget)
    assert FOUND.sentence not in page_text(page.widget)
    page.first.switch()
    page.first.bench.reveals_products = True
    press(page, "Draw it")
    assert FOUND.sentence in page_text(page.widget)
    page.first.switch()
    assert FOUND.sentence not in page_text(page.widget)


def test_a_sweep_of_another_cell_is_marked_as_old_until_that_cell_is_back(page):
    page.open_query(CELLS.split(";")[0] + "&ask=off")
    press(page, "Draw it")
    assert ANOTHER_CELL not in page_text(page.widget)
    strength = control(page.first.setup_bar.bar, "Concentration, mol/dm³")
    strength.value = "0.3"
    assert ANOTHER_CELL in page_text(page.widget)
    strength.value = "0.5"
    assert ANOTHER_CELL not in page_text(page.widget)
    assert FOUND.sentence in page_text(page.widget)


def test_the_address_says_so_if_the_class_is_not_asked(page):
    page.open_query("?cells=NaCl")
    assert "ask" not in page.address.query
    page.open_query("?cells=NaCl&ask=off")
    assert "ask=off" in page.address.query


def test_an_investigation_of_both_electrodes_says_that_the_cells_differ_in_both(page):
    page.set_up(next(each for each in investigations() if each.name == "Carbon or copper"))
    assert "differ in: <strong>Cathode and Anode</strong>" in page_text(page.widget)
