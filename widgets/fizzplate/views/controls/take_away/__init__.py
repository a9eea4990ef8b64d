"""Results to take away: figures as CSV, charts as pictures, the page as a printed report."""

from __future__ import annotations

from functools import cache

import anywidget
import traitlets

from fizzplate.views.web.module_joining import join_modules


@cache
def _module_text() -> str:
    return join_modules("controls/take_away/take_away.js", render="renderTaking")


class Taking(anywidget.AnyWidget):
    """Buttons that save what the page shows."""

    _esm = traitlets.Unicode(help="The module that saves.").tag(sync=True)
    csv = traitlets.Unicode(help="The results as CSV.").tag(sync=True)

    def __init__(self) -> None:
        super().__init__(_esm=_module_text())

    def offer(self, csv: str) -> None:
        """Have these results ready to be saved."""
        self.csv = csv
