"""What listens on the room's network: the phones' page and its channel, and nothing else of the server."""

from __future__ import annotations

import re
from collections import Counter
from typing import TYPE_CHECKING, Any

from tornado.httpserver import HTTPServer
from tornado.web import Application, HTTPError, RequestHandler
from tornado.websocket import (
    WebSocketClosedError,
    WebSocketHandler,
    WebSocketProtocol,
    WebSocketProtocol13,
)

from fizzplate.share.room.allowance import Allowance, Allowances
from fizzplate.share.room.messages import MAX_PHONE_BYTES, MessageError, from_phone
from fizzplate.share.room.page import JUDGE, PICTURES, Sendable, judge_script, phone_page
from fizzplate.share.room.room import RoomFullError
from fizzplate.share.room.wire import Channel

if TYPE_CHECKING:
    from collections.abc import Awaitable

    from fizzplate.share.room.wire import Host

MARK = re.compile(r"[0-9a-f]{32}")
PING_S = 20
IDLE_S = 20
MAX_HEADER_BYTES = 8_192
MAX_BODY_BYTES = 1_024  # no phone posts anything
#: connections that have not become a phone's channel
MAX_CONNECTIONS, MAX_CONNECTIONS_OF_ONE_ADDRESS = 200, 100
#: connections of one address: beyond them it is not even told why
CONNECTIONS_AT_ONCE, CONNECTIONS_A_SECOND = 300, 20
#: requests of one address: a class behind one address may all come at once
REQUESTS_AT_ONCE, REQUESTS_A_SECOND = 250, 10
#: messages of one phone
MESSAGES_AT_ONCE, MESSAGES_A_SECOND = 12, 2
#: frames of one phone: messages, and what its browser sends by itself
FRAMES_AT_ONCE, FRAMES_A_SECOND = 40, 4
MALFORMED, TOO_MUCH = 1002, 1008  # a websocket's own numbers
HEADERS = {
    "Cache-Control": "no-store",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}
REFUSED = """<!DOCTYPE html><html lang="en"><meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1"><title>Not open</title>
<body style="font:18px/1.5 sans-serif;margin:2rem"><h1>{heading}</h1><p>{advice}</p></body></html>"""
WORDS = {
    403: ("This room needs its link", "Scan the code on the board again, or type its link."),
    404: ("There is no such page here", "Scan the code on the board again, or type its link."),
    503: ("Too many requests", "Wait a few seconds and load the page again."),
}


class PhoneListener(HTTPServer):
    """A server of its own, on one address of this computer, for as long as the room is open.

    Raises
    ------
    OSError
        If the address cannot be listened on.
    """

    def initialize(self, host: Host, address: str, port: int) -> None:  # type: ignore[override]
        """Begin to listen; tornado makes its servers by this method."""
        self._connecting = Allowances(CONNECTIONS_AT_ONCE, CONNECTIONS_A_SECOND)
        self._asking = Allowances(REQUESTS_AT_ONCE, REQUESTS_A_SECOND)
        shown = f"[{address}]:{port}" if ":" in address else f"{address}:{port}"
        options = {"host": host, "listener": self, "own_host": shown}
        super().initialize(
            Application(
                [
                    (r"/", Sent, {**options, "what": phone_page(shown)}),
                    (rf"/{JUDGE}", Sent, {**options, "what": judge_script()}),
                    (rf"/{PICTURES}", Pictures, options),
                    (r"/answers", PhoneChannel, options),
                ],
                default_handler_class=Other,
                default_handler_args=options,
                log_function=lambda _: None,  # who asked for what is not kept
                websocket_ping_interval=PING_S,
                websocket_ping_timeout=PING_S,
                websocket_max_message_size=MAX_PHONE_BYTES,
            ),
            max_header_size=MAX_HEADER_BYTES,
            max_body_size=MAX_BODY_BYTES,
            idle_connection_timeout=IDLE_S,
            body_timeout=IDLE_S,
        )
        self.listen(port, address)

    def handle_stream(self, stream: Any, address: Any) -> None:
        """Take a connection; where there are too many, in place of one of the address that has most."""
        if not self._connecting.takes(address[0]):
            stream.close()  # reads nothing, which costs least
            return
        counts = Counter(_address_of(each) for each in self._connections)
        own = counts[address[0]]
        if own >= MAX_CONNECTIONS_OF_ONE_ADDRESS:
            stream.close()
            return
        if len(self._connections) >= MAX_CONNECTIONS:
            crowd, most = counts.most_common(1)[0]
            if most <= own + 1:
                stream.close()
                return
            next(each for each in self._connections if _address_of(each) == crowd).stream.close()
        super().handle_stream(stream, address)

    def stop(self) -> None:
        """Listen no more, and answer nothing on connections that stand; channels end by themselves."""
        super().stop()
        for connection in list(self._connections):
            connection.stream.close()

    def allows(self, address: str) -> bool:
        """Tell whether an address may ask once more."""
        return self._asking.takes(address)


class _Handler(RequestHandler):
    """Answers only under the link's own name and with its key."""

    def initialize(self, host: Host, listener: PhoneListener, own_host: str) -> None:
        self.host, self._listener, self._own_host = host, listener, own_host

    def set_default_headers(self) -> None:
        for name, value in HEADERS.items():
            self.set_header(name, value)
        self.clear_header("Server")

    def prepare(self) -> Awaitable[None] | None:
        if not self._listener.allows(str(self.request.remote_ip)):
            raise HTTPError(503)
        if self.request.host != self._own_host:
            raise HTTPError(403)
        # a second key is nobody's slip
        keys = self.request.query_arguments.get("key", [])
        if len(keys) != 1 or not self.host.knows(keys[0].decode("utf-8", "replace")):
            raise HTTPError(403)
        return None

    def write_error(self, status_code: int, **_: Any) -> None:
        heading, advice = WORDS.get(status_code, WORDS[404])
        self.set_header("Content-Type", "text/html; charset=utf-8")
        self.finish(REFUSED.format(heading=heading, advice=advice))

    def log_exception(self, *problem: Any) -> None:
        """Leave the terminal alone when a visitor is refused."""
        if not isinstance(problem[1], HTTPError):
            super().log_exception(*problem)


class Sent(_Handler):
    """The phones' page, or what judges half-equations."""

    def initialize(self, what: Sendable, **options: Any) -> None:  # type: ignore[override]
        """Take it."""
        super().initialize(**options)
        self._what = what

    def get(self) -> None:
        """Send it."""
        for name, value in {**self._what.headers, "Vary": "Accept-Encoding"}.items():
            self.set_header(name, value)
        if "gzip" in self.request.headers.get("Accept-Encoding", ""):
            self.set_header("Content-Encoding", "gzip")
            self.finish(self._what.compressed)
        else:
            self.finish(self._what.text)


class Pictures(_Handler):
    """The graphs that the open round's questions need."""

    def get(self) -> None:
        """Send them, as every browser takes them: compressed."""
        asked = self.host.room.round if self.host.room else None
        if not asked or not asked.pictures:
            raise HTTPError(404)
        self.set_header("Content-Type", "application/json")
        self.set_header("Content-Encoding", "gzip")
        self.finish(asked.pictures)


class Other(_Handler):
    """Whatever else is asked for."""

    def prepare(self) -> Awaitable[None] | None:
        """Refuse it, with or without the key."""
        super().prepare()
        raise HTTPError(404)


class _CountedFrames(WebSocketProtocol13):
    """Frames of one phone: those without a message are counted too, and nothing is read after the last."""

    def __init__(self, channel: PhoneChannel, *given: Any) -> None:
        super().__init__(channel, *given)
        self._channel, self._frames = channel, Allowance(FRAMES_AT_ONCE, FRAMES_A_SECOND)

    async def _receive_frame(self) -> None:
        await super()._receive_frame()
        if self._channel.is_cut_off or not self._frames.takes():
            self._abort()


class PhoneChannel(Channel, _Handler, WebSocketHandler):
    """A phone's websocket: what is open goes out, answers come in."""

    is_cut_off = False  # for what it said
    _is_in = False
    _is_latest = True  # whether the phone has been sent what is open now
    _is_sending = False

    def check_origin(self, origin: str) -> bool:
        """Only the page that this listener sent."""
        return origin == f"http://{self._own_host}"

    async def get(self, *arguments: Any, **named: Any) -> None:
        """Open it for a mark."""
        self._mark = self.get_query_argument("mark", "")
        if not MARK.fullmatch(self._mark) or "Origin" not in self.request.headers:
            raise HTTPError(403)
        self._allowance = Allowance(MESSAGES_AT_ONCE, MESSAGES_A_SECOND)
        await super().get(*arguments, **named)

    def get_websocket_protocol(self) -> WebSocketProtocol | None:
        """Count its frames."""
        made = super().get_websocket_protocol()
        return made and _CountedFrames(self, False, made.params)  # type: ignore[attr-defined]

    def open(self, *_: str, **__: str) -> None:
        """Let the phone in."""
        self.set_nodelay(True)
        try:
            self.host.enter(self._mark, str(self.request.remote_ip), self)
        except (RoomFullError, LookupError):
            self.end("full")
            return
        self._is_in = True
        self.show_latest()

    def on_message(self, message: str | bytes) -> None:
        """Keep what it says; hang up if it says too much, or what no page of ours says."""
        if not self._is_in or self.has_ended:
            return
        if not self._allowance.takes():
            self._cut_off(TOO_MUCH, "too many messages")
            return
        try:
            read = from_phone(message)
        except MessageError as problem:
            self._cut_off(MALFORMED, str(problem))
            return
        self.host.hear(self._mark, self, read)

    def _cut_off(self, code: int, reason: str) -> None:
        self.is_cut_off = True
        self.hang_up(code, reason)

    def on_close(self) -> None:
        """Let it go."""
        if self._is_in:
            self.host.leave(self._mark, self)

    def show_latest(self) -> None:
        """Send what is open now; a phone that takes nothing is sent only the latest of what it missed."""
        self._is_latest = False
        if not self._is_sending:
            self._send()

    def _send(self) -> None:
        if self._is_latest or self.host.room is None or self.has_ended:
            return
        self._is_latest = True
        sent = self.say(self.host.room.for_phone(self._mark))
        if sent is not None:
            self._is_sending = True
            sent.add_done_callback(lambda done: self._sent(done))

    def _sent(self, done: Any) -> None:
        self._is_sending = False
        if not done.cancelled() and isinstance(done.exception(), WebSocketClosedError):
            return
        self._send()


def _address_of(connection: Any) -> str:
    return str(connection.context.address[0])
