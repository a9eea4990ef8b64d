"""The server's side of the warm parent: start it, and ask it for kernels."""

from __future__ import annotations

import asyncio
import json
import os
import socket
import subprocess
import sys
import threading
from typing import TYPE_CHECKING

from fizzplate.share.forking.process import ForkedProcess

if TYPE_CHECKING:
    from collections.abc import Mapping

#: how long a kernel may take to appear, s: the parent's imports on a slow machine, above all
PATIENCE_S = 60.0
MAX_ANSWER_BYTES = 4096  # of an answer
#: the small systems of the model are solved by one thread, and threads do not survive a fork
ONE_THREAD = dict.fromkeys(("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"), "1")


class ForkError(RuntimeError):
    """The warm parent made no kernel."""


def can_fork() -> bool:
    """Tell whether this system can hold a forked process by a descriptor: Linux can."""
    return sys.platform == "linux" and hasattr(os, "pidfd_open")


class WarmParent:
    """One process that has imported everything, and forks a kernel for each that is asked for.

    The server asks it over a pair of sockets that no other process can reach. When it has ended, the next
    request starts a new one; kernels that it forked go on. They and it end when the server has gone.
    """

    def __init__(self) -> None:
        self._asking = threading.Lock()
        self._process: subprocess.Popen[bytes] | None = None
        self._socket: socket.socket | None = None
        self._lifeline_kernels, self._lifeline = os.pipe()

    def start(self) -> None:
        """Start it; it warms up by itself."""
        ours, its = socket.socketpair()
        ours.settimeout(PATIENCE_S)
        inherited = (its.fileno(), self._lifeline_kernels)
        program = [sys.executable, "-m", "fizzplate.share.forking.parent", *map(str, inherited)]
        with its:
            self._process = subprocess.Popen(  # noqa: S603  # our own interpreter and module
                program,
                pass_fds=inherited,
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
                env={**os.environ, **ONE_THREAD},
                start_new_session=True,
            )
        self._socket = ours

    @property
    def pid(self) -> int | None:
        """Its process, if it has been started."""
        return self._process.pid if self._process else None

    async def fork(
        self, connection_file: str, environment: Mapping[str, str], folder: str
    ) -> ForkedProcess:
        """Have a kernel forked.

        Raises
        ------
        ForkError
            If it made none, twice.
        """
        request = json.dumps([connection_file, {**environment, **ONE_THREAD}, folder]).encode()
        return await asyncio.to_thread(self._ask, request)

    def close(self) -> None:
        """End it, and the kernels with it."""
        os.close(self._lifeline)
        os.close(self._lifeline_kernels)
        self._drop()

    def _ask(self, request: bytes) -> ForkedProcess:
        with self._asking:
            try:
                return self._ask_once(request)
            except (OSError, ForkError):  # it was ended from outside: the next may do better
                self._drop()
                self.start()
            try:
                return self._ask_once(request)
            except OSError as problem:
                raise ForkError(f"the warm parent did not answer: {problem}") from problem

    def _ask_once(self, request: bytes) -> ForkedProcess:
        if self._socket is None:
            raise ForkError("the warm parent has not been started")
        self._socket.sendall(len(request).to_bytes(4, "big") + request)
        answer, descriptors, _, _ = socket.recv_fds(self._socket, MAX_ANSWER_BYTES, 1)
        if not descriptors:
            raise ForkError("the warm parent has ended")
        return ForkedProcess(int(answer), descriptors[0])

    def _drop(self) -> None:
        if self._socket is not None:
            self._socket.close()
            self._socket = None
        if self._process is not None:
            self._process.kill()
            self._process.wait()
            self._process = None
