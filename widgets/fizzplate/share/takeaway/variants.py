"""Which strengths, electrodes and lamps of a cell the file has runs of."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from fizzplate.chemistry import electrodes, solutions
from fizzplate.lesson import DEFAULT_SETUP
from fizzplate.words import InputError

if TYPE_CHECKING:
    from fizzplate.lesson import CellSetup

STRENGTHS_MOL_DM3 = (0.1, 0.5, 1.0)
NO_LAMP = "none"
#: how much a file holds of each cell, the fullest first: a long list has room for less of each
PLANS = ("with lamps", "with electrodes", "strengths only", "as listed")


def variants(setup: CellSetup, plan: str) -> tuple[CellSetup, ...]:
    """Return what the file has runs of for one cell of a list, the cell itself first.

    Parameters
    ----------
    setup
        The cell of the list.
    plan
        One of :data:`PLANS`.

    Examples
    --------
    >>> from fizzplate.lesson import CellSetup
    >>> made = variants(CellSetup("CuSO4"), "with electrodes")
    >>> [(each.concentration_mol_dm3, each.anode) for each in made][::2]
    [(0.5, 'graphite'), (1.0, 'graphite'), (0.5, 'copper')]
    """
    if setup.is_melt:  # nothing else is asked of it
        return (setup,)
    fullness = PLANS[::-1].index(plan)
    strengths = _strengths(setup) if fullness > 0 else [setup]
    wanted = [setup, *strengths]
    if fullness > 1:
        wanted += [
            replace(each, cathode=metal, anode=metal)
            for metal in (metal_of(setup), "graphite")
            for each in strengths
        ]
    if (
        fullness > 2
    ):  # the lamp only where the electrodes are the list's own: each run takes its room
        other = DEFAULT_SETUP.lamp if setup.lamp == NO_LAMP else NO_LAMP
        wanted += [replace(each, lamp=other) for each in strengths]
    return tuple(each for each in dict.fromkeys(wanted) if possible(each))


def _strengths(setup: CellSetup) -> list[CellSetup]:
    if setup.solution not in solutions():  # pure water and sugar hardly conduct at any strength
        return [setup]
    return [replace(setup, concentration_mol_dm3=each) for each in STRENGTHS_MOL_DM3]


def metal_of(setup: CellSetup) -> str:
    """Return the electrode that the solution's own metal makes, or copper."""
    ions = setup.cell().ions_mol_dm3
    own = [name for name, each in electrodes().items() if each.dissolves_as in ions]
    return own[0] if own else "copper"


def possible(setup: CellSetup) -> bool:
    """Say whether it can be made: a salt may not dissolve so well."""
    try:
        setup.cell()
    except InputError:
        return False
    return True
