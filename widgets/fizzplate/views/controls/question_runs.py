"""Cells that a question leads back to: run and shown below it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import ipywidgets as widgets

from fizzplate.cell.solver import ConvergenceError
from fizzplate.lesson import read_cell
from fizzplate.views.bench import About, Bench
from fizzplate.views.controls.run_controller import SAMPLES
from fizzplate.views.web import render
from fizzplate.words import InputError, page_quantity

if TYPE_CHECKING:
    from fizzplate.lesson import Wording

MAX_CELLS = 2


class QuestionRuns:
    """Up to two cells side by side, made when they are first wanted.

    Attributes
    ----------
    box
        The widget that holds them.
    benches
        Those that are shown.
    cells
        The cells that they show, as links write them.
    """

    def __init__(self) -> None:
        self._benches: list[Bench] = []
        self._columns: list[widgets.Box] = []
        self._heading = widgets.HTML()
        self._row = widgets.Box([])
        self._row.add_class("fp-cells")
        self.benches: list[Bench] = []
        self.cells = ""
        self.box = widgets.Box([])
        self.box.add_class("fp-watched")

    def show(self, cells: str, wording: Wording) -> None:
        """Run cells and show them.

        Parameters
        ----------
        cells
            As links write them, with semicolons between them; more than two are cut off.
        wording
            The board's.
        """
        captions = []
        self.cells = cells
        self.benches = []
        for k, text in enumerate(cells.split(";")[:MAX_CELLS]):
            bench = self._bench(k)
            try:
                setup, _ = read_cell(text)
                run = setup.run(SAMPLES)
            except (InputError, ConvergenceError) as refusal:
                captions.append(f"{text}: {refusal}")
                continue
            bench.show(run, About(label=setup.label_in(wording), wording=wording))
            rods = f"{setup.cathode} −, {setup.anode} +"
            captions.append(
                f"{setup.label_in(wording)}, electrodes: {rods}, {page_quantity(setup.minutes, 'minutes')}"
            )
            self.benches.append(bench)
        self._heading.value = render("controls/templates/question_runs.html.j2", cells=captions)
        shown = self._columns[: len(self.benches)]
        self._row.children = shown
        (self._row.add_class if len(shown) > 1 else self._row.remove_class)("fp-two-cells")
        self.box.children = [self._heading, self._row]

    def _bench(self, k: int) -> Bench:
        """Return the bench of one place, making it the first time."""
        if k == len(self._benches):
            bench = Bench(("watched cell", "second watched cell")[k])
            bench.add_class("fp-bench-host")
            column = widgets.Box([bench])
            column.add_class("fp-cell")
            self._benches.append(bench)
            self._columns.append(column)
        return self._benches[k]
