"""How many programs may run: as many as a class needs; those of lost pages make room first."""

from __future__ import annotations

import asyncio
import time
from typing import Any

import zmq
from jupyter_core.utils import ensure_async
from jupyter_server.services.kernels.kernelmanager import AsyncMappingKernelManager
from tornado.ioloop import IOLoop
from tornado.web import HTTPError
from traitlets import Int, default

from fizzplate.share.allocator import give_back_now
from fizzplate.share.handlers import FULL, visitor
from fizzplate.share.limits import set_ceiling, takes_too_much

#: how long a page may stay away before its kernel may end to make room for another, s
GONE_S = 30.0
#: how long a page may stay away before its kernel ends, where room is not needed, s
ENDED_AFTER_S = 600.0
LOOKED_AT_EVERY_S = 10.0
#: a new page must have connected by then, s
CONNECTED_S = 120.0
#: what a page took is given back once its idle connections, which hold on to some of it, are closed, s
TRIM_AFTER_S = 30.0
WEIGHED_EVERY_S = 2.0
#: why a program was ended, for its page to tell
TOO_MUCH_MEMORY = "memory"


class ClassKernels(AsyncMappingKernelManager):
    """Kernels up to a number, each with the visitor whose page it runs.

    A closing page ends its kernel. If a page is lost without notice, by a crash or a phone that sleeps, its
    kernel ends after a while, or sooner where all are taken and this page went longest ago. The kernel of
    an open page never ends, unless it takes more memory than a page may. Times come from
    the monotonic clock, so setting the computer's clock ends no kernel.
    """

    max_kernels = Int(40, help="The largest number of kernels at once.").tag(config=True)

    @default("context")
    def _large_context(self) -> Any:
        """Return what makes the sockets to the programs: as many as it can, not the thousand it would."""
        context = super()._context_default()
        context.set(zmq.MAX_SOCKETS, context.get(zmq.SOCKET_LIMIT))
        return context

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)  # type: ignore[no-untyped-call]
        self._starting = 0
        self._trimming: asyncio.TimerHandle | None = None
        self._visitors: dict[str, str] = {}
        self._without_page_since: dict[str, float] = {}
        IOLoop.current().add_callback(self._end_the_lost)
        IOLoop.current().add_callback(self._end_the_greedy)

    async def start_kernel(self, **kwargs: Any) -> str:  # type: ignore[override]
        """Start a kernel for the visitor whose request this is.

        Raises
        ------
        HTTPError
            503 if all are taken, and none of their pages has gone.
        """
        if len(self) + self._starting >= self.max_kernels:
            await self._end_abandoned_kernel()
        self._starting += 1
        try:
            kernel_id = str(await super().start_kernel(**kwargs))
        finally:
            self._starting -= 1
        self._visitors[kernel_id] = visitor()
        if (pid := self._pid(kernel_id)) is not None:
            set_ceiling(pid)
        # if no page connects within CONNECTED_S, it counts as gone from then on
        self._without_page_since[kernel_id] = time.monotonic() + CONNECTED_S - GONE_S
        return kernel_id

    def belongs_to(self, kernel_id: str, name: str) -> bool:
        """Tell whether a kernel runs the page of that visitor."""
        return kernel_id in self and bool(name) and self._visitors.get(kernel_id) == name

    def notify_connect(self, kernel_id: str) -> None:
        """Note that a kernel has its page."""
        self._without_page_since.pop(kernel_id, None)
        super().notify_connect(kernel_id)  # type: ignore[no-untyped-call]

    def notify_disconnect(self, kernel_id: str) -> None:
        """Note when a kernel lost its page."""
        super().notify_disconnect(kernel_id)  # type: ignore[no-untyped-call]
        if kernel_id in self and not self._kernel_connections.get(kernel_id):
            self._without_page_since[kernel_id] = time.monotonic()

    def remove_kernel(self, kernel_id: str) -> Any:
        """Forget a kernel that has ended, and whose it was."""
        self._visitors.pop(kernel_id, None)
        self._without_page_since.pop(kernel_id, None)
        # a page that goes leaves its messages to be kept for the next, while its kernel is ending
        self.stop_buffering(kernel_id)  # type: ignore[no-untyped-call]
        if self._trimming is None:
            self._trimming = asyncio.get_running_loop().call_later(TRIM_AFTER_S, self._trim)
        return super().remove_kernel(kernel_id)

    def _end_the_lost(self) -> None:
        """Look now and at regular intervals; tornado's own repetition stops when the clock is set back."""
        asyncio.get_running_loop().call_later(LOOKED_AT_EVERY_S, self._end_the_lost)
        latest = time.monotonic() - ENDED_AFTER_S
        for kernel_id in [k for k, since in self._without_page_since.items() if since < latest]:
            self._without_page_since.pop(kernel_id, None)  # once is enough
            IOLoop.current().spawn_callback(self.shutdown_kernel, kernel_id, now=True)

    def _end_the_greedy(self) -> None:
        """End a program that holds more memory than a page's may; its page tells why."""
        asyncio.get_running_loop().call_later(WEIGHED_EVERY_S, self._end_the_greedy)
        for kernel_id, kernel in self._kernels.items():
            pid = self._pid(kernel_id)
            if pid is not None and not kernel.reason and takes_too_much(pid):
                kernel.reason = TOO_MUCH_MEMORY
                IOLoop.current().spawn_callback(kernel.provisioner.kill)

    def _pid(self, kernel_id: str) -> int | None:
        return getattr(self._kernels[kernel_id].provisioner, "pid", None)

    def _trim(self) -> None:
        self._trimming = None
        give_back_now()

    async def _end_abandoned_kernel(self) -> None:
        gone = min(self._without_page_since.items(), key=lambda item: item[1], default=None)
        if gone is None or time.monotonic() - gone[1] < GONE_S:
            raise HTTPError(FULL)
        del self._without_page_since[gone[0]]  # the next one asks for another
        await ensure_async(self.shutdown_kernel(gone[0], now=True))  # type: ignore[no-untyped-call]
