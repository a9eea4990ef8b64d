"""A slow line to a server: so many bits a second each way, shared by all connections, and a latency."""

from __future__ import annotations

import asyncio
import contextlib
import threading
from concurrent.futures import Future
from contextlib import contextmanager
from urllib.parse import urlsplit

CHUNK = 4096


class Way:
    """One direction of the line: what is sent queues for its turn, and travels for a while."""

    def __init__(self, bits_per_s, latency_s):
        self._s_per_byte = 8 / bits_per_s
        self._latency_s = latency_s
        self._free_at = 0.0

    def arrives_at(self, size):
        """Take so many bytes; return the loop's time at which they are there."""
        now = asyncio.get_running_loop().time()
        self._free_at = max(now, self._free_at) + size * self._s_per_byte
        return self._free_at + self._latency_s

    async def pass_on(self, reader, writer):
        """Hand everything on, in its order and when it arrives."""
        travelling = asyncio.Queue()

        async def deliver():
            loop = asyncio.get_running_loop()
            while True:
                at, data = await travelling.get()
                await asyncio.sleep(at - loop.time())
                if not data:
                    writer.close()
                    return
                writer.write(data)
                await writer.drain()

        delivering = asyncio.ensure_future(deliver())
        with contextlib.suppress(OSError):
            data = b"."
            while data:
                data = await reader.read(CHUNK)
                travelling.put_nowait((self.arrives_at(len(data)), data))
        with contextlib.suppress(OSError):  # one side went; so does the other
            await delivering


@contextmanager
def slow_line(address, kbit_per_s, round_trip_s):
    """Put the line before a server; give the address at its near end."""
    parts = urlsplit(address)
    ended = asyncio.Event()
    stands = Future()

    async def stand():
        up, down = (Way(1e3 * kbit_per_s, round_trip_s / 2) for _ in range(2))

        async def serve(reader, writer):
            there, back = await asyncio.open_connection(parts.hostname, parts.port)
            with contextlib.suppress(asyncio.CancelledError):  # the visit is over
                await asyncio.gather(up.pass_on(reader, back), down.pass_on(there, writer))

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
