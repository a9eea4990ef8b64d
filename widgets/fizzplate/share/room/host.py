"""The one room of a server: opened and closed while it runs, with a listener of its own for phones."""

from __future__ import annotations

import asyncio
import hmac
import socket
from typing import TYPE_CHECKING, Any

import psutil

from fizzplate.share.network import LOOPBACK, Place, free_port, is_loopback, new_key, outward
from fizzplate.share.room.listener import PhoneListener
from fizzplate.share.room.room import Room

if TYPE_CHECKING:
    from fizzplate.share.room.messages import Message
    from fizzplate.share.room.wire import Page

#: the teacher's page may reload, or its computer sleep for a while; then the room is closed
LINGER_S = 600
#: counts reach the teacher's page at most so often
COUNTS_EVERY_S = 0.1
NOT_FOUND = "This room has been closed."
TAKEN = "Another page has opened a room already."
NO_SUCH_CODE = "No phone of this room shows that code. Look at your phone again."
TOO_MANY_ROUNDS = "This room has had as many rounds as it may. Close it and open it again."


class RoomHost:
    """Opens and closes the room, and passes between the teacher's page and the phones.

    Parameters
    ----------
    place
        Where the server itself listens.
    """

    def __init__(self, place: Place) -> None:
        self._place = place
        self.room: Room | None = None
        self.teacher: Page | None = None
        self.phones: dict[str, Page] = {}
        self.link = ""
        self._token = ""
        self._key = ""
        self._listener: PhoneListener | None = None
        self._counts: asyncio.TimerHandle | None = None
        self._linger: asyncio.TimerHandle | None = None

    def addresses(self) -> list[str]:
        """List where the room can be opened: the likeliest address first, this computer's own last."""
        found = [
            each.address
            for each_of in psutil.net_if_addrs().values()
            for each in each_of
            if each.family == socket.AF_INET and not is_loopback(each.address)
        ]
        first = outward()
        return [*sorted(found, key=lambda each: each != first), LOOPBACK]

    # what the teacher's page does

    def steer(self, page: Page, message: Message) -> None:
        """Do what the teacher's page wants; nobody but the page that opened the room can steer it."""
        if message.act == "open":
            self._open(page, message.value)
        elif message.act == "resume":
            self._resume(page, message.value)
        elif self.room is None or page is not self.teacher:
            page.say({"gone": NOT_FOUND})
        else:
            self._act(self.room, page, message)

    def lose_teacher(self, page: Page) -> None:
        """Keep the room for a while for a page that has gone."""
        if page is self.teacher:
            self.teacher = None
            self._linger = asyncio.get_running_loop().call_later(LINGER_S, self.close)

    def close(self) -> None:
        """Stop listening, tell everybody, and forget all."""
        for timer in (self._counts, self._linger):
            if timer:
                timer.cancel()
        self._counts = self._linger = None
        for phone in list(self.phones.values()):
            phone.end("closed")
        if self._listener:
            self._listener.stop()
        if self.teacher:
            self.teacher.say({"gone": NOT_FOUND})
        self.phones.clear()
        self.room = self.teacher = self._listener = None
        self._token = self._key = self.link = ""

    # what phones do

    def knows(self, key: str) -> bool:
        """Tell whether this is the key of the room that is open, compared in constant time."""
        return bool(self._key) and hmac.compare_digest(key.encode(), self._key.encode())

    def enter(self, mark: str, address: str, phone: Page) -> None:
        """Let a phone in; of two pages with one mark the later one stays.

        Raises
        ------
        RoomFullError
            If there is no place.
        """
        if self.room is None:
            raise LookupError(NOT_FOUND)
        crowded_out = self.room.join(mark, address)
        if crowded_out in self.phones:
            self.phones.pop(crowded_out).end("full")
        before, self.phones[mark] = self.phones.get(mark), phone
        if before:
            before.end("elsewhere")
        self._changed()

    def hear(self, mark: str, phone: Page, message: Message) -> None:
        """Keep a phone's answer and say so; else do what it may, and show it what is open."""
        room, given = self.room, message.value
        if room is None:
            return
        match message.act:
            case "answer" if room.answer(mark, given["round"], given["vote"], given["values"]):
                phone.say({"kept": [given["round"], given["vote"]]})
                self._changed()
                return
            case "answer" if room.round and not room.round.takes(given["values"]):
                phone.say({"untaken": [given["round"], given["vote"]]})
                return
            case "read":
                reader = room.reader
                room.want_to_read(mark, wants=given)
                if reader != room.reader:
                    self._tell_round(room)
            case "show" if mark == room.reader:
                room.show(given["of"], [given["text"]])
                self._tell_round(room)
            case "hide" if mark == room.reader:
                room.hide(given["of"], given["text"])
                self._tell_round(room)
        phone.show_latest()

    def leave(self, mark: str, phone: Page) -> None:
        """Note that a phone has gone; it may return."""
        if self.phones.get(mark) is phone:
            del self.phones[mark]
            if self.room:
                self.room.leave(mark)
                self._changed()

    # inside

    def _open(self, page: Page, wanted: dict[str, Any]) -> None:
        if self.room and not wanted.get("anew"):
            page.say({"refused": TAKEN, "taken": True})
            return
        if wanted["host"] not in self.addresses():
            page.say({"refused": "This computer has no such address any more. Try again."})
            return
        self.close()
        host = wanted["host"]
        self._key, self._token = new_key(), new_key()
        try:
            port = self._free_port(host)
            own = Place(host, port, self._key)
            self.link = own.class_address()
            self._listener = PhoneListener(self, host, port)
        except OSError as problem:
            self._key = self._token = self.link = ""
            page.say({"refused": f"The room could not be opened: {problem.strerror or problem}."})
            return
        self.room = Room()
        self.teacher = page
        self._tell_teacher(page)

    def _free_port(self, host: str) -> int:
        """Return the server's own port where it is free at this address, because a firewall may know it."""
        if self._place.is_local and not is_loopback(host):
            try:
                return free_port(self._place.port, host)
            except OSError:
                pass  # another program has it
        return free_port(None, host)

    def _resume(self, page: Page, token: str) -> None:
        if self.room is None or not hmac.compare_digest(token, self._token):
            page.say({"gone": NOT_FOUND})
            return
        if self._linger:
            self._linger.cancel()
            self._linger = None
        before, self.teacher = self.teacher, page
        if before and before is not page:
            before.end("elsewhere")
        self._tell_teacher(page)

    def _tell_teacher(self, page: Page) -> None:
        if self.room is None:
            return
        opened = {"opened": self._token, "link": self.link}
        page.say(opened | self.room.for_teacher() | self.room.counts())

    def _act(self, room: Room, page: Page, message: Message) -> None:
        wanted = message.value
        match message.act:
            case "close":
                self.close()
                return
            case "ask" if not room.ask(wanted):
                page.say({"refused": TOO_MANY_ROUNDS})
            case "reader" if not room.let_read(wanted):
                page.say({"refused": NO_SUCH_CODE})
            case "again":
                room.vote_again()
            case "accept":
                room.accept(wanted)
            case "one-each":
                room.is_one_each = wanted
            case "show":
                waiting = room.waiting(wanted["of"])
                room.show(wanted["of"], waiting if wanted["all"] else waiting[:1])
            case "hide":
                room.hide(wanted["of"], wanted["text"])
        for phone in list(self.phones.values()):
            phone.show_latest()
        self._tell_round(room)

    def _tell_round(self, room: Room) -> None:
        if self.teacher:
            self.teacher.say(room.for_teacher() | room.counts())

    def _changed(self) -> None:
        if self._counts is None:
            loop = asyncio.get_running_loop()
            self._counts = loop.call_later(COUNTS_EVERY_S, self._send_counts)

    def _send_counts(self) -> None:
        self._counts = None
        if self.room and self.teacher:
            self.teacher.say(self.room.counts())
        reader = self.phones.get(self.room.reader) if self.room else None
        if reader:
            reader.show_latest()
