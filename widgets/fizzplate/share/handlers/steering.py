"""The teacher's page and its room: where it can be opened, and the websocket that steers it."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any
from urllib.parse import urlsplit

from jupyter_server.base.handlers import JupyterHandler
from tornado.web import HTTPError

from fizzplate.share.handlers.refusal_handler import RefusalHandler
from fizzplate.share.handlers.teacher import is_teacher
from fizzplate.share.room import (
    MAX_TEACHER_BYTES,
    Channel,
    MessageError,
    from_teacher,
    teachers_module,
)
from fizzplate.views.web.address import code_of

if TYPE_CHECKING:
    from fizzplate.share.room import RoomHost

MALFORMED = 1002
WHO_MAY = (
    "Only the person at the computer that serves these pages, or who has opened the teacher's link "
    "that was printed at the start, can ask the class."
)


class _TeachersHandler(RefusalHandler, JupyterHandler):
    """For the teacher alone."""

    def initialize(self, host: RoomHost) -> None:
        """Take the one room."""
        super().initialize()
        self._host = host

    async def prepare(self, *, _redirect_to_login: bool = False) -> None:
        """Let in whoever may open pages."""
        await super().prepare(_redirect_to_login=False)


class RoomAddresses(_TeachersHandler):
    """Whether this visitor may open the room, and at which addresses."""

    def get(self) -> None:
        """Say so."""
        self.set_header("Cache-Control", "no-store")
        self.set_header("Content-Type", "application/json")
        may = is_teacher(self)
        told = {"addresses": self._host.addresses()} if may else {"refused": WHO_MAY}
        self.finish(json.dumps(told))


class TeachersModule(_TeachersHandler):
    """What a teacher's page loads when its class is asked."""

    def get(self, name: str) -> None:
        """Send it."""
        self.set_header("Cache-Control", "no-store")
        self.set_header("Content-Type", "text/javascript; charset=utf-8")
        self.finish(teachers_module(name))


class Steering(Channel, _TeachersHandler):
    """The websocket on which the teacher's page opens, steers and closes the room."""

    def check_origin(self, origin_to_satisfy_tornado: str = "") -> bool:  # noqa: ARG002  # as it is called
        """Only a page of this server."""
        return urlsplit(self.request.headers.get("Origin", "")).netloc == self.request.host

    async def get(self, *arguments: Any, **named: Any) -> None:
        """Open it for the teacher.

        Raises
        ------
        HTTPError
            403 for everybody else, and for what does not say where it comes from.
        """
        if not is_teacher(self) or not self.check_origin():
            raise HTTPError(403)
        await super().get(*arguments, **named)

    def get_compression_options(self) -> None:
        """Send the few bytes of a count as they are."""
        return

    def say(self, message: dict[str, Any]) -> Any:
        """Send something; a link goes with its code."""
        if "link" in message:
            code = code_of(message["link"])
            message = message | {"code": {"path": code.path, "modules": code.modules}}
        return super().say(message)

    def show_latest(self) -> None:
        """Only phones are shown what is open."""

    def on_message(self, message: str | bytes) -> None:
        """Do what it says; hang up if no page of ours says that."""
        if self.has_ended:
            return
        try:
            wanted = from_teacher(message[: MAX_TEACHER_BYTES + 1])
        except MessageError as problem:
            self.hang_up(MALFORMED, str(problem))
            return
        self._host.steer(self, wanted)

    def on_close(self) -> None:
        """Keep the room for the page's return."""
        self._host.lose_teacher(self)
