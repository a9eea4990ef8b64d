"""How a written equation is judged: read in every usual spelling, balanced or not, and what it does.

The page judges answers from the same data (``views/workshop/judge.js``); a test holds the two together.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections import Counter
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.chemistry import parse_formula
from fizzplate.lesson.rule import signed_charge

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from fizzplate.lesson.equations.equation_tasks import EquationTask, Net

MAX_EQUATION_LENGTH = 200  # characters of an answer that are read

_ARROWS = re.compile(r"<?[-=]?[=-]?>|[→⟶⇌⇒⟹➝➞➔➙➛➜]")
_ENDS = re.compile(rf"{_ARROWS.pattern}|=")
_DASHES = str.maketrans(dict.fromkeys("−–—‐‑‒﹣－", "-"))
_IGNORED = re.compile(r"\((?:aq|s|l|g)\)|[\s^_{}]")
_HALF = re.compile(r"(?<![0-9])0[.,]5(?![0-9])")
_COUNT = re.compile(r"^[+\-−–⁺⁻0-9/½ ]+")
_BELOW = re.compile(r"/([2-9])(?![0-9])")
#: letters of another alphabet, and I or 1 for l, that look like those of a formula
_ALIKE = str.maketrans("АВЕКМНОРСТХІаеорсхі", "ABEKMHOPCTXIaeopcxi")
_ALIKE_L = re.compile(r"C[I1]")


@dataclass(frozen=True, slots=True)
class Verdict:
    """How an answer stands.

    Parameters
    ----------
    code
        "right", "multiple", "cancel", "reversed", "other", "unbalanced", "unread" or "empty".
    sentences
        Sentences for the learner.
    in_place
        Whether what reacts, what forms and the electrons stand on the right sides, whatever their numbers.
    """

    code: str
    sentences: tuple[str, ...]
    in_place: bool = False


#: besides the species of the tables: atoms, and what is discharged in a melt
_ALSO_WRITTEN = ("e-", "H2O", "O", "Cl", "Br", "I", "N2", "SO2", "S", "O2-", "Al3+")


@cache
def known_species() -> Mapping[str, tuple[Mapping[str, int], int]]:
    """Return atoms and charge of every species that an answer may hold, by its spelling without ^."""
    names = [row["species"] for row in data.rows("species")]
    names += [row["oxidised"] for row in data.rows("potentials")]
    names += [row["reduced"] for row in data.rows("potentials")]
    read = [parse_formula(name) for name in [*names, *_ALSO_WRITTEN]]
    # the metal of a cation, which learners discharge where it stays in solution
    read += [
        parse_formula(*each.elements)
        for each in read
        if each.charge > 0 and len(each.elements) == 1
    ]
    return {each.text.replace("^", ""): (dict(each.elements), each.charge) for each in read}


def normalise(text: str) -> str:
    """Write an answer with plain signs: one arrow, plain digits, no spaces, states, marks or full stop.

    Examples
    --------
    >>> normalise("２H⁺(aq) + 2e⁻ ⟶ H₂")
    '2H++2e-=H2'
    """
    shown = _ARROWS.sub("=", text[:MAX_EQUATION_LENGTH].translate(_DASHES))
    plain = unicodedata.normalize("NFKC", shown).translate(_DASHES)
    kept = "".join(c for c in plain if unicodedata.category(c) not in {"Cf", "Cc"} or c in "\t\n ")
    halves = _HALF.sub("1/2", _IGNORED.sub("", kept).replace("⁄", "/"))
    return halves.rstrip(".")


def judge(text: str, task: EquationTask) -> Verdict:
    """Judge an answer to a task.

    Examples
    --------
    >>> from fizzplate.chemistry import half_equation
    >>> from fizzplate.lesson.equations.equation_tasks import half_task
    >>> judge("2Cu -> Cu2+", half_task(half_equation("Cu"), "Cu", "cathode")).sentences[0]
    'Cu atoms: 2 on the left, 1 on the right.'
    """
    plain = normalise(text)
    if not plain:
        return Verdict("empty", ("Write an equation first.",))
    sides = plain.split("=")
    if len(sides) != 2 or not all(sides):
        return Verdict("unread", ("Write one arrow, with something on either side of it.",))
    times = math.lcm(*map(int, _BELOW.findall(plain)))  # what makes whole numbers of its fractions
    read: list[Net] = []
    for k, side in enumerate(sides):
        terms = _read_side(side.removesuffix("-") if not k and _stray(side, times) else side, times)
        if isinstance(terms, str):
            if terms.startswith(("I", "1")) and f"C{terms}" in side:
                terms = f"C{terms}"  # an l that is typed as I: carbon was read
            after = "" if k else f"={sides[1]}"
            return Verdict("unread", (_unread(terms, _typed(text, f"{terms}{after}")),))
        read.append(terms)
    left, right = read
    net = {s: right.get(s, 0) - left.get(s, 0) for s in {**left, **right}}
    net = {s: n for s, n in net.items() if n}
    in_place = any(_same_sides(net, form) for form in task.accepted)
    unbalanced = _imbalance(left, right, times)
    if unbalanced:
        return Verdict("unbalanced", tuple(unbalanced), in_place)
    return replace(_compare(net, left, right, task, times), in_place=in_place)


def _same_sides(net: Net, form: Mapping[str, int]) -> bool:
    """Whether the same species are used, and the same made."""
    return net.keys() == form.keys() and all((net[s] > 0) == (form[s] > 0) for s in net)


def _stray(side: str, times: int) -> bool:
    """Whether a dash at the end of a side is the tail of a long arrow rather than a charge."""
    if not side.endswith("-") or not isinstance(_read_side(side, times), str):
        return False
    return not isinstance(_read_side(side[:-1], times), str)


def _compare(net: Net, left: Net, right: Net, task: EquationTask, times: int) -> Verdict:
    if not net:
        return Verdict("other", ("Nothing changes: both sides are the same.",))
    divisor = math.gcd(*net.values())
    lowest = {s: n // divisor for s, n in net.items()}
    if lowest in task.accepted:
        both = sorted(s for s in left if s in right and left[s] * right[s] > 0)
        if both:
            return Verdict("cancel", (f"Right once it is tidied: {both[0]} stands on both sides.",))
        if divisor > 1 and times == 1:
            return Verdict("multiple", (f"Right, but everything can be divided by {divisor}.",))
        return Verdict("right", ("Right: atoms and charge balance.",))
    if {s: -n for s, n in lowest.items()} in task.accepted:
        return Verdict("reversed", ("It is balanced, but it runs the wrong way round.",))
    return Verdict("other", (f"It is balanced, but it does not {task.goal}.",))


def _imbalance(left: Net, right: Net, times: int) -> list[str]:
    """Say which atoms, and whether the charge, are out of balance, and where."""
    said = []
    atoms = [_atoms(side) for side in (left, right)]
    for element in dict.fromkeys((*atoms[0], *atoms[1])):
        before, after = atoms[0].get(element, 0), atoms[1].get(element, 0)
        if before != after:
            counts = [str(Fraction(count, times)) for count in (before, after)]
            said.append(f"{element} atoms: {counts[0]} on the left, {counts[1]} on the right.")
    known = known_species()
    charges = [sum(n * known[s][1] for s, n in side.items()) for side in (left, right)]
    if charges[0] != charges[1]:
        before_, after_ = (_signed(charge, times) for charge in charges)
        said.append(f"Charge: {before_} on the left, {after_} on the right.")
    return said


def _signed(charge: int, times: int) -> str:
    size = Fraction(abs(charge), times)
    return (
        signed_charge(charge // times)
        if size.denominator == 1
        else f"{size}{'+' if charge > 0 else '−'}"
    )


def _atoms(side: Net) -> Net:
    total: Counter[str] = Counter()
    for species, count in side.items():
        for element, atoms in known_species()[species][0].items():
            total[element] += count * atoms
    return dict(total)


def _read_side(text: str, times: int) -> Net | str:
    """Read one side, its numbers times one; give what could not be read where it cannot."""
    furthest = text
    for terms, rest in _terms(text, times, first=True):
        if not rest:
            net: Counter[str] = Counter()
            for species, count in terms:
                net[species] += count
            return dict(net)
        if len(rest) < len(furthest):
            furthest = rest
    return furthest


def _terms(
    text: str, times: int, *, first: bool
) -> Iterator[tuple[tuple[tuple[str, int], ...], str]]:
    """Yield every reading of a side, the longest formulae first, and what is left unread."""
    number = r"(\d{0,3})(?:(?<=\d)/([2-9]))?"
    found = re.match(rf"([+-]?){number}" if first else rf"([+-]){number}", text, re.ASCII)
    if not found:
        yield (), text
        return
    sign = -1 if found[1] == "-" else 1
    count = sign * (int(found[2] or 1) or 1) * times // int(found[3] or 1)
    body = text[found.end() :]
    candidates = [(s, s) for s in known_species() if body.startswith(s)]
    candidates.sort(key=lambda each: -len(each[1]))
    if body.startswith("e") and not candidates:
        candidates = [("e-", "e")]  # as many books write it
    if not candidates:
        yield (), text
    for species, spelt in candidates:
        rest = body[len(spelt) :]
        if not rest:
            yield ((species, count),), ""
            continue
        for more, left in _terms(rest, times, first=False):
            yield ((species, count), *more), left


def _typed(text: str, plain: str) -> str:
    """Return the end of an answer that reads as this, up to the arrow, as it was typed."""
    typed = text[:MAX_EQUATION_LENGTH]
    starts = range(len(typed) - 1, -1, -1)
    start = next((k for k in starts if normalise(typed[k:]) == plain), None)
    shown = plain if start is None else typed[start:]
    end = _ENDS.search(shown.translate(_DASHES))
    shown = shown[: end.start()] if end else shown
    return "".join(c for c in shown if unicodedata.category(c) not in {"Cf", "Cc"}).strip(" ")


def _unread(rest: str, typed: str) -> str:
    """Say what could not be read as it was typed, and what it may mean."""
    bare = rest.lstrip("+-/0123456789")
    lower = {s.lower(): s for s in known_species()}
    meant = next(
        (s for low, s in lower.items() if bare.lower().startswith(low) and len(low) > 1), ""
    )
    alike = _ALIKE_L.sub("Cl", bare.translate(_ALIKE))
    if alike != bare:
        longest = sorted(known_species(), key=lambda s: (-len(s), s))
        meant = next((s for s in longest if alike.startswith(s)), meant)
    hint = f" Did you mean {meant}?" if meant and not bare.startswith(meant) else ""
    shown = _COUNT.sub("", typed)[:12].rstrip(" ") or typed[:12]
    return f"This cannot be read: “{shown}”.{hint}"
