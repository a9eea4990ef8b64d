"""Sentences that a run carries when something is out of range or worth knowing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fizzplate.cell.cell import Cell

BOILING_C = 95.0
HOT_C = 50.0
STRONG_MOL_DM3 = 2.0


@dataclass(frozen=True, slots=True)
class Circumstances:
    """What the warnings are decided by."""

    cell: Cell
    supply_limited: bool
    highest_temperature_C: float
    anode_loss_g: float


def warnings(now: Circumstances) -> tuple[str, ...]:
    """Return the warnings that apply, as sentences."""
    cell = now.cell
    said = []
    if now.supply_limited and cell.current_A is None:
        said.append(
            f"The supply reached its limit of {cell.supply_limit_A:g} A, so the voltage fell below "
            f"the {cell.supply_V:g} V that were set."
        )
    if now.highest_temperature_C > BOILING_C:
        said.append(
            "The current would bring the solution to the boil: this run cannot be done so. The "
            "model keeps computing at the temperature of the room."
        )
    elif now.highest_temperature_C > HOT_C:
        said.append(
            f"The current would warm the solution to about {now.highest_temperature_C:.0f} °C; the "
            "model keeps computing at the temperature of the room."
        )
    if cell.concentration_mol_dm3 > STRONG_MOL_DM3:
        said.append(
            f"At {cell.concentration_mol_dm3:g} mol/dm3 the conductivity is outside the range of "
            "its correlation (2 mol/dm3): currents are estimates."
        )
    if cell.anode_mass_g is not None and now.anode_loss_g > cell.anode_mass_g:
        said.append(
            f"The anode would lose {now.anode_loss_g:.2g} g, more than the {cell.anode_mass_g:g} g "
            "that it has: it would be used up before the end."
        )
    if cell.anode == "copper" and "Cl-" in cell.ions_mol_dm3:
        said.append(
            "In chloride a copper anode dissolves partly as copper(I), which this model leaves out."
        )
    return tuple(said)
