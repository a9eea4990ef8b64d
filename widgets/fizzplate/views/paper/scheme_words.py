"""Which words a mark scheme shows for a point: all of them if they are few, otherwise some that differ."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from fizzplate.lesson.equations import known_species
from fizzplate.questions.marking import shown_word
from fizzplate.views.paper.typesetting import formula_of
from fizzplate.words import DEFAULT_WORDING, begin

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.questions import Point
    from fizzplate.words import Wording

MAX_PHRASES = 5  # that are printed; the page lists all of them
# how parts of words are printed that are kept so that "bubbling" and "bubbles" are both found
WHOLE = {
    "alumin": "aluminium",
    "bubbl": "bubbles",
    "chang": "changes",
    "cloud": "cloudy",
    "col": "coloured",
    "copper-col": "copper-coloured",
    "decolori": "decolorises",
    "decolouri": "decolourises",
    "decompos": "decomposes",
    "dissociat": "dissociates",
    "dissolv": "dissolves",
    "effervesc": "effervescence",
    "explo": "explodes",
    "glow": "glowing",
    "h3o": "H₃O⁺",
    "hcl": "HCl",
    "impurit": "impurities",
    "milk": "milky",
    "n't": "not",
    "oil": "OIL",
    "oxid": "oxidation",
    "redu": "reduction",
    "rig": "RIG",
    "separat": "separates",
    "smoulder": "smouldering",
    "squeak": "squeaks",
    "wear": "wears away",
}
ALIKE = 0.5  # share of the words of two phrases that are the same: more, and one of them is enough


#: names of electrodes that a board which calls them by their signs does not use
BY_FUNCTION = re.compile("cathode|anode")


#: a piece of an equation, which says less to whoever marks than words do
OF_AN_EQUATION = re.compile(r"\+ |\b[0-9][a-z]")
#: phrases that nobody would write in a list: cut out of sentences, or only there against a pun
FOR_MARKING = re.compile(
    r"[,;=]|\w\.\s|^(?:it|its|these|this|turn|goes|change)\b|\b(?:you|they|them|and in|split free)\b"
    r"|(?:\bas|\bin|\bto|\bby|\bfrom|\bof|\bat|\band|\bgo|\bis|… the)$"
    r"|(?:ide|ate|hydrogen) metal\b|\bn't\b"
)


def wordings(point: Point, wording: Wording = DEFAULT_WORDING) -> str:
    """Tell what earns the mark of a point, and what does not, by the names that the board uses.

    Examples
    --------
    >>> from fizzplate.questions.content import Point
    >>> wordings(Point("a deposit", ("deposit", "coat", "coating"), ("precipitate",)))
    'A deposit: accept deposit, coat; reject precipitate.'
    >>> wordings(Point("a gas", ("bubbl", "effervesc")))
    'A gas: accept bubbles, effervescence.'
    >>> wordings(Point("acid", ("oxygen + 4h", "sour", "nitric", "low ph", "red", "sulfuric", "h+ left")))
    'Acid: accept, for example, sour, nitric, low ph, red, sulfuric or equivalent.'
    """
    kinds = [f"{what}{_listed(words, what)}" for what, words in _kinds(point, wording)]
    return f"{begin(point.statement)}: {'; '.join(kinds)}."


def full_wordings(point: Point, wording: Wording = DEFAULT_WORDING) -> str:
    """Tell every word that earns the mark of a point or does not; nothing where :func:`wordings` tells all.

    Examples
    --------
    >>> from fizzplate.questions.content import Point
    >>> full_wordings(Point("a gas", ("bubbl", "effervesc")))
    ''
    >>> full_wordings(Point("a gas", ("bubbl", "effervesc", "foam", "froth", "gas", "fizz")))
    'accept bubbles, effervescence, foam, froth, gas, fizz'
    """
    kinds = [(what, _all_shown(words)) for what, words in _kinds(point, wording)]
    if all(len(shown) <= MAX_PHRASES for _, shown in kinds):
        return ""
    return "; ".join(f"{what} {', '.join(shown)}" for what, shown in kinds)


def _kinds(point: Point, wording: Wording) -> list[tuple[str, Sequence[str]]]:
    """Return what each list of a point is called, with its words as the board would say them."""
    lists = (
        ("accept", point.words),
        ("reject", point.contradictions),
        ("not enough alone:", point.too_little),
        ("said of", point.within),
    )
    return [(what, _of_board(words, wording)) for what, words in lists if words]


def _of_board(words: Sequence[str], wording: Wording) -> Sequence[str]:
    """Leave out words that name an electrode otherwise than the board does, where others are left."""
    if wording.electrode_names != "negative":
        return words
    return [word for word in words if not BY_FUNCTION.search(word)] or words


def print_formulae(words: str) -> str:
    """Print the formulae of ions in words that are kept in small letters.

    Examples
    --------
    >>> print_formulae("oh^- ions and cu2+ stay")
    'OH⁻ ions and Cu²⁺ stay'
    """
    ions = {name.lower(): name for name, (_, charge) in known_species().items() if charge}
    plain = words.replace("^", "").split(" ")
    return " ".join(formula_of(ions[each]) if each in ions else each for each in plain)


def _listed(words: Sequence[str], what: str) -> str:
    """List words; of many, some that differ."""
    shown = _plain(_all_shown(words))
    if len(shown) <= MAX_PHRASES:
        return f" {', '.join(shown)}"
    others = " or equivalent" if what == "accept" else ""
    return f", for example, {', '.join(_different(shown))}{others}"


def _all_shown(words: Sequence[str]) -> list[str]:
    """Return words as they are printed, those left out that hold another of them."""
    least = [word for word in words if not any(other in word for other in words if other != word)]
    return list(dict.fromkeys(map(_shown, least)))


def _shown(word: str) -> str:
    goes_on = " …" if word.endswith(" ") and not word.startswith(" ") else ""
    joined = word.replace(" .. ", " … ").replace(" & ", " and ")
    whole = " ".join(WHOLE.get(each, each) for each in joined.split())
    return f"{print_formulae(shown_word(whole)).replace('(ii)', '(II)')}{goes_on}"


def _plain(phrases: Sequence[str]) -> Sequence[str]:
    """Leave out phrases that only marking needs, where others are left.

    Examples
    --------
    >>> _plain(["copper … anode", "cathode; copper", "it … sink", "copper … goes in as", "sulfate metal"])
    ['copper … anode']
    """
    return [each for each in phrases if not FOR_MARKING.search(each)] or phrases


def _different(phrases: Sequence[str]) -> list[str]:
    """Choose phrases of which no two are alike; of one that is said of several ions, the plural."""
    chosen: list[str] = []
    for phrase in sorted(
        phrases, key=lambda each: (bool(OF_AN_EQUATION.search(each)), "ion" in each.split())
    ):
        if len(chosen) < MAX_PHRASES and all(_likeness(phrase, other) < ALIKE for other in chosen):
            chosen.append(phrase)
    return chosen


def _likeness(one: str, other: str) -> float:
    """Return which share of the words of two phrases is in both, one ion or several."""
    a, b = (set(each.replace("ions", "ion").split()) for each in (one, other))
    return len(a & b) / len(a | b)
