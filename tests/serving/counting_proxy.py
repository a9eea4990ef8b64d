"""A way to a server that counts the bytes on the wire, those of websockets apart."""

from __future__ import annotations

import contextlib
from contextlib import contextmanager
from functools import partial

from stand_in import standing_before

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
    count = Count()

    def ways():
        wire = {"websocket": False}
        both = partial(pass_on, wire=wire, count=count)
        return both, both

    with standing_before(address, ways) as stand_in:
        yield stand_in, count
