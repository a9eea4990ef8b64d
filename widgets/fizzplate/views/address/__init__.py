"""The page's state in its address, and the small file that a list is saved as."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any

import anywidget
import traitlets

from fizzplate.views.modules import join_modules

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence


@cache
def _module_text() -> str:
    return join_modules("address/address.js", render="renderAddress")


class Address(anywidget.AnyWidget):
    """Reads the address once when the page opens, and keeps it true from then on.

    Parameters
    ----------
    opened
        Called with the query that the page was opened with.
    loaded
        Called with the text of a list that was opened; without it the page has no list to save or open.
    """

    _esm = traitlets.Unicode(help="The module that reads and writes.").tag(sync=True)
    opened = traitlets.Unicode(help="The query that the page was opened with.").tag(sync=True)
    query = traitlets.Unicode(help="The query of the page as it is.").tag(sync=True)
    file = traitlets.Unicode(help="The list as a file.").tag(sync=True)
    lists = traitlets.Bool(help="Whether the page has a list to save and open.").tag(sync=True)
    loaded = traitlets.Dict(help="A list that was opened, and when.").tag(sync=True)
    notices: traitlets.List[str] = traitlets.List(help="What was left out.").tag(sync=True)

    def __init__(
        self, opened: Callable[[str], None], loaded: Callable[[str], None] | None = None
    ) -> None:
        super().__init__(_esm=_module_text(), lists=loaded is not None)

        def on_opened(change: dict[str, Any]) -> None:
            opened(change["new"])

        def on_loaded(change: dict[str, Any]) -> None:
            if loaded is not None:
                loaded(str(change["new"].get("text", "")))

        self.observe(on_opened, names="opened")
        self.observe(on_loaded, names="loaded")

    def write(self, query: str, file: str = "") -> None:
        """Put the page's state in the address, and have its list, if any, ready to be saved."""
        with self.hold_sync():
            self.query = query
            self.file = file

    def say(self, notices: Sequence[str]) -> None:
        """Say what was left out."""
        self.notices = list(notices)
