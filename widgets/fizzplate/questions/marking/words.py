"""Which listed words an answer says: from the beginning of a word, not denied, and of the right thing.

Both are compared in the plain words of :mod:`~fizzplate.questions.marking.plain_words`. The page reads
answers by the same rules (``words.json``, ``views/quiz/words.js``); a test holds the two together.
"""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING

from fizzplate.questions.marking.marks import Line
from fizzplate.questions.marking.plain_words import RULES, plain_words
from fizzplate.words import say

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from fizzplate.questions.content import Point

BOTH_WORDS = " & "
ONE_AFTER_ANOTHER = " .. "
_EDGES = " ^.,;"  # of a listed word, which no reason shows
BEGINNING = "^"  # of an answer: listed words may begin with it
NEAR_WORDS: int = RULES["near_words"]  # before a hit, in its clause, among which a denial counts
AFTER_WORDS: int = RULES["after_words"]  # behind a hit, among which "is not seen" counts
GAP_WORDS: int = RULES["gap_words"]  # at most between words that follow one after another
SENTENCES: Mapping[str, str] = RULES["sentences"]

_CLAUSE, _SENTENCE, _PIECE, _WHEN, _BOTH, _DENIAL, _GAP_STOPS = (
    re.compile(RULES[name])
    for name in (
        *("clause_ends", "sentence_ends", "piece_ends", "when", "of_both", "denial"),
        "gap_stops",
    )
)
_NOT_SEEN = re.compile(RULES["denial"] + RULES["not_seen"])


def mark_point(point: Point, answer: str) -> Line:
    """Mark a point of an answer, with the reason.

    Parameters
    ----------
    point
        What is to be said.
    answer
        The answer with plain signs.

    Examples
    --------
    >>> from fizzplate.questions.content import Point
    >>> mark_point(Point("bubbles", ("bubbl",)), "no bubbles").reason
    'bubbles: “bubbl” is denied.'
    """
    text = f"{BEGINNING} {plain_words(answer, mend=True)} "
    if point.within:
        text = _sentences_about(text, point.within, point.besides)
    against, _ = _first_said(text, point.contradictions)
    if against:
        return _line(point, "wrong_way" if point.within else "takes_back", against)
    word, denied = _first_said(text, point.words)
    if word:
        return _line(point, "says_it", word, earned=True)
    if denied:
        return _line(point, "denied", denied)
    little, _ = _first_said(text, point.too_little)
    return _line(point, "too_little" if little else "not_said", little)


def shown_word(word: str) -> str:
    """Return a listed word as it is shown, without what only says where it stands.

    Examples
    --------
    >>> shown_word("^ cathode,")
    'cathode'
    """
    return word.strip(_EDGES)


def distinct_words(words: Iterable[str]) -> list[str]:
    """Leave out listed words that read the same as one before them: another spelling or form of a verb.

    Examples
    --------
    >>> distinct_words(("oxidised", "oxidized", "is lost", "loses"))
    ['oxidised', 'is lost']
    """
    first: dict[str, str] = {}
    for word in words:
        first.setdefault(_plain_entry(word), word)
    return list(first.values())


def _line(point: Point, reason: str, word: str, *, earned: bool = False) -> Line:
    shown = word.replace(ONE_AFTER_ANOTHER, " … ")
    return Line(earned, say(SENTENCES[reason], point=point.statement, word=shown))


def _first_said(text: str, words: tuple[str, ...]) -> tuple[str, str]:
    """Return the first of the words that is said, and the first that is only denied."""
    denied = ""
    for word in words:
        is_there = _is_claimed(text, _plain_entry(word))
        if is_there:
            return shown_word(word), ""
        if is_there is False:
            denied = denied or shown_word(word)
    return "", denied


@cache
def _plain_entry(word: str) -> str:
    """Return a listed word, or several with a sign between them, in plain words."""
    both = [
        ONE_AFTER_ANOTHER.join(map(plain_words, each.split(ONE_AFTER_ANOTHER)))
        for each in word.split(BOTH_WORDS)
    ]
    return BOTH_WORDS.join(both)


def _is_claimed(text: str, word: str) -> bool | None:
    """Whether a word is said, or only denied; nothing, where it does not stand there."""
    if BOTH_WORDS in word:
        verdicts: list[bool] = []
        for sentence in _SENTENCE.split(text):
            each = [_is_claimed(f" {sentence} ", part) for part in word.split(BOTH_WORDS)]
            if None not in each:
                verdicts.append(False not in each)
        return any(verdicts) if verdicts else None
    hits = [_denied(text, start, end, word) for start, end in _places(text, word)]
    return not all(hits) if hits else None


def _places(text: str, word: str) -> Iterator[tuple[int, int]]:
    """Yield where a word, or words one after another, begin and end."""
    first, *others = word.split(ONE_AFTER_ANOTHER)
    for start in _starts(text, first):
        end: int | None = start + len(first)
        for other in others:
            end = _end_behind(text, end, other) if end is not None else None
        if end is not None:
            yield start, end


def _end_behind(text: str, at: int, word: str) -> int | None:
    """Return where a word ends that stands close behind a place, with nothing between that parts them."""
    at += re.match("[a-z]*", text[at:]).end()  # type: ignore[union-attr]  # it always matches
    for start in _starts(text[at:], word):
        gap = text[at : at + start]
        if len(gap.split()) > GAP_WORDS or _GAP_STOPS.search(gap):
            return None
        return at + start + len(word)
    return None


def _starts(text: str, word: str) -> Iterator[int]:
    """Yield where a word stands from the beginning of a word of the text; one without letters, nowhere."""
    at = text.find(word) if word.strip() else -1
    while at >= 0:
        if not ("a" <= word[0] <= "z" and at and "a" <= text[at - 1] <= "z"):
            yield at
        at = text.find(word, at + 1)


def _denied(text: str, start: int, end: int, word: str) -> bool:
    """Whether a hit is denied: by a word close before it or within, or by what follows in its clause."""
    if _DENIAL.search(word):
        return False
    before = [] if _CLAUSE.match(word) else _CLAUSE.split(text[:start])[-1].split(" ")
    near = " ".join([each for each in before if each][-NEAR_WORDS:])
    if _DENIAL.search(near) or _DENIAL.search(text[start:end]):
        return True
    after = _CLAUSE.split(text[end:])[0].split(" ")
    return bool(_NOT_SEEN.search(" ".join(after[: AFTER_WORDS + 1])))


def _sentences_about(text: str, within: tuple[str, ...], besides: tuple[str, ...]) -> str:
    """Return what an answer about two things says of the one.

    A sentence, or a part of one that names both, is about what it names; where it names neither it goes
    on about what came before, or, from "when" on, tells of what comes next. What is said "in both" is
    about either.
    """
    own: list[str] = []
    waiting: list[str] = []
    about: bool | None = None
    names_of = [tuple(map(plain_words, names)) for names in (within, besides)]
    for piece in _pieces(text, *names_of):
        if _BOTH.search(piece):
            own.append(piece)
            continue
        mine, other = (_first_position(piece, names) for names in names_of)
        if mine is None and other is None:
            if about is None or _WHEN.match(piece):
                waiting.append(piece)
            elif about:
                own.append(piece)
            continue
        first = other is None or (mine is not None and mine <= other)
        cut = len(piece) if mine is None or other is None or mine == other else max(mine, other)
        own += [*waiting, piece[:cut]] if first else []
        waiting = []
        if cut < len(piece):
            own += [] if first else [piece[cut:]]
            about = not first
        else:
            about = first
    return f" {' . '.join(own)} "


def _pieces(text: str, within: tuple[str, ...], besides: tuple[str, ...]) -> Iterator[str]:
    for sentence in _SENTENCE.split(text):
        names_both = all(
            _first_position(sentence, names) is not None for names in (within, besides)
        )
        if names_both or _BOTH.search(sentence):
            yield from _PIECE.split(sentence)
        else:
            yield sentence


def _first_position(text: str, names: tuple[str, ...]) -> int | None:
    """Return where the first of the names stands, if one does."""
    return min((at for name in names for at in _starts(text, name)), default=None)
