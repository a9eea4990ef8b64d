"""What the channels of phones and of the teacher's page share: how something is said, and how they end."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any, Protocol

from tornado.websocket import WebSocketClosedError, WebSocketHandler

if TYPE_CHECKING:
    from asyncio import Future

    from fizzplate.share.room.messages import Message
    from fizzplate.share.room.room import Room

GONE = 1000


class Page(Protocol):
    """The page at the other end of a channel: the teacher's, or a phone's."""

    def say(self, message: dict[str, Any]) -> Any:
        """Send it something."""

    def end(self, why: str) -> None:
        """Say why there is nothing more, and hang up."""

    def show_latest(self) -> None:
        """Send a phone what is open now."""


class Host(Protocol):
    """What phones know of the room."""

    room: Room | None

    def knows(self, key: str) -> bool:
        """Tell whether this is the key of the room that is open."""

    def enter(self, mark: str, address: str, phone: Page) -> None:
        """Let a phone in."""

    def hear(self, mark: str, phone: Page, message: Message) -> None:
        """Take what a phone says."""

    def leave(self, mark: str, phone: Page) -> None:
        """Note that a phone has gone."""


class Channel(WebSocketHandler):
    """A websocket that says objects in JSON."""

    has_ended = False

    def say(self, message: dict[str, Any]) -> Future[None] | None:
        """Send something, unless the page has gone."""
        if self.has_ended:
            return None
        text = json.dumps(message, ensure_ascii=False, separators=(",", ":"))
        try:
            return self.write_message(text.encode("utf-8", "replace"))  # also half a character
        except WebSocketClosedError:
            return None

    def end(self, why: str) -> None:
        """Say why there is nothing more, and hang up."""
        self.say({"ended": why})
        self.hang_up(GONE, why)

    def hang_up(self, code: int, reason: str) -> None:
        """Close it; what is on its way is not heard any more."""
        if not self.has_ended:
            self.has_ended = True
            self.close(code, reason)
