"""A room: who is in it by random marks, the round that is open, its votes and their counts."""

from __future__ import annotations

import secrets
from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from fizzplate.share.room.parts import Part

MAX_PHONES = 120
#: so that whoever fills the room from one device leaves places for a class
MAX_PHONES_OF_ONE_ADDRESS = 80
MAX_ROUNDS = 300  # in one room
MAX_VOTES = 3  # in one round: before talking, after it, and once more
CODE_DIGITS = 6  # that the teacher copies from a phone

Values = dict[str, Any]


class RoomFullError(Exception):
    """There are as many phones in the room as may be."""


@dataclass(slots=True)
class Phone:
    """A phone by its random mark: from where, and whether it is connected."""

    address: str
    is_here: bool = True


@dataclass(slots=True)
class Round:
    """What the class is asked.

    Parameters
    ----------
    title
        Above the questions.
    parts
        The questions.
    memo
        What the teacher's page wants to find again after a reload; phones never see it.
    about
        What is asked about, such as a solution, where the title does not say so.
    pictures
        Graphs by the names of the parts that they belong to, as JSON, compressed; empty where there is none.
    """

    title: str
    parts: tuple[Part, ...]
    memo: str = ""
    about: str = ""
    pictures: bytes = b""
    number: int = 0
    is_open: bool = True
    #: of each vote, the answers of each mark
    votes: list[dict[str, Values]] = field(default_factory=lambda: [{}])
    #: of what was written, by its part, what was shown to the class, and whether it still is
    shown: dict[str, dict[str, bool]] = field(default_factory=dict)

    def takes(self, values: Values) -> bool:
        """Tell whether these are answers to some of its parts."""
        parts = {part.name: part for part in self.parts}
        return bool(values) and all(
            name in parts and parts[name].accepts(value) for name, value in values.items()
        )


class Room:
    """A class that answers.

    Examples
    --------
    >>> from fizzplate.share.room import Part
    >>> room = Room()
    >>> room.join("a" * 32, "192.0.2.20")
    >>> room.ask(Round("Predict", (Part("cathode", "choice", "What forms?", ("Cu", "H2")),)))
    True
    >>> room.answer("a" * 32, 1, 1, {"cathode": 0})
    True
    >>> room.counts()["votes"]
    [{'answered': 1, 'counts': {'cathode': [1, 0]}}]
    """

    def __init__(self) -> None:
        self.phones: dict[str, Phone] = {}
        self.round: Round | None = None
        self.reader = ""  # the mark of the teacher's own phone, which answers nothing
        self._codes: dict[str, str] = {}  # of phones that ask to be it
        self.is_one_each = False  # whether of the answers from one address only the first counts
        self._asked = 0

    def join(self, mark: str, address: str) -> str | None:
        """Let a phone in, or let it return.

        Returns
        -------
        str | None
            The mark of the phone whose place it took; None where there was a free one.

        Raises
        ------
        RoomFullError
            If there is no place, and no phone that may be forgotten.
        """
        known = self.phones.get(mark)
        if known:
            known.is_here = True
            return None
        gone = self._make_place(address)
        self.phones[mark] = Phone(address)
        return gone

    def leave(self, mark: str) -> None:
        """Note that a phone is no longer connected; its answers stay."""
        if mark in self.phones:
            self.phones[mark].is_here = False

    def want_to_read(self, mark: str, *, wants: bool) -> None:
        """Give a phone a code by which the teacher can make it the one that reads, or take it back."""
        self._codes.pop(mark, None)
        if not wants and mark == self.reader:
            self.reader = ""
        elif wants and mark in self.phones:
            taken = set(self._codes.values())
            while (code := f"{secrets.randbelow(10**CODE_DIGITS):0{CODE_DIGITS}}") in taken:
                pass
            self._codes[mark] = code

    def let_read(self, code: str) -> bool:
        """Let the phone that shows this code read what is written, and no other; tell whether one does."""
        found = [mark for mark, known in self._codes.items() if known == code]
        for mark in found:
            self.reader = mark
            for vote in self.round.votes if self.round else ():
                vote.pop(mark, None)
        if found:
            self._codes.clear()
        return bool(found)

    def ask(self, asked: Round) -> bool:
        """Open a round in place of the last one; tell whether there may be another."""
        if self._asked >= MAX_ROUNDS:
            return False
        self._asked += 1
        asked.number = self._asked
        self.round = asked
        return True

    def vote_again(self) -> bool:
        """Ask the same once more, beside what was answered before; tell whether that was possible."""
        if self.round is None or len(self.round.votes) >= MAX_VOTES:
            return False
        self.round.votes.append({})
        self.round.is_open = True
        return True

    def accept(self, is_open: bool) -> None:
        """Open or close the round for answers."""
        if self.round:
            self.round.is_open = is_open

    def answer(self, mark: str, number: int, vote: int, values: Values) -> bool:
        """Keep a phone's answer in place of its earlier one; tell whether it could be kept."""
        asked = self.round
        if asked is None or not asked.is_open or mark not in self.phones or mark == self.reader:
            return False
        if number != asked.number or vote != len(asked.votes) or not asked.takes(values):
            return False
        asked.votes[-1][mark] = values
        return True

    def counts(self) -> dict[str, Any]:
        """Give what the teacher's page shows: numbers only.

        "missing" are phones that are connected and have not answered, "away" those that have not and are
        not, as a locked phone; "alike" is how many phones the address with most has, 0 where all share one;
        "waiting" is how many texts of each part the class was never shown.
        """
        answered = self.round.votes[-1] if self.round else {}
        others = {mark: phone for mark, phone in self.phones.items() if mark != self.reader}
        waited_for = [phone.is_here for mark, phone in others.items() if mark not in answered]
        sizes = Counter(phone.address for phone in others.values())
        return {
            "joined": len(others),
            "missing": waited_for.count(True),
            "away": waited_for.count(False),
            "alike": max(sizes.values()) if len(sizes) > 1 else 0,
            "votes": [self._count(vote) for vote in self.round.votes] if self.round else [],
            "waiting": {name: len(self.waiting(name)) for name in self._written_parts()},
        }

    def texts(self, name: str) -> list[str]:
        """Give the short texts or equations of the latest vote, each once, in the order of the alphabet."""
        if self.round is None:
            return []
        values = [values[name] for values in self.round.votes[-1].values() if name in values]
        written = [value["written"] if isinstance(value, dict) else value for value in values]
        return sorted({each for each in written if isinstance(each, str)})

    def waiting(self, name: str) -> list[str]:
        """Give what was written for a part and was never shown."""
        known = self.round.shown.get(name, {}) if self.round else {}
        return [each for each in self.texts(name) if each not in known]

    def show(self, name: str, texts: list[str]) -> None:
        """Let the class see these of the texts that were written for a part, beside what it sees."""
        if self.round:
            known = self.round.shown.setdefault(name, {})
            known |= {each: True for each in texts if each in known or each in self.texts(name)}

    def hide(self, name: str, text: str) -> None:
        """Take a text away from the class."""
        if self.round and text in self.round.shown.get(name, {}):
            self.round.shown[name][text] = False

    def for_phone(self, mark: str) -> dict[str, Any]:
        """Give what a phone shows: the round, and its own answer; the teacher's own, what was written."""
        if mark == self.reader:
            return {"reads": self._written()}
        code = self._codes.get(mark)
        return ({"code": code} if code else {}) | self._asked_of(mark)

    def _asked_of(self, mark: str) -> dict[str, Any]:
        asked = self.round
        if asked is None:
            return {"round": None}
        return {
            "round": {
                "number": asked.number,
                "vote": len(asked.votes),
                "title": asked.title,
                "about": asked.about,
                "parts": [part.as_plain() for part in asked.parts],
                "hasPictures": bool(asked.pictures),
            },
            "open": asked.is_open,
            "answer": asked.votes[-1].get(mark),
        }

    def for_teacher(self) -> dict[str, Any]:
        """Give the round as the teacher's page opened it."""
        asked = self.round
        state = {"reads": bool(self.reader), "oneEach": self.is_one_each}
        if asked is None:
            return state | {"round": None}
        parts = [part.as_plain() for part in asked.parts]
        return state | {
            "round": {
                "number": asked.number,
                "title": asked.title,
                "memo": asked.memo,
                "parts": parts,
            },
            "open": asked.is_open,
            "written": {
                name: [text for text, is_seen in known.items() if is_seen]
                for name, known in asked.shown.items()
            },
        }

    def _written_parts(self) -> dict[str, Part]:
        """Give the parts that are answered in pupils' own words or signs, by their names."""
        parts = self.round.parts if self.round else ()
        return {part.name: part for part in parts if part.is_written}

    def _written(self) -> dict[str, Any]:
        parts = []
        for name, part in self._written_parts().items():
            known = self.round.shown.get(name, {}) if self.round else {}
            texts = sorted({*self.texts(name), *(text for text in known if known[text])})
            listed = [[each, known.get(each, False)] for each in texts]
            parts.append({"name": name, "label": part.label, "texts": listed})
        return {"title": self.round.title if self.round else "", "parts": parts}

    def _count(self, vote: dict[str, Values]) -> dict[str, Any]:
        parts = self.round.parts if self.round else ()
        counted = self._one_each(vote) if self.is_one_each else list(vote.values())
        return {
            "answered": len(counted),
            "counts": {
                part.name: part.count(v[part.name] for v in counted if part.name in v)
                for part in parts
            },
        }

    def _one_each(self, vote: dict[str, Values]) -> list[Values]:
        first: dict[str, Values] = {}
        for mark, values in vote.items():
            phone = self.phones.get(mark)
            first.setdefault(phone.address if phone else mark, values)
        return list(first.values())

    def _make_place(self, address: str) -> str | None:
        """Forget a phone where the room is full for an address; give its mark.

        One that has gone and has not answered may be forgotten. So that whoever comes with many marks
        shuts nobody out, the address that has most phones loses one to an address that has fewer.
        """
        sizes = Counter(phone.address for phone in self.phones.values())
        own = sizes[address]
        if len(self.phones) < MAX_PHONES and own < MAX_PHONES_OF_ONE_ADDRESS:
            return None
        latest = self.round.votes[-1] if self.round else {}

        def is_idle(mark: str) -> bool:
            return not self.phones[mark].is_here and mark not in latest

        def may_go(mark: str) -> bool:
            size = sizes[self.phones[mark].address]
            if own >= MAX_PHONES_OF_ONE_ADDRESS:
                return self.phones[mark].address == address and is_idle(mark)
            return size > own + 1 or (size >= own and is_idle(mark))

        found = [mark for mark in self.phones if mark != self.reader and may_go(mark)]
        if not found:
            raise RoomFullError
        gone = max(found, key=lambda mark: (sizes[self.phones[mark].address], is_idle(mark)))
        latest.pop(gone, None)
        self._codes.pop(gone, None)
        del self.phones[gone]
        return gone
