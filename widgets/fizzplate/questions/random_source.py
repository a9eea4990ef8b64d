"""Choices that come out the same for a seed on every machine and version of Python."""

from __future__ import annotations

from hashlib import sha256
from typing import TYPE_CHECKING, TypeVar

from fizzplate.words import Wording

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

T = TypeVar("T")
_MASK = (1 << 64) - 1
#: of the questions as they are now: raised by one by whoever adds a maker or a row, or changes a maker
EDITION = 3


def seed_of(*parts: object) -> int:
    """Return a seed that follows from all of its parts and from nothing else.

    Examples
    --------
    >>> seed_of(31, "which way") == seed_of(31, "which way") != seed_of(32, "which way")
    True
    """
    digest = sha256("\n".join(map(str, parts)).encode()).digest()
    return int.from_bytes(digest[:8], "big")


class RandomSource:
    """Numbers from a seed (SplitMix64, a published generator).

    Parameters
    ----------
    seed
        Where they begin.
    wording
        The board's wording, which whatever is made with them keeps to; the usual one, if not given.
    edition
        Of the questions: what they may draw from.

    Examples
    --------
    >>> [RandomSource(1).number(6) for _ in range(2)], RandomSource(1).shuffled("abc")
    ([5, 5], ['c', 'b', 'a'])
    """

    def __init__(self, seed: int, wording: Wording | None = None, edition: int = EDITION) -> None:
        self._state = seed & _MASK
        self.edition = edition
        self.wording = wording or Wording()

    def _next(self) -> int:
        self._state = (self._state + 0x9E3779B97F4A7C15) & _MASK
        mixed = self._state
        mixed = ((mixed ^ (mixed >> 30)) * 0xBF58476D1CE4E5B9) & _MASK
        mixed = ((mixed ^ (mixed >> 27)) * 0x94D049BB133111EB) & _MASK
        return mixed ^ (mixed >> 31)

    def number(self, below: int) -> int:
        """Return a whole number from 0 up to, but not, a limit."""
        return self._next() % below

    def one_of(self, things: Sequence[T]) -> T:
        """Return one of several things."""
        return things[self.number(len(things))]

    def shuffled(self, things: Iterable[T]) -> list[T]:
        """Return things in another order."""
        left = list(things)
        mixed = []
        while left:
            mixed.append(left.pop(self.number(len(left))))
        return mixed

    def sample(self, things: Iterable[T], count: int) -> list[T]:
        """Return several different things."""
        return self.shuffled(things)[:count]

    def fork(self) -> RandomSource:
        """Return a source of its own, so that one question does not change the next."""
        return RandomSource(self._next(), self.wording, self.edition)
