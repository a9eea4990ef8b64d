"""A way to a server that counts the bytes on the wire, those of websockets apart."""

from __future__ import annotations

import asyncio
import contextlib
import threading
from concurrent.futures import Future
from contextlib import contextmanager
from urllib.parse import urlsplit

CHUNK = 65_536
UPGRADE = b"upgrade: websocket"


class Count:
    """Bytes in both directions since the beginning.

    Attributes
    ----------
    http, websocket
        Bytes, heads included.
    """

    def __init__(self):
        self.http = self.websocket = 0

    def add(self, size, *, websocket):
        """Add what just passed."""
        if websocket:
            self.websocket += size
        else:
            self.http += size


async def pass_on(reader, writer, wire, count):
    """Hand everything on from one side to the other; only a browser asks to upgrade."""
    with contextlib.suppress(OSError):  # one side went; so does the other
        while data := await reader.read(CHUNK):
            wire["websocket"] |= UPGRADE in data.lower()
            count.add(len(data), websocket=wire["websocket"])
            writer.write(data)
            await writer.drain()
    writer.close()


@contextmanager
def counted(address):
    """Stand before a server; give the address of the stand-in, and its count."""
    parts = urlsplit(address)
    count = Count()
    ended = asyncio.Event()
    stands = Future()

    async def serve(reader, writer):
        there, back = await asyncio.open_connection(parts.hostname, parts.port)
        wire = {"websocket": False}
        with contextlib.suppress(asyncio.CancelledError):  # the count is over
            await asyncio.gather(
                pass_on(reader, back, wire, count), pass_on(there, writer, wire, count)
            )

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
        yield parts._replace(netloc=f"127.0.0.1:{number}").geturl(), count
    finally:
        loop.call_soon_threadsafe(ended.set)
        thread.join(timeout=30)
