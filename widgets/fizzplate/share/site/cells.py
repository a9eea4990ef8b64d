"""Which cells a site has runs of: for each solution its usual strengths, electrodes, vessels and lamps."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from fizzplate.chemistry import melts, non_electrolytes, solutions
from fizzplate.lesson import DEFAULT_SETUP, CellSetup
from fizzplate.lesson.state import MELT_CURRENT_A
from fizzplate.share.takeaway import NO_LAMP, STRENGTHS_MOL_DM3, metal_of, possible

if TYPE_CHECKING:
    from collections.abc import Iterable

VESSELS = ("beaker", "U-tube")


def every_solution() -> tuple[CellSetup, ...]:
    """Return each solution, liquid and melt that is offered, set up as for the class practical."""
    dissolved = [CellSetup(formula) for formula in (*solutions(), *non_electrolytes())]
    molten = [
        replace(DEFAULT_SETUP, solution=name, supply_V=None, current_A=MELT_CURRENT_A)
        for name in melts()
    ]
    return (*dissolved, *molten)


def choices(listed: CellSetup) -> tuple[CellSetup, ...]:
    """Return what can be chosen instead of a cell of a list, the cell itself first.

    Parameters
    ----------
    listed
        The cell. One that is changed while it runs, and a melt, have no other choices.

    Examples
    --------
    >>> made = choices(CellSetup("CuSO4"))
    >>> len(made), made[0] == CellSetup("CuSO4")
    (24, True)
    """
    if listed.is_melt or listed.changes:
        return (listed,)
    is_salt = listed.solution in solutions()
    strengths = STRENGTHS_MOL_DM3 if is_salt else (listed.concentration_mol_dm3,)
    rods = dict.fromkeys(("graphite", metal_of(listed))) if is_salt else ("graphite",)
    lamps = dict.fromkeys((listed.lamp, DEFAULT_SETUP.lamp, NO_LAMP))
    wanted: Iterable[CellSetup] = (
        replace(
            listed,
            concentration_mol_dm3=strength,
            cathode=rod,
            anode=rod,
            vessel=vessel,
            volume_cm3=listed.volume_cm3 if vessel == listed.vessel else None,
            lamp=lamp,
        )
        for rod in rods
        for vessel in dict.fromkeys((listed.vessel, *VESSELS))
        for lamp in lamps
        for strength in strengths
    )
    return tuple(each for each in dict.fromkeys([listed, *wanted]) if possible(each))
