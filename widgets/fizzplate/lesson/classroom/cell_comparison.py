"""Two cells side by side: what is the same, what differs, what that did and why."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell import vessels
from fizzplate.chemistry import non_electrolytes, pretty, species_name
from fizzplate.chemistry.substances import GASES
from fizzplate.lesson.rule import charge_share, percent
from fizzplate.lesson.state import CellSetup
from fizzplate.words import DEFAULT_WORDING, say

if TYPE_CHECKING:
    from fizzplate.cell import Run
    from fizzplate.words import Wording

SAME_WITHIN = 0.03  # relative: a smaller difference is not worth a sentence
NAMES = {
    "solution": "solution",
    "concentration_mol_dm3": "concentration, mol/dm³",
    "also": "also dissolved",
    "also_mol_dm3": "its concentration, mol/dm³",
    "volume_cm3": "volume, cm³",
    "cathode": "{cathode}",
    "anode": "{anode}",
    "electrodes": "electrodes",
    "supply_V": "supply, V",
    "current_A": "constant current, A",
    "lamp": "lamp",
    "vessel": "vessel",
    "crystal": "crystal",
    "temperature_C": "room, °C",
    "minutes": "time, minutes",
    "beside": "second cell",
    "changes": "changed during the run",
}
# at once, not only for a class whose two cells differ in just this
if without_name := {each.name for each in fields(CellSetup)} - NAMES.keys():
    raise TypeError(
        f"NAMES of cell_comparison.py names no {', '.join(sorted(without_name))} of CellSetup"
    )
FORMULAE = {
    "solution",
    "also",
    "crystal",
}  # parts of a set-up that are written as chemical formulae
BECAUSE = {
    "solution": "other ions carry the current and compete at the electrodes.",
    "concentration_mol_dm3": "where the solution is stronger, more ions carry the current and reach the "
    "electrodes.",
    "also": "the ions of the second substance compete at the electrodes too.",
    "also_mol_dm3": "more ions of the second substance compete at the electrodes.",
    "volume_cm3": "the same charge changes a small volume of solution more than a large one.",
    "cathode": "hydrogen forms more easily on some materials than on others, so what is discharged "
    "can differ.",
    "electrodes": "{an_anode} of an active metal dissolves, and no ion is discharged there. {The_cathode} "
    "does not react.",
    "anode": "{an_anode} of an active metal dissolves, and no ion is discharged there. An inert one does "
    "not react.",
    "supply_V": "the electrodes need part of the voltage, and only the rest drives current through the "
    "solution. So the current is not proportional to the voltage.",
    "current_A": "the charge that passes, and so the amount made, is proportional to the current and "
    "the time.",
    "lamp": "the lamp takes part of the voltage and limits the current.",
    "vessel": "the distance between the electrodes is different, and the liquid mixes differently.",
    "temperature_C": "ions move faster in warmer water, and a gas takes up more room.",
    "minutes": "more charge passes in a longer time.",
    "changes": "what is changed during a run counts from then on.",
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


def compare_cells(
    first: CellSetup,
    second: CellSetup,
    runs: tuple[Run, Run],
    wording: Wording = DEFAULT_WORDING,
) -> CellComparison:
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
                same.append(say(NAMES[name], wording))
            continue
        if name == "also_mol_dm3" and not (first.also and second.also):
            continue
        if pair and name == "anode":
            continue  # it goes with the cathode
        change = "electrodes" if pair and name == "cathode" else name
        if name == "changes":
            a, b = first.changes_text, second.changes_text
        differences.append(
            (say(NAMES[change], wording), _value_text(name, a), _value_text(name, b))
        )
        changed.append(change)
    return CellComparison(tuple(same), tuple(differences), tuple(_outcome(changed, runs, wording)))


def _rods_change_together(first: CellSetup, second: CellSetup) -> bool:
    """Whether each cell has two rods of one material, and the other cell's material differs: one change."""
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
    return getattr(setup, name) not in (None, "", "none", ())


def _value_text(name: str, value: object) -> str:
    if value is None or value == "":
        return "none"
    if isinstance(value, float):
        return f"{value:.4g}"
    return pretty(str(value)) if name in FORMULAE else str(value)


def _outcome(changed: list[str], runs: tuple[Run, Run], wording: Wording) -> list[str]:
    if not changed:
        return ["Both cells are the same: change one thing in the second."]
    sentences = []
    if len(changed) > 1:
        sentences.append(
            "More than one thing is different, so this pair does not show which of them is the cause."
        )
    charges = [float(run.charge_C[-1]) for run in runs]
    sentences.append(f"Charge passed: {_ratio(charges)}.")
    for role in ("cathode", "anode"):
        sentences += _at_electrode(role, runs, wording)
    reasons = [say(BECAUSE[name], wording) for name in changed if name in BECAUSE]
    return sentences + [f"Why: {reason}" for reason in reasons]


def _at_electrode(role: str, runs: tuple[Run, Run], wording: Wording) -> list[str]:
    """Compare what both runs make at one electrode."""
    records = [getattr(run, role) for run in runs]
    mains = [record.products[0] if record.products else "" for record in records]
    if mains[0] != mains[1]:
        names = [species_name(main) if main else "nothing" for main in mains]
        return [
            say(
                "Main product at {the_electrode}: {first} in the first cell, {second} in the second.",
                wording,
                role=role,
                first=names[0],
                second=names[1],
            )
        ]
    if not mains[0]:
        return []
    shares = [charge_share(record, mains[0]) for record in records]
    amounts = [float(record.amount_mol(mains[0])[-1]) for record in records]
    made = say(
        "{Product} at {the_electrode}: {ratio}.",
        wording,
        product=species_name(mains[0]),
        role=role,
        ratio=_ratio(amounts),
    )
    sentences = [made]
    if abs(shares[0] - shares[1]) > SAME_WITHIN:
        sentences.append(
            f"Its share of the charge: {percent(shares[0])} in the first cell, {percent(shares[1])} in "
            "the second."
        )
    return sentences


def _ratio(values: list[float]) -> str:
    if max(values) <= 0:
        return "none in either"
    if min(values) <= 0:
        return "none in the first" if values[0] <= 0 else "none in the second"
    ratio = values[1] / values[0]
    if abs(ratio - 1) < SAME_WITHIN:
        return "the same in both"
    return f"{ratio:.2g} times as much in the second"


def compared_curves(
    run: Run, wording: Wording = DEFAULT_WORDING
) -> dict[str, np.ndarray[tuple[int, ...], np.dtype[np.float64]]]:
    """Return the curves of a run that are drawn over another's: current, mA, gas, cm3, and metal, mg."""
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
        say("Metal on {the_cathode}, mg", wording): metal,
    }
