"""How learners write what earns a mark: ions in words and formulae, verbs, and other spellings."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from fizzplate.chemistry import line_and_charge, name_without_number, species_name
from fizzplate.words import DEFAULT_WORDING, Wording, say

if TYPE_CHECKING:
    from collections.abc import Iterable


def ion_words(ion: str) -> tuple[str, ...]:
    """Return how a learner may write an ion, in small letters.

    Examples
    --------
    >>> ion_words("Cu2+")
    ('copper(ii) ion', 'copper ion', 'cu2+', 'cu^2+')
    """
    body, charge = (part.lower() for part in line_and_charge(ion))
    names = (species_name(ion).lower(), name_without_number(ion).lower())
    return (*dict.fromkeys(f"{name} ion" for name in names), f"{body}{charge}", f"{body}^{charge}")


def subjects(ion: str) -> tuple[str, ...]:
    """Return an ion as the subject of what a learner says, one or many.

    Examples
    --------
    >>> subjects("H+")
    ('hydrogen ions', 'h+', 'h+ ions', 'h^+', 'h^+ ions')
    """
    names, formulae = ion_words(ion)[:-2], ion_words(ion)[-2:]
    return (
        *(f"{name}s" for name in names),
        *(form for bare in formulae for form in (bare, f"{bare} ions")),
    )


def combine(subjects: Iterable[str], verbs: Iterable[str]) -> tuple[str, ...]:
    """Return every subject with every verb.

    Examples
    --------
    >>> combine(("h+", "hydrogen ions"), ("gain",))
    ('h+ gain', 'hydrogen ions gain')
    """
    after = tuple(verbs)
    return tuple(f"{subject} {verb}" for subject in subjects for verb in after)


#: a board that names the electrodes by their signs
SIGNS = Wording(electrode_names="negative")


def either_name(words: Iterable[str]) -> tuple[str, ...]:
    """Return words with the electrodes' slots filled by one name and by the other.

    Examples
    --------
    >>> either_name(("{the_anode} dissolves", "it dissolves"))
    ('the anode dissolves', 'it dissolves', 'the positive electrode dissolves')
    """
    return _by_either_name(tuple(words))


@cache
def _by_either_name(templates: tuple[str, ...]) -> tuple[str, ...]:
    names = (DEFAULT_WORDING, SIGNS)
    return tuple(dict.fromkeys(say(each, wording) for wording in names for each in templates))


#: other spellings of a word: by a telephone, in a hurry, American or older
SPELT = (("'", "’"), ("'", ""), ("oxidis", "oxidiz"), ("sulf", "sulph"), ("colour", "color"))


def spellings(words: Iterable[str]) -> tuple[str, ...]:
    """Return words with the other spellings of each, after all of those that are given.

    Examples
    --------
    >>> spellings(("doesn't react", "fades"))
    ("doesn't react", 'fades', 'doesn’t react', 'doesnt react')
    """
    given = tuple(words)
    others = [word.replace(usual, other) for usual, other in SPELT for word in given]
    return tuple(dict.fromkeys((*given, *others)))
