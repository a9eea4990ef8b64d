"""One cell of the list as the page holds it: what its menus offer, and a block with its runs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from fizzplate.chemistry import pretty
from fizzplate.lesson import write_cell
from fizzplate.share.takeaway.packing import Block
from fizzplate.words import page_quantity, say

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.lesson import CellSetup, Wording
    from fizzplate.share.takeaway.snapshots import Snapshot

PURE = "H2O"  # has no strength


@dataclass(frozen=True, slots=True)
class CellBlock:
    """A cell of the list.

    Parameters
    ----------
    offer
        What its menus offer, as plain data.
    text
        Its runs, packed.
    """

    offer: dict[str, Any]
    text: str


def cell_block(listed: CellSetup, made: Sequence[Snapshot], wording: Wording) -> CellBlock:
    """Pack the runs of a cell.

    Parameters
    ----------
    listed
        The cell as the list has it: one of those made.
    made
        The cells that can be chosen instead of it.
    wording
        The board's.
    """
    block = Block()
    runs = [
        {state: _pack(block, getattr(each, state)) for state in ("rest", "on")} for each in made
    ]
    setups = [each.setup for each in made]
    strengths = sorted({each.concentration_mol_dm3 for each in setups})
    rods = list(dict.fromkeys(_rods(each, wording) for each in setups))
    lamps = list(dict.fromkeys(each.lamp for each in setups))
    offer = {
        "label": listed.label_in(wording),
        "key": write_cell(listed),
        "own": setups.index(listed),
        "menus": [
            ["Concentration, mol/dm³", [_strength(listed, each) for each in strengths]],
            ["Electrodes", rods],
            ["Lamp", ["none"] if listed.is_melt else lamps],
        ],
        "variants": [
            [
                strengths.index(each.concentration_mol_dm3),
                rods.index(_rods(each, wording)),
                lamps.index(each.lamp),
            ]
            for each in setups
        ],
        "keys": [write_cell(each) for each in setups],
        "names": [_name(each, wording) for each in setups],
        "fixed": _fixed(listed),
    }
    return CellBlock(offer, block.text({"runs": runs}))


def _pack(block: Block, state: dict[str, Any]) -> dict[str, Any]:
    return block.record(state["header"], state["array_bytes"]) | {
        "lesson": block.fold(state["lesson"]),
        "charts": [block.chart(each) for each in state["charts"]],
        "certainty": [block.certainty(each) for each in state["certainty"]],
    }


def _name(setup: CellSetup, wording: Wording) -> str:
    label = setup.label_in(wording)
    return label if setup.is_melt else f"{label}, lamp {setup.lamp}"


def _strength(setup: CellSetup, mol_dm3: float) -> str:
    if setup.is_melt:
        return "molten"
    return "pure" if setup.solution == PURE else f"{mol_dm3:g}"


def _rods(setup: CellSetup, wording: Wording) -> str:
    if setup.cathode == setup.anode:
        return f"both {setup.anode}"
    template = "{material} {cathode}, {other_material} {anode}"
    return say(template, wording, material=setup.cathode, other_material=setup.anode)


def _fixed(setup: CellSetup) -> str:
    """Say what no menu of the page changes."""
    if setup.is_melt:
        return f"{setup.supply_text}, {page_quantity(setup.minutes, 'minutes')}"
    also_dissolved = page_quantity(setup.also_mol_dm3, "mol/dm3")
    also = f"{also_dissolved} {pretty(setup.also)}, " if setup.also else ""
    crystal = f", a crystal of {pretty(setup.crystal)}" if setup.crystal else ""
    room, time = page_quantity(setup.temperature_C, "°C"), page_quantity(setup.minutes, "minutes")
    return f"{also}{setup.vessel}{crystal}, {setup.supply_text}, {room}, {time}"
