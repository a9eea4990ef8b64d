"""The Demonstrate page: a list of solutions, each predicted, run, tested, explained and recorded."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

from fizzplate.lesson import PageState, from_file, from_query, to_file, to_query
from fizzplate.views.controls.board_settings import BoardSettings
from fizzplate.views.controls.cell_list import CellList
from fizzplate.views.controls.run_controller import RunController
from fizzplate.views.pages.title import title
from fizzplate.views.web.address import Address
from fizzplate.words.refusals import InputError

if TYPE_CHECKING:
    from collections.abc import Callable

    from fizzplate.cell.run import Run
    from fizzplate.lesson import CellSetup
    from fizzplate.views.bench.widget import Bench
    from fizzplate.views.controls.setup_bar import Setup

OPENS = "It opens Demonstrate with this list of solutions and the one that is in the cell."
OPTIONS = ("ask",)  # what else a link carries: whether the class is asked


class Demonstrate:
    """The page's parts and what happens between them.

    Parameters
    ----------
    take_away
        Makes a page to take away of the query of a link.

    Attributes
    ----------
    widget
        What a notebook displays.
    list, run_controller, address, board
        The teacher's list, the cell, the link and the board's wording.
    """

    def __init__(self, take_away: Callable[[str], str] | None = None) -> None:
        start = PageState()
        self.board = BoardSettings(lambda: self.run_controller.say_again())
        self.list = CellList(start.cells, lambda: self.run_controller.put(self.list.current))
        self.address = Address(self.open_query, self.open_file, opens=OPENS, take_away=take_away)
        self.address.add_class("fp-tools-host")
        self.run_controller = RunController(self.list.current, self.board, self._on_changed)
        head = widgets.HBox([title("Demonstrate"), self.list.bar])
        head.add_class("fp-head")
        tools = widgets.HBox([self.list.tools, self.address, self.board.bar])
        tools.add_class("fp-list-tools")
        self.widget = widgets.Box([head, tools, *self.run_controller.parts])
        self.widget.add_class("fp-page")
        self.run_controller.rest()
        self.address.open_at_once()

    @property
    def run(self) -> Run | None:
        """The run that is shown, or ``None`` while the switch is open."""
        return self.run_controller.run

    @property
    def setup(self) -> Setup:
        """The set-up bar."""
        return self.run_controller.setup

    @property
    def bench(self) -> Bench:
        """The cell with all that follows its clock."""
        return self.run_controller.bench

    def open_query(self, query: str) -> None:
        """Open the page as a link says; what cannot be read is left out and said."""
        state, said = from_query(query, OPTIONS)
        self.board.show(state.wording, asking=state.options.get("ask") != "off")
        self.address.say(said)
        self._open_list(state.cells, state.open)

    def open_file(self, text: str) -> None:
        """Open a saved list; one that cannot be read leaves everything as it is."""
        try:
            cells, said = from_file(text)
        except InputError as refusal:
            self.address.say([str(refusal)])
            return
        self.address.say(said)
        self._open_list(cells, 0)

    def _open_list(self, cells: tuple[CellSetup, ...], at: int) -> None:
        self.list.open(cells, at)
        self.run_controller.put(self.list.current)

    def _on_changed(self) -> None:
        """Let list and address follow the cell."""
        self.list.replace(self.setup.setup)
        self.list.tick(self.run_controller.kept)
        options = {} if self.board.asking else {"ask": "off"}
        state = PageState(tuple(self.list.cells), self.list.at, self.board.wording, options)
        self.address.write(to_query(state), to_file(state))


def page(take_away: Callable[[str], str] | None = None) -> Any:
    """Return the Demonstrate page as one widget to display.

    Parameters
    ----------
    take_away
        Makes a page to take away, as HTML, of the query of a link; without it that is not offered.
    """
    return Demonstrate(take_away).widget
