"""What can be chosen of a cell: menus, and the runs that they lead to."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from fizzplate.chemistry import pretty
from fizzplate.lesson import write_cell
from fizzplate.share.takeaway.variants import NO_LAMP
from fizzplate.words import page_quantity, say

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from fizzplate.lesson import CellSetup, Wording

PURE = "H2O"  # has no strength


def offer_of(listed: CellSetup, setups: Sequence[CellSetup], wording: Wording) -> dict[str, Any]:
    """Return what a page's menus offer of a cell, as plain data.

    Parameters
    ----------
    listed
        The cell as a list has it: one of those that can be chosen.
    setups
        All that can be chosen: they differ in concentration, electrodes, vessel and lamp.
    wording
        The board's.
    """
    #: of each menu its name, its options in order, and what each cell has of it
    menus: list[tuple[str, list[str], list[str]]] = []

    def add(name: str, options: Iterable[str], of_cells: list[str]) -> None:
        menus.append((name, list(dict.fromkeys(options)), of_cells))

    def strength(mol_dm3: float) -> str:
        return _strength(listed, mol_dm3)

    add(
        "Concentration, mol/dm³",
        map(strength, sorted(each.concentration_mol_dm3 for each in setups)),
        [strength(each.concentration_mol_dm3) for each in setups],
    )
    rods = [_rods(each, wording) for each in setups]
    add("Electrodes", rods, rods)
    vessels = [each.vessel for each in setups]
    one_vessel = len(set(vessels)) == 1
    if not one_vessel:
        add("Vessel", vessels, vessels)
    lamps = ["none" if listed.is_melt else each.lamp for each in setups]
    add("Lamp", lamps, lamps)
    return {
        "label": listed.label_in(wording),
        "formulae": listed.formulae,
        "solution": f"molten {pretty(listed.solution)}"
        if listed.is_melt
        else pretty(listed.solution),
        "key": write_cell(listed),
        "own": list(setups).index(listed),
        "menus": [[name, options] for name, options, _ in menus],
        "variants": [
            [options.index(of_cells[k]) for _, options, of_cells in menus]
            for k in range(len(setups))
        ],
        "keys": [write_cell(each) for each in setups],
        "settings": [_settings(each, wording, one_vessel=one_vessel) for each in setups],
        "fixed": _fixed(listed, one_vessel=one_vessel),
    }


def _settings(setup: CellSetup, wording: Wording, *, one_vessel: bool) -> str:
    """Say in words what the menus stand at."""
    if setup.is_melt:
        return _rods(setup, wording)
    strength = (
        "pure" if setup.solution == PURE else page_quantity(setup.concentration_mol_dm3, "mol/dm3")
    )
    vessel = [] if one_vessel else [setup.vessel]
    lamp = "no lamp" if setup.lamp == NO_LAMP else f"lamp {setup.lamp}"
    return ", ".join([strength, _rods(setup, wording), *vessel, lamp])


def _strength(setup: CellSetup, mol_dm3: float) -> str:
    if setup.is_melt:
        return "molten"
    return "pure" if setup.solution == PURE else f"{mol_dm3:g}"


def _rods(setup: CellSetup, wording: Wording) -> str:
    if setup.cathode == setup.anode:
        return f"both {setup.anode}"
    template = "{material} {cathode}, {other_material} {anode}"
    return say(template, wording, material=setup.cathode, other_material=setup.anode)


def _fixed(setup: CellSetup, *, one_vessel: bool) -> str:
    """Say what no menu of the page changes."""
    if setup.is_melt:
        return f"{setup.supply_text}, {page_quantity(setup.minutes, 'minutes')}"
    also_dissolved = page_quantity(setup.also_mol_dm3, "mol/dm3")
    also = f"{also_dissolved} {pretty(setup.also)}, " if setup.also else ""
    vessel = f"{setup.vessel}, " if one_vessel else ""
    crystal = f"a crystal of {pretty(setup.crystal)}, " if setup.crystal else ""
    room, time = page_quantity(setup.temperature_C, "°C"), page_quantity(setup.minutes, "minutes")
    return f"{also}{vessel}{crystal}{setup.supply_text}, {room}, {time}"
