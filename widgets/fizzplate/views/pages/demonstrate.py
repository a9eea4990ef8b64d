"""The Demonstrate page: a list of solutions, each predicted, run, tested, explained and recorded."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.lesson.state import DemonstrateState
from fizzplate.views.controls import CellList, RunController
from fizzplate.views.pages.page import Page

if TYPE_CHECKING:
    from collections.abc import Callable

    from fizzplate.cell import Run
    from fizzplate.views.bench import Bench
    from fizzplate.views.controls import SetupBar


class Demonstrate(Page[DemonstrateState]):
    """The page's parts and what happens between them.

    Attributes
    ----------
    list, run_controller
        The teacher's list, and the cell.
    """

    link_description = (
        "It opens Demonstrate with this list of solutions and the one that is in the cell."
    )
    state_type = DemonstrateState
    offers_predictions = True
    has_list = True
    classes = ("fp-page", "fp-lesson-page")

    def __init__(self, take_away: Callable[[str], str] | None = None) -> None:
        super().__init__(take_away)
        self.list = CellList(DemonstrateState().cells, self._on_chosen)
        self.run_controller = RunController(
            self.list.current,
            self.board,
            self._on_changed,
            on_next=self.list.next,
            on_reset=self._on_reset,
            may_change=True,
        )
        self.bench.in_steps = True
        self.lay_out(head=[self.list.bar], tools=[self.list.tools], body=self.run_controller.parts)
        self.start()

    @property
    def run(self) -> Run | None:
        """The run that is shown, or ``None`` while the switch is open."""
        return self.run_controller.run

    @property
    def setup_bar(self) -> SetupBar:
        """The set-up bar."""
        return self.run_controller.setup_bar

    @property
    def bench(self) -> Bench:
        """The cell with all that follows its clock."""
        return self.run_controller.bench

    def read_state(self) -> DemonstrateState:
        """Return the list, which of it is in the cell, and whether its switch is closed."""
        return DemonstrateState(
            tuple(self.list.cells),
            self.list.at,
            self.board.wording,
            self.ask_option,
            on=self.run_controller.is_on,
        )

    def show_state(self, state: DemonstrateState) -> None:
        """Show a list with one of its cells."""
        self.list.open(state.cells, state.open)
        self.run_controller.set_cell(self.list.current, on=state.on)

    def on_board(self) -> None:
        """Say the same in the board's wording."""
        self.run_controller.reword()

    def _on_chosen(self) -> None:
        self._say_what_comes_next()
        self.run_controller.set_cell(self.list.current)

    def _on_reset(self, is_undo: bool) -> None:
        """Let a new class begin with the list as it was before anything was changed in a run."""
        if is_undo:
            self.list.bring_changes_back()
        else:
            self.list.forget_changes()
        self.setup_bar.change(self.list.current.changes)

    def _say_what_comes_next(self) -> None:
        """Name the next solution of the list on the lesson's last button."""
        following = self.list.cells[self.list.at + 1 : self.list.at + 2]
        self.bench.next_label = following[0].formulae if following else ""

    def _on_changed(self) -> None:
        """Let list and address follow the cell."""
        self.list.replace(self.setup_bar.setup)
        self._say_what_comes_next()
        self.list.tick(self.run_controller.runs)
        self.record()


page = Demonstrate.create_widget
