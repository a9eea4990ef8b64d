"""The warm parent itself: ``python -m fizzplate.share.forking.parent SOCKET LIFELINE``."""

from __future__ import annotations

import gc
import json
import os
import select
import signal
import socket
import sys
from typing import TYPE_CHECKING

from fizzplate.share.allocator import give_back
from fizzplate.share.forking.kernel import become_kernel
from fizzplate.share.forking.warming import load, tasks

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence


HEAD = 4  # bytes that tell the length of a request
IDLE_S = 0.5


def requests(connection: socket.socket, meanwhile: Sequence[Callable[[], None]]) -> Iterator[bytes]:
    """Yield each request until the server has gone; do one more task when none comes for a while."""
    left = list(meanwhile)
    with connection.makefile("rb") as stream:
        while True:
            while left and not select.select([connection], [], [], IDLE_S)[0]:
                left.pop(0)()
                _freeze()
            if len(head := stream.read(HEAD)) < HEAD:
                return
            yield stream.read(int.from_bytes(head, "big"))


def main(connection: socket.socket, lifeline: int) -> None:
    """Warm up, then fork a kernel for each request and hand its descriptor over."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    give_back()
    load()
    first, *others = tasks()
    first()
    _freeze()
    signal.signal(signal.SIGCHLD, signal.SIG_IGN)  # nobody waits for the kernels that have ended
    for request in requests(connection, others):
        connection_file, environment, folder = json.loads(request)
        child = os.fork()
        if child == 0:
            os.close(
                connection.detach()
            )  # or the server would not notice that the parent has ended
            become_kernel(connection_file, environment, folder, lifeline)
            return
        descriptor = os.pidfd_open(child)
        socket.send_fds(connection, [str(child).encode()], [descriptor])
        os.close(descriptor)


def _freeze() -> None:
    """Keep the collector from touching, and so copying, all that is shared."""
    gc.collect()
    gc.freeze()


if __name__ == "__main__":
    with socket.socket(fileno=int(sys.argv[1])) as channel:
        main(channel, int(sys.argv[2]))
