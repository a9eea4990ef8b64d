"""Stopping when asked: by Ctrl-C, by a polite request to end, by a terminal that closes."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from contextlib import contextmanager
from typing import TYPE_CHECKING

from fizzplate.share import watchdog

if TYPE_CHECKING:
    import asyncio
    from collections.abc import Callable, Iterator
    from pathlib import Path

SIGNALS = [
    getattr(signal, name) for name in ("SIGINT", "SIGTERM", "SIGHUP") if hasattr(signal, name)
]
PATIENCE_S = 10.0  # for the loop to stop, after a request


class StopRequest:
    """A request to stop an event loop, kept until there is one.

    Nothing is interrupted half-way: a request during the start takes effect as soon as the loop
    runs, and a second one, by someone impatient, does not disturb the tidying up.

    Examples
    --------
    >>> request = StopRequest()
    >>> request.ask()
    >>> request.is_set
    True
    """

    def __init__(self) -> None:
        self.is_set = False
        self._loop: asyncio.AbstractEventLoop | None = None

    def heed_signals(self) -> None:
        """Let this process's stop signals make the request."""
        for number in SIGNALS:
            signal.signal(number, self.ask)

    def ask(self, *_: object) -> None:
        """Ask for the stop; the arguments are those of a signal handler."""
        if not self.is_set and self._loop is not None:
            self._loop.call_soon_threadsafe(self._loop.stop)
        self.is_set = True

    def applies_to(self, loop: asyncio.AbstractEventLoop) -> None:
        """Name the loop to stop, which is about to run."""
        self._loop = loop
        if self.is_set:
            loop.call_soon(loop.stop)


@contextmanager
def watchdog_process(folder: Path) -> Iterator[Callable[[], None]]:
    """Start a second process that makes sure of the stop, whatever hangs here.

    When the loop has not stopped ten seconds after a request, or one second after a second request,
    it ends this process. However this one ends, it ends what was started here and removes the folder.
    Windows has no such signals, and no watchdog.

    Yields
    ------
    callable
        To be called when the loop has stopped: what follows has its own time.
    """
    if sys.platform == "win32":
        yield lambda: None
        return
    read_end, write_end = os.pipe()
    program = [watchdog.__file__, str(os.getpid()), str(folder), str(PATIENCE_S)]
    process = subprocess.Popen(  # noqa: S603  # our own interpreter and module
        [sys.executable, "-I", "-S", *program],
        stdin=read_end,
        stdout=subprocess.DEVNULL,
        env={},  # by which it tells what was started here from itself
        start_new_session=True,  # a Ctrl-C in the terminal is the server's
    )
    os.close(read_end)
    os.set_blocking(write_end, False)
    before = signal.set_wakeup_fd(write_end, warn_on_full_buffer=False)

    def report_stop() -> None:
        os.write(write_end, bytes([watchdog.LOOP_HAS_STOPPED]))

    try:
        yield report_stop
    finally:
        signal.set_wakeup_fd(before)
        os.close(write_end)
        process.wait()
