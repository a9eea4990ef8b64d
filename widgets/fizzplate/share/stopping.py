"""Stopping when told to: by Ctrl-C, by a polite request to end, by a terminal that closes."""

from __future__ import annotations

import signal
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import asyncio

SIGNALS = [
    getattr(signal, name) for name in ("SIGINT", "SIGTERM", "SIGHUP") if hasattr(signal, name)
]


class StopRequest:
    """A request to stop an event loop, kept until there is one.

    Nothing is interrupted half-way: a request during the start takes effect as soon as the loop
    runs, and a second one, by someone impatient, does not disturb the tidying up.

    Examples
    --------
    >>> request = StopRequest()
    >>> request.ask()
    >>> request.asked
    True
    """

    def __init__(self) -> None:
        self.asked = False
        self._loop: asyncio.AbstractEventLoop | None = None

    def heed_signals(self) -> None:
        """Take this process's stop signals as the request."""
        for number in SIGNALS:
            signal.signal(number, self.ask)

    def ask(self, *_: object) -> None:
        """Ask for the stop; the arguments are those of a signal handler."""
        if not self.asked and self._loop is not None:
            self._loop.call_soon_threadsafe(self._loop.stop)
        self.asked = True

    def applies_to(self, loop: asyncio.AbstractEventLoop) -> None:
        """Name the loop to stop, which is about to run."""
        self._loop = loop
        if self.asked:
            loop.call_soon(loop.stop)
