"""What a phone writes, made safe to stand beside what others wrote."""

from __future__ import annotations

import unicodedata
from typing import Any

MAX_ACCENTS = 3  # on one letter: more are piled up to cover the neighbours
JOINERS = "\u200c\u200d"  # that scripts and emoji need; other unseen signs only turn the line about


def plain(text: str) -> str:
    r"""Give a text as one line without controls, changes of direction, heaps of accents or half characters.

    It is never longer than what was given, and stays as it is if it is made plain again.

    Examples
    --------
    >>> plain("pink\n\nlayer \u202eon the rod")
    'pink layer on the rod'
    """
    kept: list[str] = []
    accents = 0
    for sign in text:
        category = unicodedata.category(sign)
        if category in {"Mn", "Me"}:
            accents += 1
        elif category != "Cf":
            accents = 0
        if accents > MAX_ACCENTS or (category == "Cf" and sign not in JOINERS):
            continue
        kept.append("\N{REPLACEMENT CHARACTER}" if category == "Cs" else sign)
    return " ".join("".join(" " if _is_control(each) else each for each in kept).split())


def plain_strings(value: Any) -> Any:
    """Make every text in what was read from JSON plain; names of fields stay."""
    if isinstance(value, str):
        return plain(value)
    if isinstance(value, list):
        return [plain_strings(each) for each in value]
    if isinstance(value, dict):
        return {name: plain_strings(each) for name, each in value.items()}
    return value


def _is_control(sign: str) -> bool:
    return unicodedata.category(sign) in {"Cc", "Zl", "Zp"}
