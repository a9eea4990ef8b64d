"""How a list of solutions fits into a lesson, or two."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from fizzplate.lesson.classroom import teacher_only
from fizzplate.lesson.state import MAX_CHLORINE_RUN_MINUTES
from fizzplate.words import DEFAULT_WORDING, number

if TYPE_CHECKING:
    from fizzplate.lesson.state import CellSetup
    from fizzplate.words import Wording

SET_UP_MIN, RECORD_MIN, OPENING_MIN, CLOSING_MIN = 3.0, 3.0, 8.0, 7.0  # common practice


@dataclass(frozen=True, slots=True)
class PlanEntry:
    """One entry of a plan: how long, and what."""

    minutes: float
    what: str


def check_period(period_min: float) -> None:
    """Refuse a length that no school's period has."""
    number("period_min", period_min, unit="minutes", minimum=30, maximum=240)


def plan(
    setups: tuple[CellSetup, ...], period_min: float, wording: Wording = DEFAULT_WORDING
) -> list[list[PlanEntry]]:
    """Fit the solutions into one period or more, about as long each, in their order.

    A run that is longer than a whole period allows is cut to what fits, and the plan says so.

    Examples
    --------
    >>> from fizzplate.lesson import CellSetup
    >>> [sum(entry.minutes for entry in period) for period in plan((CellSetup("NaCl"),) * 4, 50)]
    [37.0, 37.0]
    """
    check_period(period_min)
    room = period_min - OPENING_MIN - CLOSING_MIN
    entries = [_entry(setup, room, wording) for setup in setups]
    minutes = [entry.minutes for entry in entries]
    fewest = len(_filled(entries, room))
    # the shortest length for which there are no more periods
    rooms = sorted(
        {sum(minutes[i:j]) for i in range(len(minutes)) for j in range(i, len(minutes) + 1)}
    )
    least = next(
        each
        for each in (*rooms, room)
        if each >= max(minutes, default=0) and len(_filled(entries, each)) == fewest
    )
    opening = PlanEntry(OPENING_MIN, "safety, predictions")
    closing = PlanEntry(CLOSING_MIN, "clear away, collect waste, discuss")
    return [[opening, *period, closing] for period in _filled(entries, least)]


def _entry(setup: CellSetup, room: float, wording: Wording) -> PlanEntry:
    run = min(setup.minutes, room - SET_UP_MIN - RECORD_MIN)
    of = f" (of {setup.minutes:g}: there is no time for more)" if run < setup.minutes else ""
    what = f"{_name(setup, wording)}: set up, run {run:.3g} minutes{of}, test and record"
    return PlanEntry(SET_UP_MIN + run + RECORD_MIN, what)


def _filled(entries: list[PlanEntry], room: float) -> list[list[PlanEntry]]:
    """Fill periods one after the other."""
    periods: list[list[PlanEntry]] = []
    left = 0.0
    for entry in entries:
        if not periods or entry.minutes > left + 1e-9:
            periods.append([])
            left = room
        periods[-1].append(entry)
        left -= entry.minutes
    return periods


MIN_RUN_MINUTES = 1.5  # less shows a class nothing


def one_period(
    setups: tuple[CellSetup, ...], period_min: float, wording: Wording = DEFAULT_WORDING
) -> tuple[list[PlanEntry], str]:
    """Fit every solution into one period, with shorter runs, or shared out among the groups.

    Groups leave out what only the teacher may do, which is demonstrated after the others.

    Examples
    --------
    >>> from fizzplate.lesson import CellSetup
    >>> entries, notes = one_period((CellSetup("NaCl"),) * 4, 50)
    >>> sum(entry.minutes for entry in entries), notes
    (50.0, 'Each run lasts 2.75 minutes at most.')
    """
    demonstrations = [setup for setup in setups if teacher_only(setup.cell())]
    done = [setup for setup in setups if setup not in demonstrations]
    rounds, shown = len(done), len(demonstrations)

    def longest() -> float:
        room = period_min - OPENING_MIN - CLOSING_MIN
        return room / (rounds + shown) - SET_UP_MIN - RECORD_MIN

    while longest() < MIN_RUN_MINUTES and rounds > 1:
        rounds -= 1
    while longest() < MIN_RUN_MINUTES and shown > 1:
        shown -= 1
    notes = []
    if rounds < len(done):
        notes.append(
            f"Each group does {rounds} of {len(done)} solutions, and the class shares its results."
        )
    if shown < len(demonstrations):
        notes.append(f"There is time for {shown} of {len(demonstrations)} demonstrations.")
    if not notes and longest() < max(setup.minutes for setup in setups):
        notes.append(f"Each run lasts {longest():.3g} minutes at most.")
    entries = [PlanEntry(OPENING_MIN, "safety, predictions")]
    for k, setup in enumerate((*done[:rounds], *demonstrations[:shown])):
        run = min(setup.minutes, longest())
        what = f"solution {k + 1} of the group" if k < rounds < len(done) else _name(setup, wording)
        takes = SET_UP_MIN + run + RECORD_MIN
        entries.append(PlanEntry(takes, f"{what}: set up, run {run:.3g} minutes, test and record"))
    entries.append(PlanEntry(CLOSING_MIN, "clear away, collect waste, discuss"))
    return entries, " ".join(notes)


def _name(setup: CellSetup, wording: Wording) -> str:
    label = setup.label_in(wording)
    return f"{label}, by the teacher only" if teacher_only(setup.cell()) else label


def class_version(setup: CellSetup) -> CellSetup:
    """Return a set-up as it is used in class: chlorine for no longer than a bench allows."""
    return replace(setup, minutes=MAX_CHLORINE_RUN_MINUTES) if setup.only_calculated else setup
