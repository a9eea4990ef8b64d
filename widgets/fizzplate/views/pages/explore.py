"""The Explore page: one cell or two side by side, sweeps, investigations, the half-equation workshop."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

from fizzplate.lesson import CellSetup
from fizzplate.lesson.state import ExploreState
from fizzplate.views.controls import GroupedSetupBar, RunController, tool
from fizzplate.views.inquiry import Inquiry, PhoneParts
from fizzplate.views.pages.comparison import comparison, comparison_to_come
from fizzplate.views.pages.page import Page
from fizzplate.views.pages.sweep_panel import SweepPanel
from fizzplate.views.web import render
from fizzplate.views.workshop import Workshop

if TYPE_CHECKING:
    from collections.abc import Callable

    from fizzplate.lesson.classroom import Investigation

START = CellSetup("NaCl")
ADD_SECOND = "Add a second cell"
REMOVE_SECOND = "Remove the second cell"


class Explore(Page[ExploreState]):
    """The page's parts and what happens between them.

    Attributes
    ----------
    first, second
        The cells; the second is shown on request.
    sweep_panel, workshop
        The sweep, and the half-equation workshop.
    """

    link_description = "It opens Explore with this cell, or with both cells."
    state_type = ExploreState
    offers_predictions = True
    classes = ("fp-page", "fp-column-page", "fp-explore")

    def __init__(self, take_away: Callable[[str], str] | None = None) -> None:
        super().__init__(take_away)
        self.first = self._run_controller("first")
        self.second = self._run_controller("second")
        self._columns = [_column(self.first, "First cell"), _column(self.second, "Second cell")]
        self._row = widgets.Box(self._columns[:1])
        self._row.add_class("fp-cells")
        self._beside = tool(ADD_SECOND, lambda: self.beside(not self.has_two))
        self._comparison = widgets.HTML()
        self._comparison.add_class("fp-comparison")
        self.sweep_panel = SweepPanel(self.first, self.board.wording, self.record)
        self.workshop = Workshop(self.board.wording)
        self._inquiry = Inquiry(self.set_up, self.board.wording)
        more = widgets.Box(
            [self._comparison, self._inquiry, self.sweep_panel.widget, self.workshop]
        )
        more.add_class("fp-more")
        self.lay_out(
            head=[self._beside, self.settings_fold()], body=[self._row, PhoneParts(), more]
        )
        self.start()

    @property
    def has_two(self) -> bool:
        """Whether there is a second cell."""
        return len(self._row.children) == 2

    @property
    def shown(self) -> list[RunController]:
        """The cells that are shown."""
        return [self.first, self.second] if self.has_two else [self.first]

    def read_state(self) -> ExploreState:
        """Return the cells with their switches, and the sweep."""
        return ExploreState(
            tuple(each.setup_bar.setup for each in self.shown),
            0,
            self.board.wording,
            self.ask_option,
            on=tuple(each.is_on for each in self.shown),
            sweep=self.sweep_panel.kind,
            drawn_sweep=self.sweep_panel.source[0] if self.sweep_panel.source else "",
            drawn_cell=self.sweep_panel.source_cell,
        )

    def show_state(self, state: ExploreState) -> None:
        """Show one cell or two, and the sweep."""
        self._reword_the_rest()
        cells = state.cells[:2]
        on = (*state.on, False, False)
        self.first.set_cell(cells[0], on=on[0])
        self.beside(len(cells) == 2, cells[-1], on=on[1])
        self.sweep_panel.choose(state.sweep)
        self.sweep_panel.restore(state.drawn_sweep, state.drawn_cell)

    def read_link(self, query: str) -> tuple[ExploreState, list[str]]:
        """Read a link; one without cells opens the page's own."""
        state, left_out = super().read_link(query)
        cells = state.cells[: 2 if len(state.cells) == 2 else 1]
        return replace(state, cells=cells if "cells=" in query else (START,)), left_out

    def on_board(self) -> None:
        """Say the same in the board's wording."""
        self._reword_the_rest()
        for each in self.shown:
            each.reword()

    def beside(self, two: bool, setup: CellSetup | None = None, *, on: bool | None = None) -> None:
        """Show a second cell with the first, or remove it."""
        if two:
            self.second.set_cell(setup or self.first.setup_bar.setup, on=on)
        self._row.children = self._columns if two else self._columns[:1]
        (self._row.add_class if two else self._row.remove_class)("fp-two-cells")
        self._beside.description = REMOVE_SECOND if two else ADD_SECOND
        self._on_changed()

    def set_up(self, chosen: Investigation) -> None:
        """Set an investigation up: its cells, and its sweep."""
        self.first.set_cell(chosen.setups[0])
        self.beside(len(chosen.setups) > 1, chosen.setups[-1])
        if chosen.sweep:
            self.sweep_panel.choose(chosen.sweep)
        bar = self.shown[-1].setup_bar  # of two cells, the one that differs
        if isinstance(bar, GroupedSetupBar):
            bar.point_out(chosen.controls, f"Set up: {chosen.name}.", is_set=self.has_two)

    def _run_controller(self, which: str) -> RunController:
        return RunController(
            START, self.board, self._on_changed, key=which, full=True, place=f"{which} cell"
        )

    def _reword_the_rest(self) -> None:
        """Put the parts below the cells into the board's words."""
        for each in (self.workshop, self._inquiry):
            each.word(self.board.wording)
        self.sweep_panel.reword(self.board.wording)

    def _on_changed(self) -> None:
        """Let comparison, sweep, workshop and address follow the cells."""
        self.workshop.follow(
            self.first.setup_bar.setup, self.board.wording, may_tell=self.first.may_reveal
        )
        self._comparison.value = self._compared() if self.has_two else ""
        self.sweep_panel.follow()
        self.record()

    def _compared(self) -> str:
        runs = self.first.run, self.second.run
        if runs[0] is None or runs[1] is None:
            return comparison_to_come("Switch both on to compare them.")
        if not (self.first.may_reveal and self.second.may_reveal):
            return comparison_to_come(
                "Switch both cells on, and compare what you saw with what is expected at all electrodes."
            )
        setups = self.first.setup_bar.setup, self.second.setup_bar.setup
        return comparison(setups, (runs[0], runs[1]), self.board.wording)


def _column(run_controller: RunController, label: str) -> Any:
    heading = widgets.HTML(render("pages/templates/cell_name.html.j2", label=label))
    heading.add_class("fp-cell-name")
    column = widgets.Box([heading, *run_controller.parts])
    column.add_class("fp-cell")
    return column


page = Explore.create_widget
