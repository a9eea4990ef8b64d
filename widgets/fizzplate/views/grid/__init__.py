"""A grid to type, paste or load a class's measurements into; kept in the browser."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import traitlets

from fizzplate.lesson.measure import (
    BY_KEY,
    COLUMNS,
    INVENTED_NOTE,
    MAX_FILE_BYTES,
    MAX_GROUPS,
    invented_rows,
)
from fizzplate.views.web import Widget, style_text
from fizzplate.words import Wording

if TYPE_CHECKING:
    from collections.abc import Callable


class Grid(Widget):
    """The class's table. Its content passes through the program's memory and is written nowhere.

    Parameters
    ----------
    changed
        Called after a cell, a unit, the note or the logger's file changed.
    """

    module = "grid/grid.js"
    render = "renderGrid"

    columns: traitlets.List[dict[str, Any]] = traitlets.List(help="Titles and units.").tag(
        sync=True
    )
    limits = traitlets.Dict(help="How large a file, how many groups.").tag(sync=True)
    invented = traitlets.Dict(help="A class set to try.").tag(sync=True)
    rows: traitlets.List[dict[str, str]] = traitlets.List(help="Text of every cell.").tag(sync=True)
    units: traitlets.Dict[str, str] = traitlets.Dict(help="Chosen units.").tag(sync=True)
    logger = traitlets.Dict(help="A logger's file: name and text.").tag(sync=True)
    refused = traitlets.Unicode(help="Id of the sentence that refuses the logger's file.").tag(
        sync=True
    )
    note = traitlets.Unicode(help="A note about the whole table: that it is invented.").tag(
        sync=True
    )
    remark = traitlets.Unicode(help="How the table was read, where that needs saying.").tag(
        sync=True
    )
    marks: traitlets.List[dict[str, Any]] = traitlets.List(help="Remarks about cells.").tag(
        sync=True
    )

    def __init__(self, changed: Callable[[], None]) -> None:
        super().__init__(
            style=style_text(),
            columns=_columns(Wording()),
            limits={"bytes": MAX_FILE_BYTES, "groups": MAX_GROUPS},
            invented={"rows": invented_rows(), "note": INVENTED_NOTE},
        )
        self.observe(lambda _: changed(), names=["rows", "units", "logger", "note"])

    def call(self, wording: Wording) -> None:
        """Name the electrodes over the columns as the board does."""
        self.columns = _columns(wording)

    def set_row(self, row: int, current_A: float, lasts_s: float) -> None:
        """Write a mean current and its time into a group's row, in the units of the table."""
        size = BY_KEY["current"].units.get(self.units.get("current", "A"), 1.0)
        minutes, seconds = divmod(lasts_s, 60)
        cells = {
            "current": f"{current_A / size:.5g}",
            "minutes": f"{minutes:.0f}",
            "seconds": f"{seconds:.4g}",
        }
        self.send({"row": row, "cells": cells})


def _columns(wording: Wording) -> list[dict[str, Any]]:
    return [
        {
            "key": each.key,
            "title": each.title_in(wording),
            "headings": list(each.headings),
            "units": list(each.units),
        }
        for each in COLUMNS
    ]
