"""Siblings of a question: by the same maker, about the same idea, with other numbers or substances."""

from __future__ import annotations

from hashlib import sha256
from typing import TYPE_CHECKING

from fizzplate.questions.makers import MAKERS
from fizzplate.questions.random_source import EDITION, RandomSource, seed_of

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    from fizzplate.questions.question_types import Question
    from fizzplate.words import Wording

DRAWS = 40  # of one maker in search of a question that has not been asked


def item_key(question: Question) -> str:
    """Return what a question is known by once it is asked: its text, then what it asks in any words.

    Examples
    --------
    >>> from fizzplate.questions.sets import another
    >>> key = item_key(another("gas test", 1))
    >>> len(key), key == item_key(another("gas test", 1))
    (17, True)
    """
    asked = (question.maker, question.comparison_key, question.chart)
    return f"{_digest(question.text)}-{_digest(repr(asked))}"


def text_key(text: str) -> str:
    """Return the part of an item's key that stands for its text."""
    return _digest(text)


def _digest(text: str) -> str:
    return sha256(text.encode()).hexdigest()[:8]


def ideas_behind(question: Question) -> set[int]:
    """Return the numbers of the ideas behind its wrong options, of its parts too.

    Examples
    --------
    >>> from fizzplate.questions.sets import another
    >>> sorted(ideas_behind(another("wires swapped", 1)))
    [8, 16]
    """
    own = {option.misconception for option in question.options if not option.right}
    return own.union(*map(ideas_behind, question.sections)) - {0}


def units_of(question: Question) -> tuple[str, ...]:
    """Return the units of the numbers that a question asks for.

    Examples
    --------
    >>> from fizzplate.questions.sets import another
    >>> units_of(another("in parts", 2)), units_of(another("gas test", 1))
    (('C', 'mol', 'mol', 'g'), ())
    """
    return tuple(part.unit for part in question.parts)


def sibling(
    maker: str,
    seed: int,
    *,
    asked: Collection[str],
    idea: int = 0,
    units: tuple[str, ...] = (),
    strict: bool = False,
    wording: Wording | None = None,
    edition: int = EDITION,
) -> Question | None:
    """Make a question like one that was asked, but never that one.

    Parameters
    ----------
    maker
        Who made it; nothing comes of a name that no maker has, as of a question of a file.
    seed
        The same seed gives the same question everywhere.
    asked
        Keys of what was asked (:func:`item_key`), or the first part of a key alone: no sibling has the same
        text, and one that asks something else is preferred to one that asks the same in other words.
    idea
        Number of the idea that was behind the mistake: a sibling that tries it too is preferred.
    units
        Of the numbers that were asked for: a sibling that asks for the same quantities is preferred.
    strict, wording, edition
        As for a set.

    Returns
    -------
    Question or None
        Nothing, if the maker knows no other.

    Examples
    --------
    >>> from fizzplate.questions.sets import another
    >>> first = another("charge", 1)
    >>> other = sibling("charge", 2, asked={item_key(first)})
    >>> other.maker, other.text == first.text, sibling("of a file", 2, asked=())
    ('charge', False, None)
    """
    if maker not in MAKERS:
        return None
    texts = {key.partition("-")[0] for key in asked}
    meanings = {key.partition("-")[2] for key in asked}
    best: tuple[int, Question | None] = (0, None)
    for question in _draws(maker, seed, wording, edition):
        text, _, meaning = item_key(question).partition("-")
        if text in texts:
            continue
        tries_idea = not idea or idea in ideas_behind(question)
        fits = not units or units == units_of(question)
        worth = 1 + (meaning not in meanings) + 2 * tries_idea + 4 * fits
        if worth > best[0]:
            best = worth, question
        if worth == 8:
            break
    found = best[1]
    return found and found.with_strict_units(strict=strict)


def _draws(maker: str, seed: int, wording: Wording | None, edition: int) -> Iterator[Question]:
    for draw in range(DRAWS):
        rng = RandomSource(seed_of(seed, maker, draw, "sibling"), wording, edition)
        yield MAKERS[maker](rng)
