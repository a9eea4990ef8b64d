"""Two cells side by side: what is the same, what differs, what that did and why."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell import vessels
from fizzplate.chemistry import non_electrolytes, pretty, species_name
from fizzplate.chemistry.gases import GASES
from fizzplate.lesson.rule.rule_vs_model import charge_share, percent
from fizzplate.lesson.state.cell_setup import CellSetup
from fizzplate.words.say import begin

if TYPE_CHECKING:
    from fizzplate.cell import Run

SAME_WITHIN = 0.03  # relative: less is no difference to speak of
NAMES = {
    "solution": "solution",
    "concentration_mol_dm3": "concentration, mol/dm³",
    "also": "also dissolved",
    "also_mol_dm3": "its concentration, mol/dm³",
    "volume_cm3": "volume, cm³",
    "cathode": "cathode",
    "anode": "anode",
    "electrodes": "electrodes",
    "supply_V": "supply, V",
    "current_A": "current held, A",
    "lamp": "lamp",
    "vessel": "vessel",
    "crystal": "crystal",
    "temperature_C": "room, °C",
    "minutes": "time, minutes",
}
BECAUSE = {
    "solution": "other ions carry the current and compete at the electrodes.",
    "concentration_mol_dm3": "fewer or more ions carry the current, and bring what is discharged to the "
    "face.",
    "also": "its ions compete at the electrodes too.",
    "also_mol_dm3": "more of its ions compete at the electrodes.",
    "volume_cm3": "the same charge changes a larger or smaller amount of solution.",
    "cathode": "what is discharged depends on how easily hydrogen forms on the metal.",
    "electrodes": "an anode of an active metal dissolves instead of an ion being discharged, while the "
    "cathode only carries what settles on it or forms there.",
    "anode": "an active metal dissolves instead of an ion being discharged; an inert one does not.",
    "supply_V": "only the voltage beyond what the electrodes need drives current through the solution, "
    "so the current does not go in proportion to it.",
    "current_A": "the charge that passes, and so the amount made, goes in proportion to the current and "
    "time.",
    "lamp": "the lamp takes part of the voltage and limits the current.",
    "vessel": "the way between the electrodes, and how well the liquid mixes, are different.",
    "temperature_C": "ions move faster in warmer water, and a gas takes up more room.",
    "minutes": "more charge passes in more time.",
}


@dataclass(frozen=True, slots=True)
class CellComparison:
    """What two cells have in common and what not.

    Parameters
    ----------
    same
        Names of what is the same.
    differences
        Names of what differs, with the value of either.
    outcome
        Sentences: what the difference did, and why.
    """

    same: tuple[str, ...]
    differences: tuple[tuple[str, str, str], ...]
    outcome: tuple[str, ...]


def compare_cells(first: CellSetup, second: CellSetup, runs: tuple[Run, Run]) -> CellComparison:
    """Compare two cells by their set-ups and their runs.

    Examples
    --------
    >>> setups = CellSetup("CuSO4"), CellSetup("CuSO4", anode="copper")
    >>> runs = tuple(setup.cell().run(minutes=1, samples=3) for setup in setups)
    >>> compare_cells(*setups, runs).differences
    (('anode', 'graphite', 'copper'),)
    """
    same, differences, changed = [], [], []
    pair = _rods_change_together(first, second)
    for each in fields(CellSetup):
        name = each.name
        a, b = getattr(first, name), getattr(second, name)
        if a == b:
            if _is_there(name, first):
                same.append(NAMES[name])
            continue
        if name == "also_mol_dm3" and not (first.also and second.also):
            continue
        if pair and name == "anode":
            continue  # told with the cathode
        told = "electrodes" if pair and name == "cathode" else name
        differences.append((NAMES[told], _shown(a), _shown(b)))
        changed.append(told)
    return CellComparison(tuple(same), tuple(differences), tuple(_outcome(changed, runs)))


def _rods_change_together(first: CellSetup, second: CellSetup) -> bool:
    """Whether both rods of either cell are alike, and other than those of the other cell: one change."""
    alike = first.cathode == first.anode and second.cathode == second.anode
    return alike and first.anode != second.anode


def _is_there(name: str, setup: CellSetup) -> bool:
    """Whether a cell has what is named: nothing is the same in both where there is none."""
    if name == "also_mol_dm3":
        return bool(setup.also)
    if name == "volume_cm3":
        return vessels()[setup.vessel].volume_cm3 is not None
    if name == "concentration_mol_dm3":
        return setup.solution not in non_electrolytes()
    if name == "crystal":
        return bool(setup.crystal) and vessels()[setup.vessel].takes_crystal
    return getattr(setup, name) not in (None, "", "none")


def _shown(value: object) -> str:
    if value is None or value == "":
        return "none"
    if isinstance(value, float):
        return f"{value:.4g}"
    return (
        pretty(value)
        if isinstance(value, str) and value[:1].isupper() and value != "U-tube"
        else str(value)
    )


def _outcome(changed: list[str], runs: tuple[Run, Run]) -> list[str]:
    if not changed:
        return ["Both cells are the same: change one thing in the second."]
    said = []
    if len(changed) > 1:
        said.append("More than one thing differs, so no single cause can be told from this pair.")
    charges = [float(run.charge_C[-1]) for run in runs]
    said.append(f"Charge passed: {_ratio(charges)}.")
    for role in ("cathode", "anode"):
        records = [getattr(run, role) for run in runs]
        mains = [record.products[0] if record.products else "" for record in records]
        if mains[0] != mains[1]:
            names = [species_name(main) if main else "nothing" for main in mains]
            said.append(f"At the {role} mainly {names[0]} in the first, {names[1]} in the second.")
            continue
        if not mains[0]:
            continue
        shares = [charge_share(record, mains[0]) for record in records]
        amounts = [float(record.amount_mol(mains[0])[-1]) for record in records]
        what = f"{species_name(mains[0])} at the {role}"
        said.append(f"{begin(what)}: {_ratio(amounts)}.")
        if abs(shares[0] - shares[1]) > SAME_WITHIN:
            said.append(
                f"Its share of the charge: {percent(shares[0])} in the first, {percent(shares[1])} in "
                "the second."
            )
    said += [f"Why: {BECAUSE[name]}" for name in changed if name in BECAUSE]
    return said


def _ratio(values: list[float]) -> str:
    if max(values) <= 0:
        return "none in either"
    if min(values) <= 0:
        return "none in the first" if values[0] <= 0 else "none in the second"
    ratio = values[1] / values[0]
    if abs(ratio - 1) < SAME_WITHIN:
        return "the same in both"
    return f"{ratio:.2g} times as much in the second"


def compared_curves(run: Run) -> dict[str, np.ndarray[tuple[int, ...], np.dtype[np.float64]]]:
    """Return what is drawn of a run beside another's: current, mA, gas, cm3, and metal, mg, by time."""
    gas = np.zeros_like(run.time_s)
    metal = np.zeros_like(run.time_s)
    for record in (run.cathode, run.anode):
        for product in record.products:
            if product in GASES:
                gas = gas + record.gas_cm3(product)
    for solid in run.cathode.solids:
        metal = metal + 1e3 * run.cathode.mass_g(solid)
    return {
        "Current, mA": 1e3 * run.current_A,
        "Gas made, cm³": gas,
        "Metal on the cathode, mg": metal,
    }
