"""Sheets in a page, one shown at a time, each printed by itself."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING, Any

import traitlets

from fizzplate.views.web import Widget, style_text

if TYPE_CHECKING:
    from collections.abc import Iterable

    from fizzplate.lesson.prepare import Sheet


class Printing(Widget):
    """The sheets, with a button to print the one that is shown."""

    module = "paper/printing/printing.js"
    render = "renderPrinting"

    sheets: traitlets.List[dict[str, Any]] = traitlets.List(help="Titles, HTML and tabs.").tag(
        sync=True
    )

    busy = traitlets.Bool(help="Whether new sheets are being made: what is shown is old.").tag(
        sync=True
    )

    def __init__(self) -> None:
        super().__init__(style=style_text())

    def offer(self, sheets: Iterable[Sheet]) -> None:
        """Show these sheets."""
        with self.hold_sync():
            self.sheets = [asdict(sheet) for sheet in sheets]
            self.busy = False
