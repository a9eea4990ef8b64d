"""The teacher's list of solutions: one press puts one in the cell; it can be added to and reordered."""

from __future__ import annotations

from typing import TYPE_CHECKING

import ipywidgets as widgets

from fizzplate.views.controls.fields import fold, tool

if TYPE_CHECKING:
    from collections.abc import Callable, Container

    from fizzplate.lesson import CellSetup

MAX_CELLS = 24


class CellList:
    """The list of cells, and which of them is at the bench.

    Parameters
    ----------
    cells
        What it opens on.
    chosen
        Called after another cell of the list was chosen, or the list was changed.

    Attributes
    ----------
    bar, tools
        The widget with the solutions, and the one with what changes the list.
    cells, at
        The set-ups, and which of them is in the cell.
    """

    def __init__(self, cells: tuple[CellSetup, ...], chosen: Callable[[], None]) -> None:
        self._chosen = chosen
        self.cells = list(cells)
        self.at = 0
        self._run: Container[CellSetup] = ()
        self._with_changes: tuple[CellSetup, ...] = ()
        self._entries = widgets.HBox()
        self._entries.add_class("fp-solutions")
        self.tools = widgets.HBox(
            [
                tool(
                    "Add a copy",
                    self._add,
                    tooltip="Add a copy of this solution, which you can change",
                ),
                tool("Move earlier", lambda: self._move(-1), tooltip="Move it one place earlier"),
                tool("Move later", lambda: self._move(+1), tooltip="Move it one place later"),
                tool("Remove", self._remove, tooltip="Take it off the list"),
            ]
        )
        self.tools.add_class("fp-tools")
        next_one = tool("Next", self.next, tooltip="Put the next solution in the cell")
        edit = fold("Lesson settings", self.tools, key="lesson-settings")
        self.bar = widgets.HBox([self._entries, next_one, edit])
        self.bar.add_class("fp-list")
        self._draw()

    @property
    def current(self) -> CellSetup:
        """What is in the cell."""
        return self.cells[self.at]

    def open(self, cells: tuple[CellSetup, ...], at: int) -> None:
        """Show another list."""
        self.cells, self.at = list(cells), at
        self._draw()

    def replace(self, setup: CellSetup) -> None:
        """Change the cell that is shown; the others stay."""
        self.cells[self.at] = setup
        self._draw()

    def forget_changes(self) -> None:
        """Leave out what was changed during runs, for a new class."""
        self._with_changes = tuple(self.cells)
        self.cells = [each.unchanged for each in self.cells]

    def bring_changes_back(self) -> None:
        """Bring back what was changed, in those cells of the list that are still there."""
        changed = {each.unchanged: each for each in self._with_changes}
        self.cells = [changed.get(each, each) for each in self.cells]

    def tick(self, run: Container[CellSetup]) -> None:
        """Tick the cells that have been run."""
        self._run = run
        self._draw()

    def next(self) -> None:
        """Put the next solution in the cell; after the last comes the first."""
        self._choose((self.at + 1) % len(self.cells))

    def _choose(self, at: int) -> None:
        self.at = at
        self._chosen()  # the page follows first: what is saved then is the list that is seen
        self._draw()

    def _add(self) -> None:
        if len(self.cells) < MAX_CELLS:
            self.cells.insert(self.at + 1, self.current)
            self._choose(self.at + 1)

    def _move(self, by: int) -> None:
        to = self.at + by
        if 0 <= to < len(self.cells):
            self.cells[self.at], self.cells[to] = self.cells[to], self.cells[self.at]
            self._choose(to)

    def _remove(self) -> None:
        if len(self.cells) > 1:
            del self.cells[self.at]
            self._choose(min(self.at, len(self.cells) - 1))

    def _draw(self) -> None:
        """Make the buttons match the list, keeping existing ones."""
        entries = list(self._entries.children)
        while len(entries) < len(self.cells):
            at = len(entries)
            entry = widgets.Button()
            entry.add_class("fp-choice")
            entry.on_click(lambda _, at=at: self._choose(at))
            entries.append(entry)
        shown = tuple(entries[: len(self.cells)])
        for at, (entry, setup) in enumerate(zip(shown, self.cells, strict=True)):
            entry.description = f"{'✓ ' if setup in self._run else ''}{setup.label}"
            (entry.add_class if at == self.at else entry.remove_class)("fp-chosen")
        if shown != self._entries.children:
            self._entries.children = shown
