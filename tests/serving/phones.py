"""Simulated phones, and a teacher's page that steers a room: as the pages talk, and as nobody should."""

from __future__ import annotations

import asyncio
import json
import secrets
import socket
from urllib.parse import urlsplit

from tornado.httpclient import AsyncHTTPClient, HTTPRequest
from tornado.websocket import websocket_connect

PING, TEXT, MORE = 0x9, 0x1, 0x0  # kinds of frames
ANSWER_S = 20  # for a server that is busy with other tests
PREDICTION = {
    "title": "What will form at each electrode?",
    "memo": "CuSO4",
    "parts": [
        {
            "name": name,
            "kind": "choice",
            "label": f"At the {name}",
            "options": ["copper", "hydrogen", "nothing", "oxygen"],
        }
        for name in ("cathode", "anode")
    ],
}


def new_mark():
    return secrets.token_hex(16)


async def fetch(address, headers=None):
    """Ask for an address, whatever the answer."""
    request = HTTPRequest(
        address, headers=headers or {}, request_timeout=ANSWER_S, connect_timeout=ANSWER_S
    )
    return await AsyncHTTPClient(force_instance=True).fetch(request, raise_error=False)


class Wire:
    """A websocket of JSON, one way and the other."""

    def __init__(self, socket):
        self.socket = socket
        self.heard = []

    def say(self, message):
        self.socket.write_message(
            message if isinstance(message, (str, bytes)) else json.dumps(message)
        )

    async def hear(self):
        """The next message; None once the connection has ended."""
        read = await self.socket.read_message()
        message = None if read is None else json.loads(read)
        self.heard.append(message)
        return message

    async def hear_until(self, wanted):
        """The next message that is wanted, or None once the connection has ended."""
        while True:
            message = await self.hear()
            if message is None or wanted(message):
                return message

    def close(self):
        self.socket.close()


async def phone(link, mark=None, headers=None):
    """Open a phone's channel by the room's link."""
    parts = urlsplit(link)
    site = f"{parts.scheme}://{parts.netloc}"
    address = f"ws://{parts.netloc}/answers?{parts.query}&mark={mark or new_mark()}"
    request = HTTPRequest(
        address, headers={"Origin": site, **(headers or {})}, connect_timeout=ANSWER_S
    )
    return Wire(await websocket_connect(request))


async def teacher(site, headers=None):
    """Open the channel of a teacher's page at a server."""
    parts = urlsplit(site)
    address = f"ws://{parts.netloc}/room/steering{f'?{parts.query}' if parts.query else ''}"
    request = HTTPRequest(
        address,
        headers={"Origin": f"http://{parts.netloc}", **(headers or {})},
        connect_timeout=ANSWER_S,
    )
    return Wire(await websocket_connect(request))


async def open_room(page, host="127.0.0.1", **more):
    """Open a room; give what the page is told."""
    page.say({"open": {"host": host, **more}})
    return await page.hear_until(lambda message: "opened" in message or "refused" in message)


def values(cathode=0, anode=3):
    return {"cathode": cathode, "anode": anode}


def answer(number=1, vote=1, **said):
    return {"answer": {"round": number, "vote": vote, "values": values(**said)}}


# what no browser sends: bytes on a bare connection


def bare(link, said=b"", source=None):
    """Open a bare connection to a room, from an address of this computer, and send something."""
    parts = urlsplit(link)
    opened = socket.create_connection(
        (parts.hostname, parts.port), ANSWER_S, source_address=source and (source, 0)
    )
    opened.sendall(said)
    return opened


def request(link, path="/", **headers):
    """Give the bytes of a request with the room's key."""
    parts = urlsplit(link)
    named = {"Host": parts.netloc, **{name.replace("_", "-"): headers[name] for name in headers}}
    lines = "".join(f"{name}: {value}\r\n" for name, value in named.items())
    mark = "&" if "?" in path else "?"
    return f"GET {path}{mark}{parts.query} HTTP/1.1\r\n{lines}\r\n".encode()


def channel_request(link, mark=None):
    """Give the bytes that open a phone's channel."""
    return request(
        link,
        f"/answers?mark={mark or new_mark()}",
        Origin=f"http://{urlsplit(link).netloc}",
        Upgrade="websocket",
        Connection="Upgrade",
        Sec_WebSocket_Key="dGhlIHNhbXBsZSBub25jZQ==",
        Sec_WebSocket_Version="13",
    )


def frame(kind, payload=b"", *, is_last=True):
    """Give the bytes of a short frame as a browser masks it."""
    assert len(payload) < 126
    return bytes([0x80 * is_last | kind, 0x80 | len(payload), 0, 0, 0, 0]) + payload


async def is_ended(opened, within_s):
    """Whether the other end closes a bare connection within so many seconds; what it says is left out."""
    opened.setblocking(False)
    loop = asyncio.get_running_loop()
    try:
        async with asyncio.timeout(within_s):
            while await loop.sock_recv(opened, 65_536):
                pass
    except TimeoutError:
        return False
    except OSError:
        pass
    return True
