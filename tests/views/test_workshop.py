"""The workshop's own cell: the page's, as the list names it where the list has it."""

from __future__ import annotations

import pytest

from fizzplate.lesson import CellSetup, Wording
from fizzplate.views.pages.explore import Explore
from fizzplate.views.workshop import own_cell, workshop_data


@pytest.mark.parametrize(
    ("setup", "label"),
    [
        (CellSetup("NaCl"), "sodium chloride, NaCl"),
        (CellSetup("NaCl", anode="platinum", vessel="U-tube"), "sodium chloride, NaCl"),
        (
            CellSetup("CuSO4", cathode="copper", anode="copper"),
            "copper(II) sulfate, CuSO₄, copper electrode at the plus terminal",
        ),
    ],
)
def test_a_cell_of_the_list_is_that_of_the_list(setup, label):
    assert own_cell(setup, Wording(), may_tell=True) == {"label": label, "mayTell": True}
    assert label in [each["label"] for each in workshop_data(Wording())["cells"]]


def test_another_cell_brings_tasks_of_its_own_once_they_may_be_told():
    setup = CellSetup("NaCl", anode="copper")
    own = own_cell(setup, Wording(), may_tell=True)
    assert own["tasks"][own["cell"]["anode"]]["goal"] == "make copper(II) ions from copper"
    assert set(own_cell(setup, Wording(), may_tell=False)) == {"label", "mayTell"}
    assert own_cell(CellSetup("H2O"), Wording(), may_tell=True) == {}


def test_each_label_of_the_list_is_that_of_one_cell():
    labels = [each["label"] for each in workshop_data(Wording())["cells"]]
    assert len(labels) == len(set(labels))


def test_explore_tells_its_workshop_which_cell_it_shows():
    page = Explore()
    assert page.workshop.own == {"label": "sodium chloride, NaCl", "mayTell": False}
    page.board.show(Wording(), asking=False)
    page.first.set_cell(CellSetup("KI"))
    assert page.workshop.own == {"label": "potassium iodide, KI", "mayTell": True}
