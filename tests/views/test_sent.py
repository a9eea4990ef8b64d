"""What a page's program in the browser reads, listens for or answers with is sent between it and Python."""

import re

import pytest

from fizzplate.lesson import Wording
from fizzplate.views.bench.widget import Bench
from fizzplate.views.controls.results_export import ResultsExport
from fizzplate.views.grid import Grid
from fizzplate.views.inquiry import Inquiry
from fizzplate.views.pages.revise import Revise
from fizzplate.views.paper.printing import Printing
from fizzplate.views.web.address import Address
from fizzplate.views.web.widget import Widget
from fizzplate.views.workshop import Workshop

#: what only a page without a program is told, in the file that it is taken away in
OF_A_FILE = {"alone"}
NAMED = re.compile(r'\bmodel\.(?:get|set|on)\(\s*"(?:change:)?(\w+)"')


WIDGETS = pytest.mark.parametrize(
    "make",
    [
        Bench,
        Printing,
        ResultsExport,
        lambda: Address(print),
        lambda: Grid(print),
        lambda: Inquiry(print),
        lambda: Workshop(Wording()),
        lambda: Revise().quiz,
    ],
    ids=["bench", "printing", "results", "address", "grid", "inquiry", "workshop", "quiz"],
)


@WIDGETS
def test_nothing_that_a_page_asks_for_stays_behind_in_python(make):
    sent = make().get_state()
    question = set(NAMED.findall(sent["_esm"]))
    assert question
    assert question - OF_A_FILE <= set(sent)


@WIDGETS
def test_a_widget_that_has_ended_keeps_nobody_listening(make):
    widget = make()
    assert isinstance(widget, Widget)
    seen = []
    widget.observe(seen.append)
    widget.close()
    assert not seen
    assert widget.comm is None
