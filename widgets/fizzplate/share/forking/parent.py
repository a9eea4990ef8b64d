"""The warm parent itself: ``python -m fizzplate.share.forking.parent SOCKET LIFELINE``."""

from __future__ import annotations

import gc
import json
import os
import signal
import socket
import sys
import threading
from typing import TYPE_CHECKING

from fizzplate.share.forking.kernel import become_kernel
from fizzplate.share.forking.warming import warm

if TYPE_CHECKING:
    from collections.abc import Iterator


def requests(asked: socket.socket) -> Iterator[bytes]:
    """Give each request, four bytes of length and then itself, until the server has gone."""
    with asked.makefile("rb") as stream:
        while len(head := stream.read(4)) == len(b"four"):
            yield stream.read(int.from_bytes(head, "big"))


def main(asked: socket.socket, lifeline: int) -> None:
    """Warm up, then fork a kernel for each request and hand its descriptor over.

    Raises
    ------
    RuntimeError
        If a thread runs: it would not live on in what is forked, and what it holds would stay held.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    warm()
    if threading.active_count() > 1:
        raise RuntimeError(f"threads run in the warm parent: {threading.enumerate()}")
    signal.signal(signal.SIGCHLD, signal.SIG_IGN)  # nobody waits for the kernels that have ended
    gc.collect()
    gc.freeze()  # the collector would otherwise touch, and so copy, all that is shared
    for request in requests(asked):
        connection_file, environment, folder = json.loads(request)
        child = os.fork()
        if child == 0:
            asked.close()
            become_kernel(connection_file, environment, folder, lifeline)
            return
        descriptor = os.pidfd_open(child)
        socket.send_fds(asked, [str(child).encode()], [descriptor])
        os.close(descriptor)


if __name__ == "__main__":
    with socket.socket(fileno=int(sys.argv[1])) as channel:
        main(channel, int(sys.argv[2]))
