"""How a list of solutions fits into a lesson, or two."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from fizzplate.chemistry.checks import number

if TYPE_CHECKING:
    from fizzplate.lesson.cell_setup import CellSetup

SET_UP_MIN, RECORD_MIN, OPENING_MIN, CLOSING_MIN = 3.0, 3.0, 8.0, 7.0  # common practice


@dataclass(frozen=True, slots=True)
class Planned:
    """One entry of a plan: how long, and what."""

    minutes: float
    what: str


def plan(setups: tuple[CellSetup, ...], period_min: float) -> list[list[Planned]]:
    """Fit the solutions into one period or more.

    Examples
    --------
    >>> from fizzplate.lesson import CellSetup
    >>> [sum(entry.minutes for entry in period) for period in plan((CellSetup("NaCl"),) * 4, 50)]
    [48.0, 26.0]
    """
    number("period_min", period_min, unit="minutes", at_least=30, at_most=240)
    periods: list[list[Planned]] = []
    left = 0.0
    for setup in setups:
        takes = SET_UP_MIN + setup.minutes + RECORD_MIN
        if takes > left:
            if periods:
                periods[-1].append(Planned(CLOSING_MIN, "clear away, collect waste, discuss"))
            periods.append([Planned(OPENING_MIN, "safety, predictions")])
            left = period_min - OPENING_MIN - CLOSING_MIN
        periods[-1].append(
            Planned(takes, f"{setup.label}: set up, run {setup.minutes:g} minutes, test and record")
        )
        left -= takes
    if periods:
        periods[-1].append(Planned(CLOSING_MIN, "clear away, collect waste, discuss"))
    return periods


SHORTEST_RUN_MIN = 1.5  # less shows a class nothing


def one_period(setups: tuple[CellSetup, ...], period_min: float) -> tuple[list[Planned], str]:
    """Fit every solution into one period, with shorter runs, or shared out among the groups.

    Examples
    --------
    >>> from fizzplate.lesson import CellSetup
    >>> entries, says = one_period((CellSetup("NaCl"),) * 4, 50)
    >>> sum(entry.minutes for entry in entries), says
    (50.0, 'Runs of 2.75 minutes at most.')
    """
    room = period_min - OPENING_MIN - CLOSING_MIN
    rounds, says = len(setups), ""
    while rounds > 1 and room / rounds - SET_UP_MIN - RECORD_MIN < SHORTEST_RUN_MIN:
        rounds -= 1
    longest = room / rounds - SET_UP_MIN - RECORD_MIN
    if rounds < len(setups):
        says = f"Each group does {rounds} of the {len(setups)} solutions, and the class shares its results."
    elif longest < max(setup.minutes for setup in setups):
        says = f"Runs of {longest:.3g} minutes at most."
    entries = [Planned(OPENING_MIN, "safety, predictions")]
    for k in range(rounds):
        run = min(setups[k].minutes, longest)
        what = setups[k].label if rounds == len(setups) else f"solution {k + 1} of the group"
        takes = SET_UP_MIN + run + RECORD_MIN
        entries.append(Planned(takes, f"{what}: set up, run {run:.3g} minutes, test and record"))
    entries.append(Planned(CLOSING_MIN, "clear away, collect waste, discuss"))
    return entries, says


def usual(setup: CellSetup) -> CellSetup:
    """Return a set-up as it is used in class: chlorine for no longer than five minutes."""
    return replace(setup, minutes=min(setup.minutes, 5.0)) if setup.only_calculated else setup
