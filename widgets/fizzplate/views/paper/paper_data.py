"""Constants that the questions of a paper take: given once at its top, and not in each question."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from fizzplate.questions.question_types import NumberQuestion

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from fizzplate.questions.question_types import Question

NAMES = {"F": "Faraday constant", "R": "gas constant"}
_TAKE = re.compile(r"\s*\bTake (.+?)\.(?=\s|$)")
_BETWEEN = re.compile(r", | and ")


def given_once(asked: Sequence[Question]) -> tuple[list[Question], list[str]]:
    """Take out of questions what all of them take alike.

    Parameters
    ----------
    asked
        The questions of a paper; their texts give data as "Take F = 96 500 C/mol and M(Cu) = 63.5 g/mol."

    Returns
    -------
    tuple
        The questions without those constants, and the constants by name. One that two questions take
        differently stays in both.

    Examples
    --------
    >>> from fizzplate.questions.question_types import NumberQuestion
    >>> text = "How much? Take F = 96 500 C/mol and M(Cu) = 63.5 g/mol."
    >>> asked = NumberQuestion("mass", "quantities", 16, text, "", parts=())
    >>> left, data = given_once([asked])
    >>> left[0].text, data
    ('How much? Take M(Cu) = 63.5 g/mol.', ['Faraday constant F = 96 500 C/mol'])
    """
    texts = [text for each in asked for text in (each.text, *(part.asks for part in each.parts))]
    found = dict.fromkeys(item for text in texts for item in _items(text) if _symbol(item))
    symbols = [_symbol(item) for item in found]
    shared = [item for item in found if symbols.count(_symbol(item)) == 1]
    left = [_question_without(each, shared) for each in asked]
    return left, [f"{NAMES[_symbol(item)]} {item}" for item in shared]


def _question_without(asked: Question, shared: Iterable[str]) -> Question:
    text = _without(asked.text, shared)
    if not isinstance(asked, NumberQuestion):
        return replace(asked, text=text)
    parts = tuple(replace(part, asks=_without(part.asks, shared)) for part in asked.parts)
    return replace(asked, text=text, parts=parts)


def _items(text: str) -> list[str]:
    return [item for taken in _TAKE.findall(text) for item in _BETWEEN.split(taken)]


def _symbol(item: str) -> str:
    """Return the symbol of a constant, or nothing where it is not one."""
    symbol = item.partition(" = ")[0]
    return symbol if symbol in NAMES else ""


def _without(text: str, shared: Iterable[str]) -> str:
    def rest(found: re.Match[str]) -> str:
        *first, last = [item for item in _BETWEEN.split(found[1]) if item not in shared] or [""]
        if not last:
            return ""
        return f" Take {', '.join(first)} and {last}." if first else f" Take {last}."

    return _TAKE.sub(rest, text).lstrip()
