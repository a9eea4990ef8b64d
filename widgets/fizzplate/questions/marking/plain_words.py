"""An answer in few words that mean the same: ions by name, other spellings, other verbs, misspelt key words.

The words that a mark is given for go the same way, so either may be written in any form. ``words.json`` holds
the rules, a line for each synonym, and the page reads it as well (``views/quiz/plain_words.js``).
"""

from __future__ import annotations

import json
import re
from functools import cache, lru_cache
from importlib import resources
from typing import Any, NamedTuple

RULES: dict[str, Any] = json.loads(
    resources.files(__package__).joinpath("words.json").read_text("utf-8")
)
Rules = list[tuple[re.Pattern[str], str]]


class _Patterns(NamedTuple):
    """The rules, ready to be used."""

    signs: Rules
    spoken: Rules
    ions: Rules
    formulae: Rules
    synonyms: Rules
    left_out: re.Pattern[str]


def _rules(pairs: list[list[str]]) -> Rules:
    return [
        (re.compile(pattern), re.sub(r"\$([0-9])", r"\\\1", written)) for pattern, written in pairs
    ]


@cache
def _patterns() -> _Patterns:
    """Make the rules ready: this takes longer than all else here, and only marking needs it."""
    return _Patterns(
        signs=_rules(RULES["signs"]),
        spoken=_rules(RULES["spoken"]),
        ions=[
            (
                re.compile(rf"(?<![a-z])[0-9]*(?:{pattern})(?: ions?(?![a-z]))?(?![a-z0-9])"),
                f"{name} ion",
            )
            for name, pattern in RULES["ions"]
        ],
        formulae=[
            (re.compile(rf"(?<![a-z])[0-9]*(?:{pattern})(?![a-z0-9+-])"), name)
            for name, pattern in RULES["formulae"]
        ],
        synonyms=[
            (re.compile(rf"(?<![a-z])(?:{pattern.replace('~', RULES['ending'])})(?![a-z])"), word)
            for word, pattern in RULES["synonyms"]
        ],
        left_out=re.compile(RULES["left_out"]),
    )


_WORD = re.compile("[a-z]+")
_KEY_WORDS: dict[str, None] = dict.fromkeys(RULES["key_words"])
_LETTERS, _LETTERS_FOR_TWO = RULES["spelling"]["letters"], RULES["spelling"]["letters_for_two"]


@lru_cache(maxsize=8192)
def plain_words(text: str, *, mend: bool = False) -> str:
    """Write a text in small letters and in the words that marking knows.

    Parameters
    ----------
    text
        With plain signs.
    mend
        Whether key words are mended where they are misspelt: in an answer, which has whole words.

    Examples
    --------
    >>> plain_words("The OH- ions get used up, leaving Na+", mend=True)
    'hydroxide ion discharge, leave sodium ion'
    >>> plain_words("elecrtons are given away", mend=True)
    'electron lose'
    """
    rules = _patterns()
    plain = text.lower()
    for pattern, written in (*rules.signs, *rules.ions, *rules.formulae):
        plain = pattern.sub(written, plain)
    if mend:
        plain = _WORD.sub(lambda found: _mended(found[0]), plain)
    for pattern, written in rules.spoken:
        plain = pattern.sub(written, plain)
    plain = rules.left_out.sub("", plain)
    plain = re.sub(" +", " ", plain)
    for pattern, written in rules.synonyms:
        plain = pattern.sub(written, plain)
    before, after = (" " * text.startswith(" "), " " * text.endswith(" "))
    return f"{before}{plain.strip(' ')}{after}"


@lru_cache(maxsize=4096)
def _mended(word: str) -> str:
    """Return the key word that a word is a slip of, or the word itself.

    The first letter is seldom wrong; two key words that are as near leave it open.
    """
    if len(word) < _LETTERS or word in _KEY_WORDS:
        return word
    most = 2 if len(word) >= _LETTERS_FOR_TWO else 1
    near: dict[int, list[str]] = {}
    for key in _KEY_WORDS:
        if key[0] == word[0] and abs(len(key) - len(word)) <= most:
            near.setdefault(_slips(word, key), []).append(key)
    fewest = min(near, default=most + 1)
    return near[fewest][0] if fewest <= most and len(near[fewest]) == 1 else word


def _slips(one: str, other: str) -> int:
    """Count the letters that are wrong, missing, too many or swapped (Damerau and Levenshtein's distance)."""
    rows = [list(range(len(other) + 1))]
    for j, a in enumerate(one, start=1):
        row = [j]
        for k, b in enumerate(other, start=1):
            least = min(rows[-1][k] + 1, row[-1] + 1, rows[-1][k - 1] + (a != b))
            if j > 1 and k > 1 and a == other[k - 2] and one[j - 2] == b:
                least = min(least, rows[-2][k - 2] + 1)
            row.append(least)
        rows.append(row)
    return rows[-1][-1]
