"""The Explore page: one cell or two side by side, sweeps, investigations, the half-equation workshop."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets
import numpy as np

from fizzplate.cell.solver.simulate import StuckError
from fizzplate.lesson import CellSetup, PageState, from_query, to_file, to_query
from fizzplate.lesson.classroom.cell_comparison import compare_cells, compared_curves
from fizzplate.lesson.classroom.sweeps import SWEEPS, sweep
from fizzplate.views.controls.board_settings import BoardSettings
from fizzplate.views.controls.fields import fold, menu, refuse, tool
from fizzplate.views.controls.outdated import mark_outdated
from fizzplate.views.controls.run_controller import RunController
from fizzplate.views.figures.graphs import Line, graph
from fizzplate.views.inquiry import Inquiry
from fizzplate.views.pages.title import title
from fizzplate.views.web.address import Address
from fizzplate.views.web.board_words import in_board_words
from fizzplate.views.workshop import Workshop
from fizzplate.words.field_labels import in_words
from fizzplate.words.refusals import InputError

if TYPE_CHECKING:
    from collections.abc import Callable

    from fizzplate.lesson.classroom.investigations import Investigation
    from fizzplate.lesson.classroom.sweeps import Sweep

START = CellSetup("NaCl")
FIRST = "Switch on, and compare what you saw with what is expected, at both electrodes"
OPENS = "It opens Explore with what is in the cell, or in both."
OPTIONS = ("ask",)
WORKING_OUT_FIRST = "Working out the curves …"
ANOTHER_CELL = "You have changed the first cell since: press Draw it again."


class Explore:
    """The page's parts and what happens between them.

    Parameters
    ----------
    take_away
        Makes a page to take away of the query of a link.

    Attributes
    ----------
    widget
        What a notebook displays.
    first, second
        The cells; the second stands there on request.
    """

    def __init__(self, take_away: Callable[[str], str] | None = None) -> None:
        self.board = BoardSettings(self._say_again)
        self.address = Address(self.open_query, opens=OPENS, take_away=take_away)
        self.address.add_class("fp-tools-host")
        self.first = RunController(
            START, self.board, self._on_changed, full=True, place="first cell"
        )
        self.second = RunController(
            START, self.board, self._on_changed, full=True, place="second cell"
        )
        self._cells = [_column(self.first, "First cell"), _column(self.second, "Second cell")]
        self._row = widgets.Box(self._cells[:1])
        self._row.add_class("fp-cells")
        self._beside = tool("Put a second cell beside it", lambda: self.beside(not self.has_two))
        tools = widgets.HBox([self.address, self.board.bar])
        tools.add_class("fp-list-tools")
        head = widgets.HBox([title("Explore"), self._beside, fold("Settings", tools)])
        head.add_class("fp-head")
        self._compared = widgets.HTML()
        self._compared.add_class("fp-comparison")
        self._kinds = menu("Sweep", {name: name for name in SWEEPS})
        draw = tool("Draw it", self.draw_sweep)
        self.workshop = Workshop(self.board.wording)
        self._swept, self._not_swept = widgets.HTML(), widgets.HTML()
        sweeps = widgets.VBox(
            [
                widgets.HTML("<h2>One thing varied</h2>"),
                widgets.HBox([self._kinds, draw]),
                self._not_swept,
                self._swept,
            ]
        )
        sweeps.add_class("fp-sweeps")
        self._inquiry = Inquiry(self.set_up, self.board.wording)
        self._found: Sweep | None = None  # the sweep that was drawn last
        self._swept_cell = START
        self._drawing = ""
        more = widgets.Box([self._compared, self._inquiry, sweeps, self.workshop])
        more.add_class("fp-more")
        self.widget = widgets.Box([head, tools, self._row, more])
        self.widget.add_class("fp-page")
        self.widget.add_class("fp-explore")
        self.first.rest()
        self.address.open_at_once()

    @property
    def has_two(self) -> bool:
        """Whether a second cell stands beside the first."""
        return len(self._row.children) == 2

    def beside(self, two: bool, setup: CellSetup | None = None) -> None:  # it is the state
        """Put a second cell beside the first, or take it away."""
        if two:
            self.second.put(setup or self.first.setup.setup)
        self._row.children = self._cells if two else self._cells[:1]
        (self._row.add_class if two else self._row.remove_class)("fp-twins")
        self._beside.description = (
            "Take the second cell away" if two else "Put a second cell beside it"
        )
        self._on_changed()

    def set_up(self, chosen: Investigation) -> None:
        """Set an investigation up: its cells, and its sweep."""
        self.first.put(chosen.setups[0])
        self.beside(len(chosen.setups) > 1, chosen.setups[-1])
        if chosen.sweep:
            self._kinds.value = chosen.sweep

    def draw_sweep(self) -> None:
        """Work the chosen sweep out and draw it, with the present cell on it."""
        refuse(self._not_swept, "", [self._kinds])
        if not self.first.setup.usable():
            return
        if not self.first.may_tell:
            self._found, self._drawing = None, ""
            self._swept.value = f'<p role="status">{FIRST}: then this can be drawn.</p>'
            return
        cell = self.first.setup.setup
        self._swept.value = (
            mark_outdated(self._drawing) or f'<p role="status">{WORKING_OUT_FIRST}</p>'
        )
        try:
            found = sweep(self._kinds.value, cell)
        except StuckError:
            self._found, self._drawing = None, ""
            self._swept.value = '<p role="alert">The model could not follow this sweep.</p>'
            return
        except InputError as refusal:  # the last picture stays
            said = str(in_board_words(in_words(refusal), self.board.wording))
            refuse(self._not_swept, said, [self._kinds], self._kinds)
            self._show_drawing()
            return
        self._found, self._swept_cell = found, cell
        self._show_sweep(found)

    def _show_sweep(self, found: Sweep) -> None:
        def worded(text: str) -> str:
            return str(in_board_words(text, self.board.wording))

        # a legend has little room: a sign is enough there
        short = dict(zip(("cathode", "anode"), self.board.wording.short_names, strict=True))
        lines = [Line(_ending(name, short), found.x, y) for name, y in found.lines.items()]
        svg = graph(
            "sweep",
            worded(found.title),
            (worded(found.x_label), worded(found.y_label)),
            lines,
            here=found.here,
            logarithmic=found.logarithmic,
        )
        drawing = svg if lines else ""
        self._drawing = (
            f'<figure class="fp-graph">{drawing}</figure><p role="status">{worded(found.says)}</p>'
        )
        self._show_drawing()

    def _show_drawing(self) -> None:
        """Show the sweep, marked as old if the cell has been changed since."""
        is_old = self._found is not None and self._swept_cell != self.first.setup.setup
        self._swept.value = mark_outdated(self._drawing, ANOTHER_CELL) if is_old else self._drawing

    def open_query(self, query: str) -> None:
        """Open the page as a link says: one cell, or two."""
        state, said = from_query(query, OPTIONS)
        self.board.show(state.wording, asking=state.options.get("ask") != "off")
        self._word_the_rest()
        self.address.say(said)
        cells = state.cells if "cells=" in query else (START,)
        self.first.put(cells[0])
        self.beside(len(cells) == 2, cells[-1])

    def _say_again(self) -> None:
        self._word_the_rest()
        self.first.say_again()
        if self.has_two:
            self.second.say_again()

    def _word_the_rest(self) -> None:
        """Put what stands beside the cells into the board's words."""
        self.workshop.word(self.board.wording)
        self._inquiry.word(self.board.wording)
        if self._found is not None:
            self._show_sweep(self._found)

    def _on_changed(self) -> None:
        """Let comparison and address follow the cells."""
        run_controllers = [self.first, self.second] if self.has_two else [self.first]
        options = {} if self.board.asking else {"ask": "off"}
        state = PageState(
            tuple(run_controller.setup.setup for run_controller in run_controllers),
            0,
            self.board.wording,
            options,
        )
        self.address.write(to_query(state), to_file(state))
        self._compared.value = self._comparison() if self.has_two else ""
        if self._found is not None and not self.first.may_tell:
            self._found = None  # it names what the class is asked now
            self._drawing = self._swept.value = ""
        elif self._found is not None:
            self._show_drawing()

    def _comparison(self) -> str:
        setups = self.first.setup.setup, self.second.setup.setup
        runs = self.first.run, self.second.run
        if runs[0] is None or runs[1] is None:
            return "<h2>Both cells</h2><p>Switch both on to compare them.</p>"
        if not all(run_controller.may_tell for run_controller in (self.first, self.second)):
            return f"<h2>Both cells</h2><p>{FIRST} of both cells.</p>"
        wording = self.board.wording
        found = compare_cells(*setups, (runs[0], runs[1]))
        differs, shared, outcome = in_board_words(
            (found.differences, found.same, found.outcome), wording
        )
        rows = "".join(
            f"<tr><th scope='row'>{escape(name)}</th><td>{escape(a)}</td><td>{escape(b)}</td></tr>"
            for name, a, b in differs
        )
        table = (
            "<table><caption>What differs</caption><thead><tr><th scope='col'>what</th>"
            f"<th scope='col'>first</th><th scope='col'>second</th></tr></thead><tbody>{rows}</tbody></table>"
            if rows
            else ""
        )
        same = f"<p class='fp-same'>The same: {escape(', '.join(shared))}.</p>"
        said = "".join(f"<p>{escape(sentence)}</p>" for sentence in outcome)
        overlay = [compared_curves(run) for run in (runs[0], runs[1])]
        drawings = "".join(
            f'<figure class="fp-graph">{_overlay(k, (name, worded), overlay, (runs[0], runs[1]))}</figure>'
            for k, (name, worded) in enumerate(
                zip(overlay[0], in_board_words(list(overlay[0]), wording), strict=True)
            )
            if max(float(np.abs(each[name]).max()) for each in overlay) > 0.01
        )
        return (
            f"<h2>Both cells</h2>{table}{same}<div role='status'>{said}</div>"
            f"<div class='fp-graphs'>{drawings}</div>"
        )


def _ending(name: str, short: dict[str, str]) -> str:
    """Call the electrode at the end of a line's name as the board does."""
    what, _, role = name.rpartition(", ")
    return f"{what}, {short.get(role, role)}" if what else name


def _overlay(
    k: int, titles: tuple[str, str], overlay: list[dict[str, Any]], runs: tuple[Any, Any]
) -> str:
    name, worded = titles
    lines = [
        Line(which, run.time_s / 60, found[name])
        for which, run, found in zip(("first", "second"), runs, overlay, strict=True)
    ]
    return graph(f"both-{k}", f"{worded}, both cells", ("Time, minutes", worded), lines)


def _column(run_controller: RunController, label: str) -> Any:
    heading = widgets.HTML(f"<h2>{label}</h2>")
    heading.add_class("fp-cell-name")
    column = widgets.Box([heading, *run_controller.parts])
    column.add_class("fp-cell")
    return column


def page(take_away: Callable[[str], str] | None = None) -> Any:
    """Return the Explore page as one widget to display.

    Parameters
    ----------
    take_away
        Makes a page to take away, as HTML, of the query of a link; without it that is not offered.
    """
    return Explore(take_away).widget
