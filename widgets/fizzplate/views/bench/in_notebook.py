"""The bench below a notebook's cell: a run or a cell at rest, without a page about it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any
from uuid import uuid4

import ipywidgets as widgets

from fizzplate.cell import Cell, Run
from fizzplate.views.bench.widget import About, Bench
from fizzplate.words import InputError

if TYPE_CHECKING:
    from collections.abc import Mapping


class NotebookBench(widgets.Box):  # type: ignore[misc]  # its package has no types
    """A bench with the look of a page; where no widget can be drawn, it says in words what it shows.

    Parameters
    ----------
    shown
        A run, which plays, or a cell, which rests.

    Raises
    ------
    InputError
        If it is neither.

    Examples
    --------
    >>> bench = NotebookBench(Cell("CuSO4").run(minutes=2))
    >>> bench.words.partition(" in ")[0]
    'Drawing of the cell: copper(II) sulfate'
    """

    def __init__(self, shown: Run | Cell) -> None:
        if not isinstance(shown, Run | Cell):
            raise InputError("shown", shown, "a run, such as fp.Cell('CuSO4').run(10), or a cell")
        cell = shown.cell if isinstance(shown, Run) else shown
        self.bench = Bench()
        self.bench.add_class("fp-bench-host")
        about = About(key=uuid4().hex, label=cell.name)
        if isinstance(shown, Run):
            self.bench.show(shown, about)
        else:
            self.bench.rest(shown, about)
        super().__init__([self.bench])
        for name in ("fp-page", "fp-column-page", "fp-alone"):
            self.add_class(name)

    @property
    def words(self) -> str:
        """What the bench shows, in words."""
        lesson: Mapping[str, Any] = self.bench.lesson
        said = [sentence for _, sentence in lesson["narration"]]
        return ". ".join([lesson["picture"], *said[:1]])

    def _repr_mimebundle_(self, **options: Any) -> dict[str, Any]:
        bundle: dict[str, Any] = super()._repr_mimebundle_(**options)
        return bundle | {"text/plain": self.words}
