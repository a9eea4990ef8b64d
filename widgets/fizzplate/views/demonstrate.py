"""The Demonstrate page: choose a solution, switch on, and see what each electrode does."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

from fizzplate.cell import Stage
from fizzplate.cell.simulate import StuckError
from fizzplate.chemistry.checks import InputError
from fizzplate.lesson import PageState, from_file, from_query, to_file, to_query, write_cell
from fizzplate.views.address import Address
from fizzplate.views.ahead import Ahead
from fizzplate.views.bench import About, Bench
from fizzplate.views.board import Board
from fizzplate.views.cell_list import CellList
from fizzplate.views.setup import Setup

if TYPE_CHECKING:
    from collections.abc import Callable

    from fizzplate.cell.run import Run
    from fizzplate.lesson import CellSetup

SAMPLES = 121
OPTIONS = ("ask",)  # what else a link carries: whether the class is asked
MOST_KEPT = 12  # runs that come back as they were left

#: an instant with the switch open: enough for a picture of what stands ready
AT_REST = Stage(minutes=1e-3, off=True)

_STUCK = "The model could not follow this cell: try another voltage or concentration."
_TITLE = (
    '<h1 class="fp-title">Fizz <span class="fp-and">&amp;</span> Plate '
    '<span class="fp-page-name">Demonstrate</span></h1>'
)


class Demonstrate:
    """The page's parts and what happens between them.

    Attributes
    ----------
    widget
        What a notebook displays.
    list, setup, bench, address
        The teacher's list, the set-up bar, the cell with all that follows its clock, and the link.
    run
        The run that is shown, or ``None`` while the switch is open.
    """

    def __init__(self) -> None:
        self.run: Run | None = None
        self._kept: dict[CellSetup, Run] = {}
        self._ahead = Ahead()
        self.state = PageState()
        self.bench = Bench()
        self.bench.add_class("fp-bench-host")
        self.list = CellList(self.state.cells, self._on_chosen)
        self.setup = Setup(self._on_set_up, self.list.current)
        self.address = Address(self.open_query, self.open_file)
        self.address.add_class("fp-tools-host")
        head = widgets.HBox([widgets.HTML(_TITLE), self.list.bar])
        head.add_class("fp-head")
        self.board = Board(self._on_board)
        tools = widgets.HBox([self.list.tools, self.address, self.board.bar])
        tools.add_class("fp-list-tools")
        self._switch = widgets.Button(description="Switch on")
        self._switch.add_class("fp-switch")
        self._switch.on_click(lambda _: self.switch())
        self._refusal = widgets.HTML()
        self._refusal.add_class("fp-refusal")
        self._refusal.add_class("fp-switch-refusal")
        parts = [head, tools, self.setup.bar, self._switch, self._refusal, self.bench]
        self.widget = widgets.Box(parts)
        self.widget.add_class("fp-page")
        self._at_rest()

    @property
    def is_on(self) -> bool:
        """Whether the switch is closed."""
        return self.run is not None

    def switch(self) -> None:
        """Close the switch and run what is set up, or open it again."""
        if self.is_on:
            self._at_rest()
            return
        if not self.setup.usable():
            return
        self._refusal.value = ""
        self._switch.description = "Running …"
        self._switch.disabled = True
        setup = self.setup.setup
        try:
            run = self._kept.get(setup) or self._ahead.result(setup, self._work_out())
        except StuckError:
            self._refusal.value = f'<span role="alert">{_STUCK}</span>'
        else:
            self._keep(setup, run)
            self.run = run
            self.bench.show(run, self._about())
        finally:
            self._switch.disabled = False
            self._show_switch()
        self.list.tick(self._kept)

    def open_query(self, query: str) -> None:
        """Open the page as a link says; what cannot be read is left out and said."""
        self.state, said = from_query(query, OPTIONS)
        self.board.show(self.state.wording, asking=self.state.options.get("ask") != "off")
        self.address.say(said)
        self._open_list(self.state.cells, self.state.open)

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
        self._on_chosen()

    def _on_chosen(self) -> None:
        """Put the list's cell in the set-up bar; a run that it had comes back as it was left."""
        setup = self.list.current
        self.setup.show(setup)
        if setup in self._kept:
            self.run = self._kept[setup]
            self._refusal.value = ""
            self.bench.show(self.run, self._about(), again=True)
            self._show_switch()
            self._write_address()
        else:
            self._at_rest()

    def _on_board(self) -> None:
        """Say it all again in other words."""
        if self.run is not None:
            self._write_address()
            self.bench.show(self.run, self._about(), again=True)
        else:
            self._at_rest()

    def _on_set_up(self) -> None:
        self.list.replace(self.setup.setup)
        self._at_rest()

    def _keep(self, setup: CellSetup, run: Run) -> None:
        self._kept.pop(setup, None)
        self._kept[setup] = run
        while len(self._kept) > MOST_KEPT:
            del self._kept[next(iter(self._kept))]

    def _at_rest(self) -> None:
        """Show the cell before its switch is closed."""
        self.run = None
        self._refusal.value = ""
        self.bench.rest(self.setup.cell.run(stages=[AT_REST], samples=2), self._about())
        self._show_switch()
        self._write_address()
        if self.setup.setup not in self._kept:
            self._ahead.begin(self.setup.setup, self._work_out())

    def _about(self) -> About:
        setup = self.setup.setup
        return About(write_cell(setup), setup.label, self.board.asking, self.board.wording)

    def _work_out(self) -> Callable[[], Run]:
        cell, minutes = self.setup.cell, self.setup.setup.minutes
        return lambda: cell.run(minutes=minutes, samples=SAMPLES)

    def _write_address(self) -> None:
        self.state = PageState(
            tuple(self.list.cells),
            self.list.at,
            self.board.wording,
            {} if self.board.asking else {"ask": "off"},
        )
        self.address.write(to_query(self.state), to_file(self.state))

    def _show_switch(self) -> None:
        self._switch.description = "Switch off" if self.is_on else "Switch on"


def page() -> Any:
    """Return the Demonstrate page as one widget to display."""
    return Demonstrate().widget
