"""What is typed or chosen on a page stands where it is left out when the page is printed."""

import re
from importlib import resources

import ipywidgets
import pytest

from fizzplate.views.controls.background_work import BackgroundWork
from fizzplate.views.pages.measure import Measure
from fizzplate.views.pages.prepare import Prepare
from fizzplate.views.pages.revise import Revise

CHOSEN = (ipywidgets.Text, ipywidgets.Textarea, ipywidgets.Dropdown, ipywidgets.Checkbox)


@pytest.fixture(scope="module")
def left_out():
    """Give the classes of what the look leaves out on paper, whatever stands round it."""
    look = resources.files("fizzplate.views").joinpath("kit", "print.css").read_text("utf-8")
    listed = re.search(r":is\((button:not.*?)\) \{ display: none !important", look, re.DOTALL)[1]
    parts = (part.strip() for part in listed.split(","))
    return {part[1:] for part in parts if re.fullmatch(r"\.fp-[\w-]+", part)}


def printed_controls(widget, left_out):
    """Name the controls that would be printed."""
    if left_out & set(widget._dom_classes):
        return
    if isinstance(widget, CHOSEN):
        yield widget.description
    for child in getattr(widget, "children", ()):
        yield from printed_controls(child, left_out)


@pytest.mark.parametrize("page", [Measure, Prepare, Revise])
def test_no_field_or_menu_is_printed(page, left_out, monkeypatch):
    monkeypatch.setattr(
        BackgroundWork, "begin", lambda *_given, **_options: None
    )  # no runs are needed
    widget = page().widget
    assert list(printed_controls(widget, left_out)) == []
    assert list(printed_controls(widget, set())) != []
