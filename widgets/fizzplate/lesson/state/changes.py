"""What is changed while a cell runs: the wires swapped, another voltage, water or a drop of something added.

Each change has its time and becomes a stage of the same run; an indicator changes only what is seen.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import groupby, pairwise
from typing import TYPE_CHECKING

from fizzplate.cell import Stage
from fizzplate.chemistry import pretty, solutions
from fizzplate.chemistry.substances import indicators, require_offered
from fizzplate.words import InputError, choice, number, page_quantity

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

MAX_CHANGES = 12
#: of a run, between two changes and before the first: less is too short to watch, and to record
LEAST_PART = 1 / 40
#: a change by its name in a link
KINDS = ("swap", "switch", "V", "A", "water", "add", "indicator")


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that is changed while a cell runs.

    Parameters
    ----------
    at_s
        When, in seconds from the start of the run.
    kind
        "swap": the wires; "switch": open it, or close it again; "V" or "A": set the supply; "water" or
        "add": pour in; "indicator": a few drops of one.
    amount
        Of the supply in V or A, or of what is poured in, in cm3.
    substance
        The formula of the salt whose solution is added, or the name of the indicator.
    strength_mol_dm3
        How strong a solution is added.

    Raises
    ------
    InputError
        If there is no such change, or a number or a substance cannot be used.

    Examples
    --------
    >>> Change(130, "add", 1.0, "AgNO3", 0.05).text
    '1 cm³ of AgNO₃, 0.05 mol/dm³'
    """

    at_s: float
    kind: str
    amount: float = 0.0
    substance: str = ""
    strength_mol_dm3: float = 0.0

    def __post_init__(self) -> None:
        choice("change", self.kind, KINDS)
        number("change_s", self.at_s, unit="s", minimum=0)
        if self.kind == "indicator":
            choice("indicator", self.substance, indicators())
        elif self.kind == "add":
            require_offered("added", self.substance, solutions(), what="solution")
            number("added_cm3", self.amount, unit="cm3", above=0)
            number("added_mol_dm3", self.strength_mol_dm3, unit="mol/dm3", above=0)
        elif self.kind == "water":
            number("water_cm3", self.amount, unit="cm3", above=0)

    @property
    def pours(self) -> bool:
        """Whether liquid is added."""
        return self.kind in {"water", "add"}

    @property
    def text(self) -> str:
        """A short name, as it stands at the ruler; of the switch see :func:`texts`."""
        match self.kind:
            case "swap":
                return "wires swapped"
            case "V" | "A":
                return f"supply {page_quantity(self.amount, self.kind)}"
            case "water":
                return f"{page_quantity(self.amount, 'cm3')} of water"
            case "add":
                strength = page_quantity(self.strength_mol_dm3, "mol/dm3")
                return (
                    f"{page_quantity(self.amount, 'cm3')} of {pretty(self.substance)}, {strength}"
                )
            case "indicator":
                return self.substance
        return "switch"


def in_order(changes: Iterable[Change]) -> list[Change]:
    """Return changes by their times; those of one time as they were made."""
    return sorted(changes, key=lambda change: change.at_s)


def texts(changes: Iterable[Change]) -> list[tuple[float, str]]:
    """Return (time in s, short text) of each time at which something is changed.

    Examples
    --------
    >>> texts([Change(60, "switch"), Change(90, "switch"), Change(60, "swap")])
    [(60, 'switch opened, wires swapped'), (90, 'switch closed')]
    """
    found, is_off = [], False
    for at_s, group in groupby(in_order(changes), key=lambda change: change.at_s):
        words = []
        for change in group:
            if change.kind == "switch":
                is_off = not is_off
                words.append("switch opened" if is_off else "switch closed")
            else:
                words.append(change.text)
        found.append((at_s, ", ".join(words)))
    return found


def clock(at_s: float) -> str:
    """Write a time as a clock shows it.

    Examples
    --------
    >>> clock(130)
    '2:10'
    """
    whole = round(at_s)
    return f"{whole // 60}:{whole % 60:02}"


def write_change(change: Change) -> str:
    """Write a change as a link holds it.

    Examples
    --------
    >>> write_change(Change(130, "add", 1.0, "AgNO3", 0.05))
    '130:add:1:AgNO3:0.05'
    """
    parts = [f"{change.at_s:.6g}", change.kind]
    if change.kind in {"V", "A", "water", "add"}:
        parts.append(f"{change.amount:.6g}")
    if change.substance:
        parts.append(change.substance)
    if change.kind == "add":
        parts.append(f"{change.strength_mol_dm3:.6g}")
    return ":".join(parts)


def read_change(text: str) -> Change:
    """Read a change as :func:`write_change` writes it.

    Raises
    ------
    InputError
        If it is none.

    Examples
    --------
    >>> read_change("60:V:9")
    Change(at_s=60.0, kind='V', amount=9.0, substance='', strength_mol_dm3=0.0)
    """
    at, kind, *rest = [part.strip() for part in text.split(":")] if ":" in text else [text, ""]
    numbers = {"swap": 0, "switch": 0, "indicator": 0, "V": 1, "A": 1, "water": 1, "add": 3}
    at_s = _number("change_s", at)
    wanted = 1 if kind == "indicator" else numbers.get(kind, len(rest))
    if len(rest) != wanted:
        raise InputError("change", text[:40], "a change as a copied link writes it")
    match kind:
        case "V" | "A" | "water":
            return Change(at_s, kind, _number("change", rest[0]))
        case "add":
            strength = _number("added_mol_dm3", rest[2])
            return Change(at_s, kind, _number("added_cm3", rest[0]), rest[1], strength)
        case "indicator":
            return Change(at_s, kind, substance=rest[0])
    return Change(at_s, kind)


def _number(argument: str, text: str) -> float:
    try:
        return float(text)
    except ValueError:
        raise InputError(argument, text, "a number") from None


def placed(change: Change, before: Sequence[Change], minutes: float) -> Change:
    """Return a change with the time at which it can be made beside earlier ones, to a second.

    One that comes very soon after another, or before it, is made with it; none comes at once.

    Parameters
    ----------
    change
        The change with the time that is wished.
    before
        The changes that there are.
    minutes
        How long the run lasts without changes.

    Examples
    --------
    >>> placed(Change(131.4, "swap"), [Change(130, "V", 9)], 5).at_s
    130
    """
    least_s = 60 * minutes * LEAST_PART
    nearest = min(before, key=lambda each: abs(each.at_s - change.at_s), default=None)
    if nearest is not None and abs(nearest.at_s - change.at_s) < least_s:
        return replace(change, at_s=nearest.at_s)
    whole_s = round(change.at_s) if 60 * minutes >= 60 else change.at_s
    return replace(change, at_s=max(whole_s, least_s))


def require_difference(change: Change, before: Sequence[Change], held: float | None) -> None:
    """Refuse a change that changes nothing, at the time at which it is made.

    Parameters
    ----------
    change
        The change, at its time.
    before
        The changes that there are.
    held
        What the supply holds at first, in V or A as it is changed.

    Raises
    ------
    InputError
        If the supply holds that already, the indicator is in the cell, or what was done then is undone.

    Examples
    --------
    >>> require_difference(Change(60, "V", 6), [Change(30, "V", 9)], 6)
    """
    until_now = [each for each in in_order(before) if each.at_s <= change.at_s]
    match change.kind:
        case "V" | "A":
            sets = [each.amount for each in until_now if each.kind == change.kind]
            if change.amount == (sets[-1] if sets else held):
                argument = "supply_V" if change.kind == "V" else "current_A"
                already = page_quantity(change.amount, change.kind)
                raise InputError(
                    argument, change.amount, "another value", why=f"it is {already} already"
                )
        case "indicator":
            if any(each.substance == change.substance for each in until_now):
                why = "it is in the cell already"
                raise InputError("indicator", change.substance, "another indicator", why=why)
        case "swap" | "switch":
            same = [each for each in before if (each.at_s, each.kind) == (change.at_s, change.kind)]
            if same:
                what = "the wires are swapped" if change.kind == "swap" else "the switch is used"
                raise InputError(
                    "change",
                    change.text,
                    "a later time, or take that back",
                    why=f"{what} at {clock(change.at_s)} already",
                )


def whole_minutes(changes: Iterable[Change], minutes: float) -> float:
    """Return how long a run lasts: one that is changed at its end goes on for as long again.

    Examples
    --------
    >>> whole_minutes([Change(100, "swap")], 5), whole_minutes([Change(300, "swap")], 5)
    (5, 10)
    """
    last_s = max((change.at_s for change in changes), default=0.0)
    length_s = 60 * minutes
    return minutes * (int((last_s + length_s * LEAST_PART) // length_s) + 1)


def stages_of(changes: Sequence[Change], minutes: float) -> list[Stage]:
    """Return the stages of a run with changes.

    Parameters
    ----------
    changes
        What is changed.
    minutes
        How long the run lasts without changes.

    Examples
    --------
    >>> [(s.minutes, s.swapped) for s in stages_of([Change(60, "swap"), Change(180, "swap")], 5)]
    [(1.0, False), (2.0, True), (2.0, False)]
    """
    physical = in_order(change for change in changes if change.kind != "indicator")
    groups = [(at, list(group)) for at, group in groupby(physical, key=lambda each: each.at_s)]
    times_s = [0.0, *(at for at, _ in groups), 60 * whole_minutes(changes, minutes)]
    lengths = [(end - start) / 60 for start, end in pairwise(times_s)]
    stages = [Stage(lengths[0])]
    for length, (_, group) in zip(lengths[1:], groups, strict=True):
        kinds = [change.kind for change in group]
        before = stages[-1]
        supply = next((each for each in reversed(group) if each.kind in {"V", "A"}), None)
        water_cm3 = sum(each.amount for each in group if each.kind == "water")
        stages.append(
            Stage(
                length,
                swapped=before.swapped != bool(kinds.count("swap") % 2),
                off=before.off != bool(kinds.count("switch") % 2),
                supply_V=supply.amount if supply and supply.kind == "V" else None,
                current_A=supply.amount if supply and supply.kind == "A" else None,
                add=_poured_together(group) or None,
                water_cm3=water_cm3 or None,
            )
        )
    return stages


def _poured_together(group: Iterable[Change]) -> dict[str, tuple[float, float]]:
    """Return by formula the volume and strength of what is added at one time."""
    poured: dict[str, tuple[float, float]] = {}
    for change in group:
        if change.kind == "add":
            own = change.strength_mol_dm3
            cm3, strength = poured.get(change.substance, (0.0, own))
            whole_cm3 = cm3 + change.amount
            # written so that equal strengths stay exactly what they are
            mixed = strength + (own - strength) * change.amount / whole_cm3
            poured[change.substance] = (whole_cm3, mixed)
    return poured
