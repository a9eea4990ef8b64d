"""Sentences that a run carries when something is out of range or worth knowing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.chemistry import electrodes, non_electrolytes, species_name

if TYPE_CHECKING:
    from fizzplate.cell.cell import Cell

BOILING_C = 95.0
HOT_C = 50.0
STRONG_MOL_DM3 = 2.0
LEAST_DISPLACED_MOL_DM3 = 1e-3


@dataclass(frozen=True, slots=True)
class Circumstances:
    """What the warnings are decided by."""

    cell: Cell
    supply_limited: bool
    highest_temperature_C: float
    anode_gone: bool
    products: tuple[str, ...]


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
    if now.anode_gone:
        said.append(
            f"The {cell.anode} anode of {cell.anode_mass_g:g} g is used up before the end: from then "
            "on the model goes on with the other reactions on a surface of the same size."
        )
    for formula in cell.solution_formulae:
        if formula in non_electrolytes():
            said.append(non_electrolytes()[formula].reason)
            said.append(
                "The model counts a trace of salt in the water, as the purest of a school holds."
            )
    said += [row.text for row in data.rows("left_out") if _all_hold(row["when"], now)]
    return tuple(dict.fromkeys([*said, *_displacement(cell)]))


def _all_hold(when: str, now: Circumstances) -> bool:
    """Return whether every condition of a row holds, such as ``anode copper & ion Cl-``."""
    cell = now.cell
    known = {f"anode {cell.anode}", f"cathode {cell.cathode}", f"vessel {cell.vessel.name}"}
    known |= {f"ion {ion}" for ion in cell.ions_mol_dm3}
    known |= {f"product {product}" for product in now.products}
    if cell.crystal:
        known.add("crystal")
    if len({"Cl-", "Br-", "I-"} & set(cell.ions_mol_dm3)) > 1:
        known.add("two halides")
    return all(condition in known for condition in when.split(" & "))


def _displacement(cell: Cell) -> list[str]:
    """Say where an electrode would react with the solution without any current."""
    place = {row["ion"]: row.value for row in data.rows("reactivity")}
    said = []
    for role, material in (("cathode", cell.cathode), ("anode", cell.anode)):
        own = electrodes()[material].dissolves_as
        if not own:
            continue
        # the further down the series, the larger the place
        nobler = [
            ion
            for ion, c in cell.ions_mol_dm3.items()
            if c >= LEAST_DISPLACED_MOL_DM3 and place.get(ion, 0.0) > place[own]
        ]
        for ion in nobler:
            meets = "acid" if ion == "H+" else f"{species_name(ion)} ions"
            said.append(
                f"The {material} {role} reacts with the {meets} by itself, current or not: the model "
                "leaves that out."
            )
    return said
