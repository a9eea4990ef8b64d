"""The record of a practice: what it holds of each answer, and what is to come back."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum
from typing import TYPE_CHECKING, Any

from fizzplate.questions.practice.worked_examples import ALONE, WHOLE

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

#: how sure a learner is: what the record holds, and what a page offers
SURE, THINK, GUESS = "sure", "think", "guess"
CONFIDENCE = (SURE, THINK, GUESS)
MAX_RECORD = 2000  # answers of one practice

GUESS_WAITS = 2  # questions in between before a right guess comes back
MISS_WAITS = 3  # after the second miss in a row, so that nobody is kept at one thing
MISSES_AT_ONCE = 2


class Urgency(IntEnum):
    """Why something comes back, what comes first having the lowest number."""

    SURE_OF_AN_IDEA = 0
    SURE_AND_WRONG = 1
    WRONG_BY_AN_IDEA = 2
    WRONG = 3
    WORKED = 4
    GUESSED = 5


@dataclass(frozen=True, slots=True)
class Attempt:
    """What the record holds of one answer.

    Parameters
    ----------
    maker
        Who made the question.
    item
        The question's key (:func:`~fizzplate.questions.siblings.item_key`).
    right
        Whether the answer earned every mark; a worked example that was read whole is right.
    idea
        Number of the idea behind a wrong answer; 0 for none.
    sure
        A name in :data:`CONFIDENCE`.
    follows
        Place in the record, from 0, of the answer that this question came back for; -1 for none.
    left
        How many steps of a calculation were left to the learner, as in
        :class:`~fizzplate.questions.worked_examples.WorkedExample`; :data:`ALONE` for every other question.
    steps
        How many steps its working has; 0 for every other question.
    """

    maker: str
    item: str
    right: bool
    idea: int = 0
    sure: str = THINK
    follows: int = -1
    left: int = ALONE
    steps: int = 0


@dataclass(frozen=True, slots=True)
class Return:
    """Something that comes back.

    Parameters
    ----------
    place
        In the record, of the answer that it comes back for.
    urgency
        Why.
    wait
        How many questions come in between.
    misses
        How often it was missed in a row.
    """

    place: int
    urgency: Urgency
    wait: int = 0
    misses: int = 0


def returns_of(record: Sequence[Attempt]) -> list[Return]:
    """Return what is to come back, the most urgent first.

    Examples
    --------
    >>> guessed = Attempt("gas test", "a-b", right=True, sure="guess")
    >>> wrong = Attempt("which way", "c-d", right=False, idea=6, sure="sure")
    >>> [each.urgency.name for each in returns_of([guessed, wrong])]
    ['SURE_OF_AN_IDEA', 'GUESSED']
    """
    open_returns: dict[int, Return] = {}
    for place, each in enumerate(record):
        before = open_returns.pop(each.follows, None)
        misses = (before.misses if before else 0) + 1
        urgency = _urgency(each)
        if urgency is None:
            continue
        if urgency in (Urgency.WORKED, Urgency.GUESSED):
            wait = GUESS_WAITS if urgency is Urgency.GUESSED else 0
            open_returns[place] = Return(place, urgency, wait)
        else:
            wait = MISS_WAITS if misses >= MISSES_AT_ONCE else 0
            open_returns[place] = Return(place, urgency, wait, misses)
    return sorted(open_returns.values(), key=lambda each: (each.urgency, each.place))


def _urgency(attempt: Attempt) -> Urgency | None:
    """Return why an answer brings another question, if it does."""
    if not attempt.right:
        if attempt.sure == SURE:
            return Urgency.SURE_OF_AN_IDEA if attempt.idea else Urgency.SURE_AND_WRONG
        return Urgency.WRONG_BY_AN_IDEA if attempt.idea else Urgency.WRONG
    if attempt.left != ALONE:
        return Urgency.WORKED
    return Urgency.GUESSED if attempt.sure == GUESS else None


def read_record(plain: Iterable[Any]) -> list[Attempt]:
    """Read a record that a browser kept, up to the first entry that is none.

    Examples
    --------
    >>> kept = {"maker": "gas test", "item": "a-b", "right": False, "sure": "guess"}
    >>> [each.sure for each in read_record([kept, {"maker": 3}, kept])]
    ['guess']
    """
    record: list[Attempt] = []
    for each in plain:
        attempt = _attempt(each, len(record))
        if attempt is None or len(record) == MAX_RECORD:
            break
        record.append(attempt)
    return record


def _attempt(plain: Any, place: int) -> Attempt | None:
    if not isinstance(plain, dict):
        return None
    maker, item, right = (plain.get(name) for name in ("maker", "item", "right"))
    if not (isinstance(maker, str) and isinstance(item, str) and isinstance(right, bool)):
        return None
    sure = plain.get("sure")
    return Attempt(
        maker,
        item[:40],
        right,
        idea=_whole(plain.get("idea"), 0, 999, 0),
        sure=sure if sure in CONFIDENCE else THINK,
        follows=_whole(plain.get("follows"), -1, place - 1, -1),
        left=_whole(plain.get("left"), WHOLE, ALONE, ALONE),
        steps=_whole(plain.get("steps"), 0, 99, 0),
    )


def _whole(value: Any, least: int, most: int, otherwise: int) -> int:
    is_whole = isinstance(value, int) and not isinstance(value, bool)
    return value if is_whole and least <= value <= most else otherwise
