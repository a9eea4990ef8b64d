"""Serve the pages with Voila, and leave nothing behind."""

from __future__ import annotations

import os
import sys
import webbrowser
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from fizzplate.share.allocator import give_back
from fizzplate.share.folder import private_folder
from fizzplate.share.forking import ForkedKernel, WarmParent, can_fork
from fizzplate.share.limits import raise_open_files
from fizzplate.share.settings import settings
from fizzplate.share.stopping import StopRequest, watchdog_process

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping
    from pathlib import Path

    from fizzplate.share.network import Place

#: tells the pages under which address others reach them
CLASS_LINK = "FIZZPLATE_CLASS_LINK"
#: tells the pages that this server can gather the answers of a class
HAS_ROOM = "FIZZPLATE_ROOM"
MAX_BODY_BYTES = 65_536  # bytes; no page posts more than a few
MAX_HEADER_BYTES = 16_384  # bytes
IDLE_CONNECTION_S = 20  # for whoever opens a connection and then says nothing


@contextmanager
def warm_parent() -> Iterator[None]:
    """Have kernels forked from one parent where the system can, and end it with the server."""
    if not can_fork():
        print("Each page starts a program of its own, one by one.", file=sys.stderr)  # noqa: T201
        yield
        return
    parent = WarmParent()
    parent.start()
    ForkedKernel.warm_parent = parent
    try:
        yield
    finally:
        ForkedKernel.warm_parent = None
        parent.close()


def serve(
    pages: Mapping[str, Path],
    place: Place,
    *,
    max_kernels: int,
    first: str = "",
    site: Path | None = None,
    on_listening: Callable[[], None],
) -> None:
    """Serve pages until asked to stop.

    Ctrl-C, a polite request to end and a closed terminal all stop it.

    Parameters
    ----------
    pages
        Notebooks by the path under which each is shown.
    place
        Where to serve; the port is free.
    max_kernels
        How many kernels may run at once, one for each open page.
    first
        The page that the class's link leads to; the home page if empty.
    site
        A folder that ``fizzplate site`` wrote, for those whose line is slow.
    on_listening
        Called once, when the pages can be opened.
    """
    give_back()
    _leave_out()
    request = StopRequest()
    request.heed_signals()
    raise_open_files()
    with private_folder() as folder, watchdog_process(folder) as on_loop_stop, warm_parent():
        os.environ[CLASS_LINK] = "" if place.is_local else place.class_address()
        os.environ[HAS_ROOM] = "yes"
        if request.is_set:  # what follows takes seconds
            on_loop_stop()
            return
        from fizzplate.share.handlers import compile_once  # it loads what must be left out before

        compiled = folder / "templates"
        compiled.mkdir()
        compile_once(compiled)
        server = _server(pages, place, first, site, request, on_listening, on_loop_stop)
        config = settings(folder, place, max_kernels)
        config.Voila.root_dir = os.path.commonpath([notebook.parent for notebook in pages.values()])
        server.launch_instance(argv=[], config=config)


def _leave_out() -> None:
    """Keep from being loaded what takes long and checks nothing here: a grammar of addresses in schemas."""
    sys.modules.setdefault("rfc3987_syntax", None)  # type: ignore[arg-type]  # how an import is told to fail


def open_browser(address: str) -> None:
    """Open the reader's browser, where there is one."""
    if _has_screen():
        webbrowser.open(address)


def _server(
    pages: Mapping[str, Path],
    place: Place,
    first: str,
    site: Path | None,
    request: StopRequest,
    on_listening: Callable[[], None],
    on_loop_stop: Callable[[], None],
) -> Any:
    from jupyter_core.utils import run_sync
    from tornado.ioloop import IOLoop
    from voila.app import Voila

    from fizzplate.share.handlers import PLAIN_PAGES, FrontEnd, plain_pages, routes

    class Server(Voila):  # type: ignore[misc]  # Voila ships no types
        """Voila with our own addresses, which says when it listens and stops its kernels at once."""

        def init_handlers(self) -> list[Any]:
            """Serve what the pages need, and nothing else that Voila or Jupyter offer."""
            refusals = plain_pages(self.app.settings["voila_jinja2_env"], self.base_url)
            self.app.settings[PLAIN_PAGES] = refusals
            program = {**FrontEnd.program(self.static_paths), "has_site": site is not None}
            self.voila_configuration.page_config_hook = lambda page_config, **_: {
                **page_config,
                "program": program,
            }
            return routes(self, pages, place, first, site)

        def listen(self) -> None:
            """Open the port and answer until asked to stop."""
            self.app.listen(
                place.port,
                place.host,
                max_body_size=MAX_BODY_BYTES,
                max_header_size=MAX_HEADER_BYTES,
                idle_connection_timeout=IDLE_CONNECTION_S,
            )
            self.ioloop = IOLoop.current()
            request.applies_to(self.ioloop.asyncio_loop)  # type: ignore[attr-defined]  # untyped
            try:
                if not request.is_set:
                    on_listening()
                self.ioloop.start()
            finally:
                on_loop_stop()
                self.stop()

        def _handle_signal_stop(self, *_: object) -> None:
            request.ask()

        def stop(self) -> None:
            """Stop the kernels first: a running one could still write into the private folder."""
            run_sync(self.kernel_manager.shutdown_all)(now=True)

    return Server


def _has_screen() -> bool:
    """Tell whether a browser has somewhere to show; without, Linux may offer one in letters."""
    return sys.platform != "linux" or any(
        os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY")
    )
