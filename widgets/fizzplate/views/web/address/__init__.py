"""The page's state in its address, the links to it, and the files that it is saved as.

What a reload or a lost program must bring back travels like this:

``page_state`` (trait, Python to browser)
    The whole state of the page as JSON text, written by Python at every change. The browser does
    not read it: it keeps it in ``sessionStorage``, a place for each page and tab, and gives it back
    as it is.
``{"page_state": text, "field_texts": {key: text}}`` (message, browser to Python)
    Sent once, after a reload or a lost program, behind ``link_query`` if that is set too.
    ``page_state`` is the trait as it was kept. ``field_texts`` is what the text fields held when the
    page went, sent or not, each by its control's key. The control's element has the class
    ``fp-key-KEY`` (letters, digits, ``-`` and ``_``; its field is the ``input`` or ``textarea``
    inside). Python applies the state as a whole, switches included, and then each text that differs;
    a text of more than 20,000 characters is cut, a state of more than 1 MB is not kept.
``{"ready": true}`` (message, Python to browser)
    The answer, also where the state could not be read (then a notice says so). From then on the
    browser keeps what it sees; until then it keeps what it had.

Python restores every control that has a key, folds and closed switches among them: the browser sets
none of these and presses nothing. What only the browser knows (tabs, room switches, the workshop's
lines, the explanation's step, the sheet that is shown and its paper) the browser keeps by keys of
its own (``data-fp-key``) and restores by itself.
"""

from __future__ import annotations

import os
from dataclasses import asdict
from functools import cache
from importlib import resources
from typing import TYPE_CHECKING, Any

import traitlets

from fizzplate.views.web.address.codes import TooLongError, code_of
from fizzplate.views.web.widget import Widget

__all__ = [
    "ACCESS_PARAMETERS",
    "NOT_MADE",
    "TAKEN_AWAY",
    "Address",
    "TooLongError",
    "code_of",
]


if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

TAKEN_AWAY = "fizzplate.html"
NOT_MADE = "The page could not be made."
#: what lets a reader in at a server, which is no part of what a page shows
ACCESS_PARAMETERS = {"key", "token"}


@cache
def _look() -> str:
    return resources.files(__package__).joinpath("address.css").read_text(encoding="utf-8")


def _class_link() -> str:
    """Return the address at which others reach this server, if the server gave one."""
    return os.environ.get("FIZZPLATE_CLASS_LINK", "")


def _requested_query() -> str:
    """Return the query of the page's address, if the server passed it on: Voila does."""
    if not os.environ.get("SERVER_SOFTWARE", "").startswith("voila"):
        return ""
    parts = os.environ.get("QUERY_STRING", "").split("&")
    state = [part for part in parts if part and part.partition("=")[0] not in ACCESS_PARAMETERS]
    return f"?{'&'.join(state)}" if state else ""


class Address(Widget):
    """Reads the address once when the page opens, and keeps it up to date from then on.

    Parameters
    ----------
    on_query
        Called with the query of a link, when the page is opened or set to it.
    on_list
        Called with the text of a list that the reader opens; without it the page has no list to save or open.
    link_description
        What the page's link opens, as a sentence.
    take_away
        Called with the query of the page as it is; gives a page to take away, as HTML. Without it the
        page cannot be taken away.
    restore
        Called after a reload or a lost program with the state that the browser kept and the texts of
        fields by their keys.
    """

    module = "web/address/address.js"
    render = "renderAddress"

    link_query = traitlets.Unicode(help="The query that the page was opened with.").tag(sync=True)
    applied_query = traitlets.Unicode(help="The query that the page has been set to.").tag(
        sync=True
    )
    query = traitlets.Unicode(help="The query of the page as it is.").tag(sync=True)
    file = traitlets.Unicode(help="The list as a file.").tag(sync=True)
    has_list = traitlets.Bool(help="Whether the page has a list to save and open.").tag(sync=True)
    uploaded_file = traitlets.Dict(help="A list that the reader opened, and when.").tag(sync=True)
    notices: traitlets.List[str] = traitlets.List(help="What was left out.").tag(sync=True)
    link_description = traitlets.Unicode(help="What the link opens, as a sentence.").tag(sync=True)
    class_link = traitlets.Unicode(help="The address that others reach.").tag(sync=True)
    can_take_away = traitlets.Bool(help="Whether the page can be taken away.").tag(sync=True)
    page_state = traitlets.Unicode(help="The page's state, for the browser to keep.").tag(sync=True)

    def __init__(
        self,
        on_query: Callable[[str], None],
        on_list: Callable[[str], None] | None = None,
        *,
        link_description: str = "",
        take_away: Callable[[str], str] | None = None,
        restore: Callable[[str, Mapping[str, str]], None] | None = None,
    ) -> None:
        super().__init__(
            style=_look(),
            has_list=on_list is not None,
            link_description=link_description,
            class_link=_class_link(),
            can_take_away=take_away is not None,
        )
        self._on_query, self._take_away, self._restore = on_query, take_away, restore

        def on_uploaded_file(change: dict[str, Any]) -> None:
            if on_list is not None:
                self.notices = []  # what is said of this list is news, if it is the same again
                on_list(str(change["new"].get("text", "")))

        self.observe(lambda change: self._follow(change["new"]), names="link_query")
        self.observe(on_uploaded_file, names="uploaded_file")
        self.on_msg(self._on_message)

    def open_at_once(self) -> bool:
        """Open the page as its link says before anyone sees it; tell whether a link was known."""
        if query := _requested_query():
            self._follow(query)
        return bool(query)

    def write(self, query: str, file: str = "", page_state: str = "") -> None:
        """Give the browser the page's state.

        Parameters
        ----------
        query
            For the address and for links.
        file
            The list to save, if the page has one.
        page_state
            The whole state, for the browser to keep.
        """
        with self.hold_sync():
            self.query = query
            self.file = file
            self.page_state = page_state

    def say(self, notices: Sequence[str]) -> None:
        """Say what was left out."""
        self.notices = list(notices)

    def _follow(self, query: str) -> None:
        self._on_query(query)
        self.applied_query = query

    def _on_message(self, _: object, message: dict[str, Any], _buffers: object) -> None:
        """Answer the page: the code of a link, a page to take away, the state that the browser kept."""
        if "code" in message:
            self._draw_code(str(message["code"]))
        elif "takeAway" in message and self._take_away is not None:
            self._make_page(self._take_away)
        elif "page_state" in message and self._restore is not None:
            self._answer_restore(self._restore, message)

    def _answer_restore(
        self, restore: Callable[[str, Mapping[str, str]], None], message: dict[str, Any]
    ) -> None:
        field_texts = message.get("field_texts")
        texts = field_texts.items() if isinstance(field_texts, dict) else ()
        try:
            restore(str(message["page_state"]), {str(key): str(text) for key, text in texts})
        finally:
            self.send({"ready": True})  # the page must not wait for ever

    def _draw_code(self, link: str) -> None:
        try:
            self.send({"link": link, "code": asdict(code_of(link))})
        except TooLongError as refusal:
            self.send({"link": link, "refused": str(refusal)})

    def _make_page(self, take_away: Callable[[str], str]) -> None:
        try:
            text = take_away(self.query)
        except ValueError as refusal:
            self.send({"notMade": f"{NOT_MADE} {refusal}"})
        except Exception:
            self.send({"notMade": NOT_MADE})  # the page must not wait for ever
            raise
        else:
            self.send({"page": TAKEN_AWAY}, buffers=[text.encode()])
