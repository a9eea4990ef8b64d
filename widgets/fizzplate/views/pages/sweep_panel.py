"""One thing varied: a sweep of the first cell, drawn with the present cell on it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import ipywidgets as widgets
from markupsafe import Markup

from fizzplate.cell.solver import ConvergenceError
from fizzplate.lesson import CellSetup, read_cell, write_cell
from fizzplate.lesson.classroom import SWEEPS, sweep
from fizzplate.views.controls import mark_outdated, menu, refuse, tool
from fizzplate.views.figures import sweep_figure
from fizzplate.views.web import alert, status
from fizzplate.words import InputError, page_refusal

if TYPE_CHECKING:
    from collections.abc import Callable

    from fizzplate.lesson import Wording
    from fizzplate.lesson.classroom import Sweep
    from fizzplate.views.controls import RunController

FIRST = (
    "Switch on, and compare what you saw with what is expected at both electrodes. Then you can draw "
    "this sweep."
)
WORKING_OUT = "Calculating the curves …"
ANOTHER_CELL = "You have changed the first cell since then. Press Draw it again."
STUCK = "The model could not calculate this sweep. Change the cell or choose another sweep."


class SweepPanel:
    """The choice of a sweep, and its chart.

    Parameters
    ----------
    run_controller
        Of the cell that is varied.
    wording
        The board's.
    changed
        Called after another sweep was chosen or drawn.

    Attributes
    ----------
    widget
        Controls and chart.
    source
        Name of the sweep that is drawn, or that is to be drawn once it may be, and its cell; nothing
        if there is none.
    """

    def __init__(
        self, run_controller: RunController, wording: Wording, changed: Callable[[], None]
    ) -> None:
        self._run_controller = run_controller
        self._wording = wording
        self._changed = changed
        self._kind = menu("Sweep", {name: name for name in SWEEPS}, key="sweep")
        self._kind.observe(lambda _: changed(), names="value")
        self._refusal, self._place = widgets.HTML(), widgets.HTML()
        self.source: tuple[str, CellSetup] | None = None
        self._found: Sweep | None = None  # of what is drawn, once it may be shown
        self._chart = Markup()
        self.widget = widgets.VBox(
            [
                widgets.HTML("<h2>One thing varied</h2>"),
                widgets.HBox([self._kind, tool("Draw it", self.draw)]),
                self._refusal,
                self._place,
            ]
        )
        self.widget.add_class("fp-sweeps")

    @property
    def kind(self) -> str:
        """Name of the sweep that is chosen."""
        return str(self._kind.value)

    @property
    def source_cell(self) -> str:
        """The cell whose sweep is drawn, as links write it."""
        return write_cell(self.source[1]) if self.source else ""

    def choose(self, kind: str) -> None:
        """Choose a sweep without drawing it; one that is not offered leaves the choice as it is."""
        if kind in SWEEPS:
            self._kind.value = kind

    def draw(self) -> None:
        """Calculate the chosen sweep and draw it, with the present cell on it."""
        refuse(self._refusal, "", [self._kind])
        if not self._run_controller.setup_bar.usable():
            return
        if not self._run_controller.may_reveal:
            self._clear()
            self._place.value = status(FIRST)
            return
        self._draw(self.kind, self._run_controller.setup_bar.setup)

    def restore(self, drawn_sweep: str, drawn_cell: str) -> None:
        """Draw a sweep of a cell again: at once, or as soon as the products may be shown."""
        self._clear()
        if drawn_sweep not in SWEEPS:
            return
        try:
            cell, _ = read_cell(drawn_cell)
        except InputError:
            return
        self.source = drawn_sweep, cell
        self.follow()

    def follow(self) -> None:
        """Follow the cell: remove what gives away the answer, and mark what belongs to another cell."""
        may_reveal = self._run_controller.may_reveal
        if self._found is not None and not may_reveal:
            self._clear()
        elif self._found is None and self.source and may_reveal:
            self._draw(*self.source)
        elif self._found is not None:
            self._show_chart()

    def reword(self, wording: Wording) -> None:
        """Say the same in the board's wording."""
        changed, self._wording = wording != self._wording, wording
        if self._found is not None and self.source and changed:
            self._draw(*self.source)  # its words come with its runs

    def _draw(self, kind: str, cell: CellSetup) -> None:
        self._place.value = mark_outdated(self._chart) or status(WORKING_OUT)
        try:
            found = sweep(kind, cell, self._wording)
        except ConvergenceError:
            self._clear()
            self._place.value = alert(STUCK)
            return
        except InputError as refusal:  # the last picture stays
            sentence = page_refusal(refusal, self._wording)
            refuse(self._refusal, sentence, [self._kind], self._kind)
            if self._found is None:
                self._clear()
            else:
                self._show_chart()
            return
        self.source = kind, cell
        self._found = found
        self._changed()  # first, so that a program lost once the chart is in sight cannot lose it
        self._show(found)

    def _clear(self) -> None:
        self.source = self._found = None
        self._chart = Markup()
        self._place.value = ""

    def _show(self, found: Sweep) -> None:
        self._chart = sweep_figure(found)
        self._show_chart()

    def _show_chart(self) -> None:
        """Show the chart, marked as outdated if the cell has been changed since."""
        present = self._run_controller.setup_bar.setup
        is_outdated = self.source is not None and self.source[1] != present
        self._place.value = mark_outdated(self._chart, ANOTHER_CELL) if is_outdated else self._chart
