"""What is still seen of what was made before a change: a deposit stays, and bubbles take time to rise."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeAlias

from fizzplate.chemistry.substances import kind_of
from fizzplate.lesson.rule.sights import sights

if TYPE_CHECKING:
    from collections.abc import Callable

    from fizzplate.cell import ElectrodeRecord, Run

Remains: TypeAlias = "Callable[[str, int], tuple[str, ...]]"
BUBBLES_STAY = "the last bubbles from before the change still rise"
COLOUR_STAYS = "the liquid keeps the colour that it took before the change"
COLOURED = {"Br2": ("Br2", "Br3^-"), "I2": ("I2", "I3^-")}  # and what they are dissolved as
SEEN_G = 2e-5  # of a deposit: less cannot be seen (a choice)
SEEN_MOL = 2e-7  # of a coloured product in the liquid (a choice)
SEEN_CM3 = 0.02  # of gas in bubbles: less cannot be seen (a choice, as while it forms)


def remains_of(run: Run, place: int, bubbles_stay_s: float) -> Remains:
    """Return the function that says what is still seen at an electrode in a stage of a run.

    Parameters
    ----------
    run
        With all its stages.
    place
        Which stage, from 1.
    bubbles_stay_s
        For how long bubbles that were made before are still seen, s.

    Returns
    -------
    callable
        Of a role ("cathode" or "anode", as in the stage) and a sample of the stage, from 0: phrases.

    Examples
    --------
    >>> from fizzplate.cell import Cell, Stage
    >>> run = Cell("CuSO4").run(stages=[Stage(5), Stage(5, off=True)], samples=11)
    >>> remains_of(run, 1, 30.0)("cathode", 0)
    ('an orange-brown deposit on the electrode, from before the change',)
    """
    samples = run.samples_of_stage(place)
    first = samples.start
    swapped = run.stages[place].swapped

    def phrases(role: str, sample: int) -> tuple[str, ...]:
        at = first + sample
        record = (run.cathode, run.anode)[int((role == "anode") != swapped)]
        found = _deposits(record, at, first)
        passed_s = float(run.time_s[at] - run.time_s[first])
        if passed_s <= bubbles_stay_s and _bubbled(run, record, first, bubbles_stay_s):
            found.append(BUBBLES_STAY)
        if _coloured(run, record, first, at):
            found.append(COLOUR_STAYS)
        return tuple(found)

    return phrases


def _deposits(record: ElectrodeRecord, at: int, first: int) -> list[str]:
    """Say how what had settled by the change looks where some of it is left and none is added or taken."""
    seen = sights(record, "anode") | sights(record, "cathode")
    return [
        f"{seen[solid]}, from before the change"
        for solid in record.products
        if kind_of(solid) == "solid"
        and min(float(record.mass_g(solid)[k]) for k in (first, at)) > SEEN_G
        and record.share(solid)[at] <= 0
        and not _is_dissolving(record, solid, at)
    ]


def _is_dissolving(record: ElectrodeRecord, solid: str, at: int) -> bool:
    """Say whether an electrode loses now what it had gained: then its deposit is spoken of already."""
    mass = record.mass_g(solid)
    return at + 1 < mass.size and float(mass[at + 1]) < float(mass[at])


def _bubbled(run: Run, record: ElectrodeRecord, first: int, during_s: float) -> bool:
    """Say whether gas left an electrode in bubbles shortly before a sample, and no longer does."""
    since = int((run.time_s < run.time_s[first] - during_s).sum())
    for gas in record.gases:
        gained = record.bubbles_cm3(gas)
        if (
            gained[first] - gained[min(since, first - 1)] > SEEN_CM3
            and record.share(gas)[first] <= 0
        ):
            return True
    return False


def _coloured(run: Run, record: ElectrodeRecord, first: int, at: int) -> bool:
    """Say whether a coloured product that an electrode made before a sample is still in the liquid."""
    held = {*run.ions, *run.dissolved}
    for product, forms in COLOURED.items():
        if product not in record.products or record.share(product)[at] > 0:
            continue
        left = sum(float(run.amount_mol(each)[at]) for each in forms if each in held)
        if record.amount_mol(product)[first] > SEEN_MOL and left > SEEN_MOL:
            return True
    return False
