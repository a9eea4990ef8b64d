"""A server of our own before another one, through which all that a browser says and hears passes."""

from __future__ import annotations

import asyncio
import contextlib
import threading
from concurrent.futures import Future
from contextlib import contextmanager
from urllib.parse import urlsplit


@contextmanager
def standing_before(address, ways):
    """Stand before a server; give the address of the stand-in.

    Parameters
    ----------
    address
        The server's.
    ways
        Called for each connection, inside the stand-in's event loop: returns what passes on from the browser
        to the server, and what passes on back; each takes a reader and a writer.
    """
    parts = urlsplit(address)
    ended = asyncio.Event()
    stands = Future()

    async def serve(reader, writer):
        there, back = await asyncio.open_connection(parts.hostname, parts.port)
        up, down = ways()
        with contextlib.suppress(asyncio.CancelledError):  # the visit is over
            await asyncio.gather(up(reader, back), down(there, writer))

    async def stand():
        server = await asyncio.start_server(serve, "127.0.0.1", 0)
        stands.set_result((server.sockets[0].getsockname()[1], asyncio.get_running_loop()))
        await ended.wait()
        server.close()

    # in a thread: the browser's driver has an event loop in this one
    thread = threading.Thread(target=lambda: asyncio.run(stand()), daemon=True)
    thread.start()
    number, loop = stands.result(timeout=30)
    try:
        yield parts._replace(netloc=f"127.0.0.1:{number}").geturl()
    finally:
        loop.call_soon_threadsafe(ended.set)
        thread.join(timeout=30)
