"""What each address shows: the home page, every page, the class's link to project, and refusals."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any
from urllib.parse import parse_qsl, urlencode

from jupyter_server.base.handlers import JupyterHandler
from tornado.web import HTTPError
from voila.handler import BaseVoilaHandler
from voila.tornado.handler import TornadoVoilaHandler

from fizzplate.lesson import from_query
from fizzplate.share.handlers.home import about
from fizzplate.share.handlers.refusal_handler import (
    DISK_FULL,
    FAILED,
    FULL,
    RETRY_AFTER_S,
    RefusalHandler,
)
from fizzplate.share.handlers.teacher import take_teacher_key
from fizzplate.share.limits import require_files
from fizzplate.views.web.address import TooLongError, code_of

if TYPE_CHECKING:
    from fizzplate.share.network import Place

PLAIN_PAGES = "plain_pages"  # among the server's settings
READABLE = ";,=:"  # what a link's query holds besides letters and numbers


class _PageHandler(RefusalHandler, BaseVoilaHandler):  # type: ignore[misc]  # Voila ships no types
    """A page for visitors who may open it, and a plain refusal for others."""

    names_visitors = True  # a visitor who has no name yet gets one with it

    async def prepare(self) -> None:
        # there is nothing to log in to: a visitor without the key is refused
        await super().prepare(_redirect_to_login=False)  # type: ignore[call-arg,misc]  # Jupyter's
        take_teacher_key(self)

    @property
    def query(self) -> str:
        """The rest of the address without the key: above all a class's set-up."""
        pairs = parse_qsl(self.request.query)
        return urlencode([pair for pair in pairs if pair[0] != "key"], safe=READABLE)

    def write_error(self, status_code: int, **_: Any) -> None:
        """Show what is wrong as a page, and what can be done."""
        if status_code in {FULL, DISK_FULL}:
            self.set_header("Retry-After", str(RETRY_AFTER_S))
        self.set_header("Content-Type", "text/html; charset=utf-8")
        self.set_header("Cache-Control", "no-store")
        pages = self.settings[PLAIN_PAGES]
        self.finish(pages.get(status_code, pages[FAILED]))


class Home(_PageHandler):
    """The home page: what there is, and what is kept."""

    def get(self) -> None:
        """Show it; a class's set-up in the address goes on to the pages."""
        query = self.query
        state, _ = from_query(query)
        self.set_header("Cache-Control", "no-store")
        self.finish(
            self.render_template(
                "home.html",
                **about(),
                base="",
                ending="",
                links=True,
                query=f"?{query}" if query else "",
                cells=[setup.label for setup in state.cells] if query else [],
            )
        )


class ClassLink(_PageHandler):
    """The class's link, large enough to be read and scanned from the back of a room."""

    def initialize(self, place: Place, path: str, **options: Any) -> None:
        """Take what the link leads to."""
        super().initialize(**options)
        self._place = place
        self._path = path

    def get(self) -> None:
        """Show it; a class's set-up in the address goes on into the link."""
        link = self._place.class_address(self._path, self.query)
        try:
            code, refusal = code_of(link), ""
        except TooLongError as problem:
            code, refusal = None, str(problem)
        self.set_header("Cache-Control", "no-store")
        self.finish(
            self.render_template(
                "class-link.html",
                link=link,
                code=code,
                refusal=refusal,
                reaches_others=not self._place.is_local,
            )
        )


class Page(_PageHandler, TornadoVoilaHandler):  # type: ignore[misc]  # Voila ships no types
    """A page with a kernel of its own."""

    async def prepare(self) -> None:
        """Refuse it while there is room to say so."""
        require_files()
        await super().prepare()


class NotFound(_PageHandler):
    """Whatever else is asked for."""

    names_visitors = False

    async def prepare(self) -> None:
        """Refuse it, whoever asks."""
        await JupyterHandler.prepare(self, _redirect_to_login=False)
        raise HTTPError(404)
