"""The technician's page answers to what is opened and typed, and never shows another list's figures."""

import pytest
from tests.views.parts import control, said

from fizzplate.lesson.sheets import Sheet
from fizzplate.views.later import Later
from fizzplate.views.old import old
from fizzplate.views.prepare import Prepare


class Awaited:
    """Slow work that has come when a test says so."""

    def begin(self, _work, *, done, waiting, **_options):
        waiting()
        self.done = done

    def come(self, told):
        self.done(lambda: (f"<p>{told}</p>", [Sheet(told, told, told)]))


@pytest.fixture
def slow(monkeypatch):
    awaited = Awaited()
    monkeypatch.setattr(Later, "begin", awaited.begin)
    return awaited


@pytest.fixture
def page(slow):
    made = Prepare()
    slow.come("of the first list")
    return made


def test_a_saved_list_brings_its_own_amounts_and_its_first_solution(page):
    page.open_file("fizzplate cells 1\nKI\nCuSO4")
    assert control(page.widget, "Solution").value == "KI"
    assert "83 g of KI" in said(page.widget)
    assert "124.8 g of CuSO₄·5H₂O" in said(page.widget)
    assert "Na₂SO₄" not in said(page.widget)
    assert "cells=KI;CuSO4" in page.address.query


def test_sheets_and_figures_of_earlier_settings_are_marked_as_old_until_the_new_have_come(
    page, slow
):
    control(page.widget, "Groups").value = "30"
    assert page.printing.busy
    assert old("<p>of the first list</p>") in said(page.widget)
    slow.come("of 30 groups")
    assert not page.printing.busy
    assert [sheet["html"] for sheet in page.printing.sheets] == ["of 30 groups"]
    assert "first list" not in said(page.widget)
