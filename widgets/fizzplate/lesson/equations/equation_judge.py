"""How a written equation is judged: read in every usual spelling, balanced or not, and what it does.

``reading.json`` holds the patterns and the sentences. The page judges by the same file
(``views/workshop/judge.js``); a test holds the two together.
"""

from __future__ import annotations

import json
import math
import re
import unicodedata
from collections import Counter
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from importlib import resources
from typing import TYPE_CHECKING, TypeGuard

from fizzplate import data
from fizzplate.chemistry import melts, parse_formula, solutions
from fizzplate.lesson.rule import signed_charge
from fizzplate.words import say

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from fizzplate.lesson.equations.equation_tasks import EquationTask, Net

_RULES = json.loads(resources.files(__package__).joinpath("reading.json").read_text("utf-8"))
MAX_EQUATION_LENGTH: int = _RULES["max_length"]  # characters of an answer that are read
#: acids that no cell holds, by the ions that learners join to them
ABSENT_ACIDS: Mapping[str, Net] = _RULES["absent_acids"]
SENTENCES: Mapping[str, str] = _RULES["sentences"]

_ARROWS, _ENDS, _DASHES = (re.compile(_RULES[name]) for name in ("arrows", "ends", "dashes"))
_UNLIKE = [
    (re.compile(pattern), re.sub(r"\$0?([1-9])", r"\\g<\1>", written))
    for pattern, written in _RULES["unlike_signs"]
]
_IGNORED, _HALF, _BELOW = (
    re.compile(_RULES[name]) for name in ("ignored", "halves", "denominators")
)
_COUNT_TYPED = re.compile(_RULES["count_typed"])
_TERM_BEGINS = {
    first: re.compile(f"([+-]{'?' if first else ''}){_RULES['count']}") for first in (True, False)
}
#: letters of another alphabet, and I or 1 for l, that look like those of a formula
_ALIKE = str.maketrans(_RULES["letters_alike"][0], _RULES["letters_alike"][1])
_ALIKE_L = re.compile(_RULES["chlorine_alike"])


@dataclass(frozen=True, slots=True)
class Verdict:
    """How an answer stands.

    Parameters
    ----------
    code
        "right", "multiple", "capitals", "cancel", "absent", "reversed", "other", "unbalanced", "unread" or
        "empty".
    sentences
        Sentences for the learner.
    in_place
        Whether what reacts, what forms and the electrons stand on the right sides, whatever their numbers.
    """

    code: str
    sentences: tuple[str, ...]
    in_place: bool = False

    @property
    def is_unread(self) -> bool:
        """Whether nothing was judged, since nothing could be read."""
        return self.code in {"empty", "unread"}


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


@cache
def dissolved_compounds() -> Mapping[str, Net]:
    """Return the ions of each compound that may stand for them in an equation, by its formula.

    Examples
    --------
    >>> dissolved_compounds()["CuCl2"]
    {'Cu2+': 1, 'Cl-': 2}
    """
    found = {formula: dict(each.ions) for formula, each in solutions().items()}
    found |= {formula.removesuffix("(l)"): dict(each.ions) for formula, each in melts().items()}
    # a hydroxide that settles holds the same ions
    found |= {
        f"{metal}(OH)2": {f"{metal}2+": 1, "OH-": 2}
        for metal in (s.removesuffix("2+") for s in known_species() if s.endswith("2+"))
        if f"{metal}(OH)2" in known_species()
    }
    return {
        formula: {ion.replace("^", ""): count for ion, count in ions.items()}
        for formula, ions in (found | dict(ABSENT_ACIDS)).items()
    }


def normalise(text: str) -> str:
    """Write an answer with plain signs: one arrow, plain digits and charges, no spaces, states or marks.

    Examples
    --------
    >>> normalise("２H⁺(aq) + 2e⁻ ⟶ H₂"), normalise("Cu(2+) + 2e- to Cu")
    ('2H++2e-=H2', 'Cu2++2e-=Cu')
    """
    shown = _ARROWS.sub("=", _DASHES.sub("-", text[:MAX_EQUATION_LENGTH]))
    plain = _DASHES.sub("-", unicodedata.normalize("NFKC", shown))
    kept = "".join(c for c in plain if unicodedata.category(c) not in {"Cf", "Cc"} or c in "\t\n ")
    for pattern, written in _UNLIKE:
        kept = pattern.sub(written, kept)
    halves = _HALF.sub(r"\g<1>1/2", _IGNORED.sub("", kept).replace("⁄", "/"))
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
        return Verdict("empty", (SENTENCES["empty"],))
    sides = plain.split("=")
    if len(sides) != 2 or not all(sides):
        return Verdict("unread", (SENTENCES["no_arrow"],))
    times = math.lcm(*map(int, _BELOW.findall(plain)))  # what makes whole numbers of its fractions
    read = _read_sides(sides, times, by_letter=False)
    if _are_read(read):
        return _judge_terms(read, task, times)
    anyhow = _read_sides(sides, times, by_letter=True)
    if _are_read(anyhow):
        verdict = _judge_terms(anyhow, task, times)
        if verdict.code not in {"right", "multiple"}:
            return verdict
        species = dict.fromkeys(s for terms in anyhow for s, _ in terms if s not in plain)
        said = say(SENTENCES["capitals"], species=", ".join(species))
        return replace(verdict, code="capitals", sentences=(said,))
    return _unread_side(read, sides, text)


Terms = tuple[tuple[str, int], ...]


def _are_read(read: list[Terms | str]) -> TypeGuard[list[Terms]]:
    """Whether both sides could be read."""
    return not any(isinstance(terms, str) for terms in read)


def _read_sides(sides: list[str], times: int, *, by_letter: bool) -> list[Terms | str]:
    """Read both sides; of one that cannot be read, give what could not be read."""
    left, right = sides[0], sides[1]
    if _stray(left, times):
        left = left.removesuffix("-")
    return [_read_side(side, times, by_letter=by_letter) for side in (left, right)]


def _unread_side(read: list[Terms | str], sides: list[str], text: str) -> Verdict:
    """Say which part of an answer could not be read."""
    k, terms = next((k, terms) for k, terms in enumerate(read) if isinstance(terms, str))
    if terms.startswith(("I", "1")) and f"C{terms}" in sides[k]:
        terms = f"C{terms}"  # an l that is typed as I: carbon was read
    after = "" if k else f"={sides[1]}"
    return Verdict("unread", (_unread(terms, _typed(text, f"{terms}{after}")),))


def _judge_terms(read: list[Terms], task: EquationTask, times: int) -> Verdict:
    """Judge what both sides hold."""
    left, right = (_net(terms) for terms in read)
    net = {s: right.get(s, 0) - left.get(s, 0) for s in {**left, **right}}
    net = {s: n for s, n in net.items() if n}
    in_place = any(_same_sides(net, form) for form in task.accepted)
    unbalanced = _imbalance(left, right, times)
    if unbalanced:
        return Verdict("unbalanced", tuple(unbalanced), in_place)
    used, made = ({s for s, count in terms if count > 0} for terms in read)
    verdict = replace(_compare(net, sorted(used & made), task, times), in_place=in_place)
    absent = [s for s in ABSENT_ACIDS if s in used | made]
    if absent and verdict.code in {"right", "multiple"}:
        return replace(
            verdict, code="absent", sentences=(say(SENTENCES["absent"], acid=absent[0]),)
        )
    return verdict


def _net(terms: Terms) -> Net:
    """Add up the terms of a side, compounds as the ions that they hold."""
    net: Counter[str] = Counter()
    for species, count in terms:
        for part, each in dissolved_compounds().get(species, {species: 1}).items():
            net[part] += count * each
    return dict(net)


def _same_sides(net: Net, form: Mapping[str, int]) -> bool:
    """Whether the same species are used, and the same made.

    In an overall equation electrons that do not cancel belong to its balance. Where water is used up,
    its ions may stand for it.
    """
    if "e-" not in form:
        net = {s: n for s, n in net.items() if s != "e-"}
    if form.get("H2O", 0) < 0:
        net = _water_used(net)
    return net.keys() == form.keys() and all((net[s] > 0) == (form[s] > 0) for s in net)


def _water_used(net: Net) -> Net:
    """Write both ions of water, where they stand on one side, as the water that is used up in all."""
    if net.get("H+", 0) * net.get("OH-", 0) <= 0:
        return net
    return {s: n for s, n in net.items() if s not in {"H+", "OH-"}} | {"H2O": -1}


def _joined_to_water(net: Net) -> Net:
    """Join hydrogen ions and hydroxide ions on the same side to water."""
    hydrogen, hydroxide = net.get("H+", 0), net.get("OH-", 0)
    if hydrogen * hydroxide <= 0:
        return net
    met = min(hydrogen, hydroxide, key=abs)
    joined = {"H+": hydrogen - met, "OH-": hydroxide - met, "H2O": net.get("H2O", 0) + met}
    return {s: n for s, n in {**net, **joined}.items() if n}


def _stray(side: str, times: int) -> bool:
    """Whether a dash at the end of a side is the tail of a long arrow rather than a charge."""
    if not side.endswith("-") or not isinstance(_read_side(side, times), str):
        return False
    return not isinstance(_read_side(side[:-1], times), str)


def _compare(net: Net, both: list[str], task: EquationTask, times: int) -> Verdict:
    """Compare a balanced equation with the task, given what is written on both sides."""
    if not net:
        return Verdict("other", (SENTENCES["nothing"],))
    divisor = math.gcd(*net.values())
    lowest = {s: n // divisor for s, n in net.items()}
    if lowest in task.accepted:
        untidy = [s for s in both if _must_cancel(s, lowest)]
        if untidy:
            return Verdict("cancel", (say(SENTENCES["cancel"], both=untidy[0]),))
        if divisor > 1 and times == 1:
            return Verdict("multiple", (say(SENTENCES["multiple"], divisor=divisor),))
        said = say(SENTENCES["untidy"], both=", ".join(both)) if both else SENTENCES["right"]
        return Verdict("right", (said,))
    water = _joined_to_water(net)
    shared = math.gcd(*water.values())
    if water != net and {s: n // shared for s, n in water.items()} in task.accepted:
        return Verdict("right", (SENTENCES["water"],))
    if {s: -n for s, n in lowest.items()} in task.accepted:
        return Verdict("reversed", (SENTENCES["reversed"],))
    return Verdict("other", (say(SENTENCES["other"], goal=task.goal),))


def _must_cancel(species: str, net: Net) -> bool:
    """Whether a species may not stand on both sides: of a half-equation, unless it is a spectator ion.

    Of an overall equation only electrons: to let them cancel is what is asked for.
    """
    if "e-" not in net:
        return species == "e-"
    return species in net or not known_species().get(species, ({}, 0))[1]


def _imbalance(left: Net, right: Net, times: int) -> list[str]:
    """Say which atoms, and whether the charge, are out of balance, and where."""
    said = []
    atoms = [_atoms(side) for side in (left, right)]
    for element in dict.fromkeys((*atoms[0], *atoms[1])):
        before, after = atoms[0].get(element, 0), atoms[1].get(element, 0)
        if before != after:
            counts = [str(Fraction(count, times)) for count in (before, after)]
            said.append(say(SENTENCES["atoms"], element=element, before=counts[0], after=counts[1]))
    known = known_species()
    charges = [sum(n * known[s][1] for s, n in side.items()) for side in (left, right)]
    if charges[0] != charges[1]:
        before_, after_ = (_signed(charge, times) for charge in charges)
        said.append(say(SENTENCES["charge"], before=before_, after=after_))
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


@cache
def _spellings(*, by_letter: bool) -> Mapping[str, str]:
    """Return what may be written, longest first: by its letters alone, if capitals do not matter."""
    names = sorted({**known_species(), **dissolved_compounds()}, key=lambda s: -len(s))
    if not by_letter:
        return {name: name for name in names}
    return {name.lower(): name for name in reversed(names)}


def _read_side(text: str, times: int, *, by_letter: bool = False) -> Terms | str:
    """Read one side, its numbers times one; give what could not be read where it cannot."""
    furthest = text
    for terms, rest in _terms(text, times, first=True, by_letter=by_letter):
        if not rest:
            return terms
        if len(rest) < len(furthest):
            furthest = rest
    return furthest


def _terms(text: str, times: int, *, first: bool, by_letter: bool) -> Iterator[tuple[Terms, str]]:
    """Yield every reading of a side, the longest formulae first, and what is left unread."""
    found = _TERM_BEGINS[first].match(text)
    if not found:
        yield (), text
        return
    sign = -1 if found[1] == "-" else 1
    count = sign * (int(found[2] or 1) or 1) * times // int(found[3] or 1)
    body = text[found.end() :]
    begins = body.lower() if by_letter else body
    known = _spellings(by_letter=by_letter)
    candidates = [(known[spelt], spelt) for spelt in known if begins.startswith(spelt)]
    candidates.sort(key=lambda each: -len(each[1]))
    if begins.startswith("e") and not candidates:
        candidates = [("e-", "e")]  # as many books write it
    if not candidates:
        yield (), text
    for species, spelt in candidates:
        rest = body[len(spelt) :]
        if not rest:
            yield ((species, count),), ""
            continue
        for more, left in _terms(rest, times, first=False, by_letter=by_letter):
            yield ((species, count), *more), left


def _typed(text: str, plain: str) -> str:
    """Return the end of an answer that reads as this, up to the arrow, as it was typed."""
    typed = text[:MAX_EQUATION_LENGTH]
    starts = range(len(typed) - 1, -1, -1)
    start = next((k for k in starts if normalise(typed[k:]) == plain), None)
    shown = plain if start is None else typed[start:]
    end = _ENDS.search(_DASHES.sub("-", shown))
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
    hint = say(SENTENCES["hint"], meant=meant) if meant and not bare.startswith(meant) else ""
    shown = _COUNT_TYPED.sub("", typed)[:12].rstrip(" ") or typed[:12]
    return say(SENTENCES["unread"], typed=shown, hint=hint)
