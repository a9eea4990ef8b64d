"""A slow line to a server: so many bits a second each way, shared by all connections, and a latency."""

from __future__ import annotations

import asyncio
import contextlib
from contextlib import contextmanager

from stand_in import standing_before

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
    up, down = (Way(1e3 * kbit_per_s, round_trip_s / 2) for _ in range(2))
    with standing_before(address, lambda: (up.pass_on, down.pass_on)) as near_end:
        yield near_end
