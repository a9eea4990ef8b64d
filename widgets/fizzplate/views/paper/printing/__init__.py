"""Sheets in a page, one shown at a time, each printed by itself."""

from __future__ import annotations

from dataclasses import asdict
from functools import cache
from typing import TYPE_CHECKING, Any

import anywidget
import traitlets

from fizzplate.views.web.module_joining import join_modules
from fizzplate.views.web.stylesheets import style_text

if TYPE_CHECKING:
    from collections.abc import Iterable

    from fizzplate.lesson.prepare.sheets import Sheet


@cache
def _module_text() -> str:
    return join_modules("paper/printing/printing.js", render="renderPrinting")


class Printing(anywidget.AnyWidget):
    """The sheets, with a button to print the one that is shown."""

    _esm = traitlets.Unicode(help="The module that draws.").tag(sync=True)
    _css = traitlets.Unicode(help="The look.").tag(sync=True)
    sheets: traitlets.List[dict[str, Any]] = traitlets.List(help="Titles and HTML.").tag(sync=True)

    busy = traitlets.Bool(help="Whether new sheets are being made: what is shown is old.").tag(
        sync=True
    )

    def __init__(self) -> None:
        super().__init__(_esm=_module_text(), _css=style_text())

    def offer(self, sheets: Iterable[Sheet]) -> None:
        """Show these sheets."""
        with self.hold_sync():
            self.sheets = [asdict(sheet) for sheet in sheets]
            self.busy = False
