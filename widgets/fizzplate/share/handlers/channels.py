"""The connection between a page and its own program; malformed frames do not pass."""

from __future__ import annotations

import re
from contextlib import suppress
from typing import TYPE_CHECKING, Any

from jupyter_server.services.kernels.connection.base import serialize_msg_to_ws_v1
from jupyter_server.services.kernels.connection.channels import ZMQChannelsWebsocketConnection
from jupyter_server.services.kernels.handlers import KernelHandler
from tornado.web import HTTPError
from tornado.websocket import WebSocketClosedError
from voila.tornado.kernel_websocket_handler import VoilaKernelWebsocketHandler

from fizzplate.share.handlers.frames import CHANNELS, PROTOCOL, FrameError, read_frame
from fizzplate.share.handlers.refusal_handler import RefusalHandler
from fizzplate.share.handlers.visitors import require_owner

if TYPE_CHECKING:
    from asyncio import Future

MALFORMED = 1002  # a websocket's own number for a protocol that is not kept
TOO_MUCH = 1008  # and for what a server's rules do not allow
#: to one page's program at once: a page has one, and one more while it connects again
MAX_CONNECTIONS = 8
#: of what a program has not taken yet: a busy page of ours is a few frames behind
MAX_WAITING_BYTES = 8_000_000
SESSION = re.compile(r"[\w-]{1,64}", re.ASCII)  # it becomes an address inside the kernel's sockets


class PageConnection(ZMQChannelsWebsocketConnection):
    """A connection that accepts only well-formed frames of the protocol's first version.

    The older protocols count to any number that a frame gives, and so does the library's reading of this
    one: eight bytes would keep the server busy for everyone, for good.
    """

    _is_connected = False
    _refused = False
    _waiting_bytes = 0

    async def prepare(self) -> None:
        """Take a page that speaks the protocol.

        Raises
        ------
        HTTPError
            400 for any other, and where too many connections to the program are open.
        """
        offered = self.websocket_handler.request.headers.get("Sec-WebSocket-Protocol", "")
        if PROTOCOL not in (each.strip() for each in offered.split(",")):
            raise HTTPError(400, "another protocol")
        try:
            await super().prepare()  # type: ignore[no-untyped-call]
            # each has sockets of its own inside the server, and there are only so many for everyone
            known = self.multi_kernel_manager.kernel_model(self.kernel_id)
            if known["connections"] >= MAX_CONNECTIONS:
                raise HTTPError(400, "more connections than a page has")
        except BaseException:
            self._forget_session()
            raise

    def connect(self) -> Future[None] | None:  # type: ignore[override]  # as the library's own
        """Connect the page with its program."""
        self._is_connected = True
        return super().connect()

    def disconnect(self) -> None:  # type: ignore[override]
        """Note the end of a connection that was made: ending a refused one must not make a page seem lost."""
        if self._is_connected:
            self._is_connected = False
            super().disconnect()  # type: ignore[no-untyped-call]
        else:
            self._forget_session()

    def create_stream(self) -> None:
        """Connect with the program, and keep what it does not take here, where its bytes are counted."""
        super().create_stream()  # type: ignore[no-untyped-call]
        for channel in CHANNELS:
            self.channels[channel.decode()].socket.sndhwm = 1

    def _send_status_message(self, status: str) -> None:
        """Tell the page what happened to the program, and why if that is known."""
        content = {"execution_state": status, "reason": self.kernel_manager.reason}
        message = self.session.msg("status", content)
        packed = serialize_msg_to_ws_v1(message, "iopub", self.session.pack)  # type: ignore[no-untyped-call]
        self.write_message(packed, binary=True)

    def handle_incoming_message(self, incoming_msg: str | bytes) -> None:
        """Hand a frame on to the program; close the connection if it is malformed or one too many."""
        if self._refused:  # what was on its way when it was closed
            return
        try:
            passes = read_frame(incoming_msg).may_pass
        except FrameError as problem:
            self._refuse(MALFORMED, str(problem))
            return
        if not passes:
            return
        behind = any(stream.sending() for stream in self.channels.values())
        self._waiting_bytes = self._waiting_bytes + len(incoming_msg) if behind else 0
        if self._waiting_bytes > MAX_WAITING_BYTES:  # it hangs, has ended, or never gets that far
            self._refuse(TOO_MUCH, "more than the program takes")
            return
        super().handle_incoming_message(incoming_msg)  # type: ignore[arg-type]  # it takes bytes

    def _forget_session(self) -> None:
        self._open_sessions.pop(self.session_key, None)  # it would be kept for good

    def _refuse(self, code: int, reason: str) -> None:
        self._refused = True
        self.websocket_handler.close(code, reason)


class Program(RefusalHandler, KernelHandler):
    """Whether a page's program runs, for the visitor whose page it is; the same may end it."""

    async def get(self, kernel_id: str) -> None:
        """Say whether it runs."""
        require_owner(self, kernel_id)
        await super().get(kernel_id)  # type: ignore[misc]  # its decorator's

    async def delete(self, kernel_id: str) -> None:
        """End it."""
        require_owner(self, kernel_id)
        await super().delete(kernel_id)  # type: ignore[misc]


class Channels(RefusalHandler, VoilaKernelWebsocketHandler):  # type: ignore[misc]  # Voila ships no types
    """The websocket of a page, for the visitor whose page it is."""

    async def pre_get(self) -> None:
        """Let in the page's own visitor.

        Raises
        ------
        HTTPError
            404 for another's program, as for one that there is not; 400 for an odd session, or if the
            page has gone meanwhile.
        """
        require_owner(self, self.kernel_id)
        if not SESSION.fullmatch(self.get_argument("session_id", "none")):
            raise HTTPError(400, "not the name of a session")
        await super().pre_get()
        if self.connection is None:
            raise HTTPError(400, "the page has gone")

    def write_message(self, message: Any, binary: bool = False) -> Future[None] | None:
        """Send a message, if the page has not gone meanwhile."""
        with suppress(WebSocketClosedError):
            sent: Future[None] = super().write_message(message, binary)
            return sent
        return None
