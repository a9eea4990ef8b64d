"""Sentences that a run carries when something is out of range or worth knowing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.cell.physics.circuit import LARGEST_SUPPLY_V
from fizzplate.chemistry import electrodes, non_electrolytes, species_name

if TYPE_CHECKING:
    from collections.abc import Iterator

    from fizzplate.cell.physics.cell_like import CellLike

BOILING_C = 95.0
HOT_C = 50.0
STRONG_MOL_DM3 = 2.0
ROUGH, SPONGY = 0.6, 0.95  # of a metal's limiting current, common practice
NOTABLE_WATER = 0.02  # of the volume
FALLEN = 0.995  # of the current that was set: less is told
FITTED_C = (15.0, 35.0)
LEAST_DISPLACED_MOL_DM3 = 1e-3


@dataclass(frozen=True, slots=True)
class Circumstances:
    """What the warnings are decided by."""

    cell: CellLike
    supply_limited: bool
    least_current_A: float  #: while the switch is closed
    highest_temperature_C: float
    anode_gone: bool
    products: tuple[str, ...]
    roughness: float
    water_lost_cm3: float
    trace_mol_dm3: float


def warnings(now: Circumstances) -> tuple[str, ...]:
    """Return the warnings that apply, as sentences."""
    said = [*_of_the_supply(now), *_of_the_electrodes(now), *_of_the_liquid(now)]
    said += [row.text for row in data.rows("left_out") if _all_hold(row["when"], now)]
    return tuple(dict.fromkeys([*said, *_displacement(now.cell)]))


def _of_the_supply(now: Circumstances) -> Iterator[str]:
    cell = now.cell
    if now.supply_limited and cell.current_A is None:
        yield (
            f"The supply reached its limit of {cell.supply_limit_A:g} A, so the voltage fell below "
            f"the {cell.supply_V:g} V that were set."
        )
    if cell.current_A is not None and now.least_current_A < FALLEN * cell.current_A:
        yield (
            f"Holding {cell.current_A:g} A would take more than {LARGEST_SUPPLY_V:g} V: the supply stays at "
            f"{LARGEST_SUPPLY_V:g} V, and the current falls to {now.least_current_A:.2g} A."
        )
    if now.highest_temperature_C > BOILING_C:
        yield (
            "The current would bring the solution to the boil: this run cannot be done so. The "
            "model keeps computing at the temperature of the room."
        )
    elif now.highest_temperature_C > HOT_C:
        yield (
            f"The current would warm the solution to about {now.highest_temperature_C:.0f} °C; the "
            "model keeps computing at the temperature of the room."
        )


def _of_the_electrodes(now: Circumstances) -> Iterator[str]:
    cell = now.cell
    if now.anode_gone:
        yield (
            f"The {cell.anode} anode of {cell.anode_mass_g:g} g is used up before the end: from then "
            "on the model goes on with the other reactions on a surface of the same size."
        )
    if now.roughness > SPONGY:
        yield (
            "The current is beyond what the supply of metal ions to the electrode allows: the deposit "
            "is dark and spongy, and falls off."
        )
    elif now.roughness > ROUGH:
        yield (
            f"The current is {100 * now.roughness:.0f} % of what the supply of metal ions to the "
            "electrode allows: the deposit is rough, and grains fall off."
        )


def _of_the_liquid(now: Circumstances) -> Iterator[str]:
    cell = now.cell
    if cell.concentration_mol_dm3 > STRONG_MOL_DM3:
        yield (
            f"At {cell.concentration_mol_dm3:g} mol/dm3 the conductivity is outside the range of "
            "its correlation (2 mol/dm3): currents are estimates."
        )
    if not FITTED_C[0] <= cell.temperature_C <= FITTED_C[1]:
        yield (
            f"At {cell.temperature_C:g} °C the conductivity is outside the range of its correlation (15 to "
            "35 °C): currents are estimates."
        )
    if now.water_lost_cm3 > NOTABLE_WATER * cell.volume_cm3:
        yield (
            f"The current splits about {now.water_lost_cm3:.2g} cm3 of water: the model keeps the volume "
            "as it was, so concentrations are a little too low at the end."
        )
    if now.trace_mol_dm3:
        yield (
            "Somewhere in this run the liquid loses all its ions. So that it could be worked out, "
            f"{1e3 * now.trace_mol_dm3:g} mmol/dm3 of sodium nitrate were added, less than tap water holds."
        )
    for formula in cell.solution_formulae:
        if formula in non_electrolytes():
            yield non_electrolytes()[formula].reason
            yield "The model counts a trace of salt in the water, as the purest of a school holds."


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


def reacts_by_itself(cell: CellLike) -> list[tuple[str, str, str]]:
    """List where an electrode reacts without any current: its role, the ion it gives, the ion it meets.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> reacts_by_itself(Cell("HCl", cathode="zinc", anode="copper"))
    [('cathode', 'Zn2+', 'H+')]
    """
    place = {row["ion"]: row.value for row in data.rows("reactivity")}
    return [
        (role, own, ion)
        for role, material in (("cathode", cell.cathode), ("anode", cell.anode))
        if (own := electrodes()[material].dissolves_as)
        # the further down the series, the larger the place
        for ion, c in cell.ions_mol_dm3.items()
        if c >= LEAST_DISPLACED_MOL_DM3 and place.get(ion, 0.0) > place[own]
    ]


def _displacement(cell: CellLike) -> list[str]:
    """Say where an electrode would react with the solution without any current."""
    said = []
    for role, _, ion in reacts_by_itself(cell):
        meets = "acid" if ion == "H+" else f"{species_name(ion)} ions"
        said.append(
            f"The {getattr(cell, role)} {role} reacts with the {meets} by itself, current or not: the model "
            "leaves that out."
        )
    return said
