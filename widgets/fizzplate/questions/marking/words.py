"""Which listed words an answer says: from the beginning of a word, not denied, and of the right thing.

The page reads answers by the same rules (``views/quiz/words.js``); a test holds the two together.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from fizzplate.questions.marking.marks import Line

if TYPE_CHECKING:
    from collections.abc import Iterator

    from fizzplate.questions.content import Point

BOTH_WORDS = " & "
NEAR_WORDS = 4  # words before a hit, in its clause, among which a denial counts
AFTER_WORDS = 6  # words behind a hit, in its clause, among which "is not seen" counts

_CLAUSE = re.compile(
    r"[.;,:]|(?<![a-z])(?:and|but|so|because|as|since|while|whilst|whereas|although|though|until|"
    r"unless|if|when)(?![a-z])"
)
_SENTENCE = re.compile(r"[.;]")
_PIECE = re.compile(r",|(?<![a-z])(?:and|but|while|whilst|whereas)(?![a-z])")
_WHEN = re.compile(r" *(?:when|if|where)(?![a-z])")
_NO = (
    r"(?<![a-z])(?:not(?! only)|no|never|without|nor|cannot|[a-z]+n't|"
    r"(?:do|does|did|is|are|was|were|ca|wo|could|would)nt)(?![a-z0-9])"
)
_DENIAL = re.compile(_NO)
_NOT_SEEN = re.compile(
    rf"{_NO}(?: [a-z]+)? (?:seen|formed|form|there|observed|present|produced|made|visible|appear|happen)"
)


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
    text = f" {answer.lower()} "
    if point.within:
        text = _sentences_about(text, point.within, point.besides)
    against, _ = _first_said(text, point.contradictions)
    if against:
        how = "is the wrong way round" if point.within else "takes it back"
        return Line(earned=False, reason=f"{point.statement}: “{against}” {how}.")
    word, denied = _first_said(text, point.words)
    if word:
        return Line(earned=True, reason=f"{point.statement}: “{word}” says it.")
    if denied:
        return Line(earned=False, reason=f"{point.statement}: “{denied}” is denied.")
    little, _ = _first_said(text, point.too_little)
    if little:
        return Line(earned=False, reason=f"{point.statement}: “{little}” alone is too little.")
    return Line(earned=False, reason=f"{point.statement}: not said.")


def _first_said(text: str, words: tuple[str, ...]) -> tuple[str, str]:
    """Return the first of the words that is said, and the first that is only denied."""
    denied = ""
    for word in words:
        is_there = _is_claimed(text, word)
        if is_there:
            return word.strip(), ""
        if is_there is False:
            denied = denied or word.strip()
    return "", denied


def _is_claimed(text: str, word: str) -> bool | None:
    """Whether a word is said, or only denied; nothing, where it does not stand there."""
    if BOTH_WORDS not in word:
        hits = [_denied(text, start, word) for start in _starts(text, word)]
        return not all(hits) if hits else None
    verdicts: list[bool] = []
    for sentence in _SENTENCE.split(text):
        each = [_is_claimed(f" {sentence} ", part) for part in word.split(BOTH_WORDS)]
        if None not in each:
            verdicts.append(False not in each)
    return any(verdicts) if verdicts else None


def _starts(text: str, word: str) -> Iterator[int]:
    """Yield where a word stands from the beginning of a word of the text."""
    at = text.find(word)
    while at >= 0:
        if not ("a" <= word[0] <= "z" and at and "a" <= text[at - 1] <= "z"):
            yield at
        at = text.find(word, at + 1)


def _denied(text: str, start: int, word: str) -> bool:
    """Whether a hit is denied: by a word close before it, or by what follows in its clause."""
    if _DENIAL.search(word):
        return False
    before = _CLAUSE.split(text[:start])[-1].split(" ")
    if _DENIAL.search(" ".join([each for each in before if each][-NEAR_WORDS:])):
        return True
    after = _CLAUSE.split(text[start + len(word) :])[0].split(" ")
    return bool(_NOT_SEEN.search(" ".join(after[: AFTER_WORDS + 1])))


def _sentences_about(text: str, within: tuple[str, ...], besides: tuple[str, ...]) -> str:
    """Return what an answer about two things says of the one.

    A sentence, or a part of one that names both, is about what it names; where it names neither it goes
    on about what came before, or, from "when" on, tells of what comes next.
    """
    own: list[str] = []
    waiting: list[str] = []
    about: bool | None = None
    for piece in _pieces(text, within, besides):
        mine, other = (_first_position(piece, names) for names in (within, besides))
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
        if _first_position(sentence, within) is None or _first_position(sentence, besides) is None:
            yield sentence
        else:
            yield from _PIECE.split(sentence)


def _first_position(text: str, names: tuple[str, ...]) -> int | None:
    """Return where the first of the names stands, if one does."""
    return min((at for name in names for at in _starts(text, name)), default=None)
