"""Where the classroom rule and the bench differ, in one sentence each, with the run's own numbers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.chemistry import species_name
from fizzplate.lesson.rule import classroom_rule

if TYPE_CHECKING:
    from fizzplate.cell import Run
    from fizzplate.cell.run import ElectrodeRecord
    from fizzplate.lesson.rule import ElectrodeRule

NOTABLE_SHARE = 0.02  # of the charge: less is not worth a sentence in class


def charge_share(record: ElectrodeRecord, product: str) -> float:
    """Return the fraction of all charge so far that made a product, 0 before any passed."""
    per_mole = {"H2": 2, "O2": 4, "Cl2": 2, "Cu": 2, "Cu2+": 2, "Cl-": 1}
    charges = {p: per_mole[p] * float(record.amount_mol(p)[-1]) for p in record.products}
    whole = sum(charges.values())
    return charges.get(product, 0.0) / whole if whole > 0 else 0.0


def percent(share: float) -> str:
    """Write a share as a whole percentage."""
    return f"{100 * share:.0f} %" if share >= 0.01 else "less than 1 %"


def differences(run: Run) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the sentences that belong to the cathode and to the anode.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> cathode, anode = differences(Cell("NaCl", concentration_mol_dm3=0.02).run(minutes=5))
    >>> anode[0].startswith("The rule says chlorine")
    True
    """
    if float(run.charge_C[-1]) == 0.0:
        return (), ()
    rule = classroom_rule(run.cell.ions_mol_dm3, anode=run.cell.anode, cathode=run.cell.cathode)
    return _cathode(run, rule.cathode), _anode(run, rule.anode)


def _beside(record: ElectrodeRecord, rule: ElectrodeRule, because: dict[str, str]) -> list[str]:
    said = []
    for product in record.products:
        share = charge_share(record, product)
        if product != rule.product and share >= NOTABLE_SHARE and product in because:
            expected = species_name(rule.product)
            said.append(
                f"The rule says {expected}; in the modelled run {percent(share)} of the charge "
                f"{because[product]}"
            )
    return said


def _cathode(run: Run, rule: ElectrodeRule) -> tuple[str, ...]:
    because = {
        "H2": "makes hydrogen as well, because copper ions cannot reach the face fast enough.",
        "Cu": "plates copper, from ions that the anode gave.",
        "Cl-": "turns dissolved chlorine back into chloride.",
    }
    said = _beside(run.cathode, rule, because)
    haze = float(run.haze_mol("Cu(OH)2")[-1])
    if haze > 1e-6:
        said.append(
            f"A pale blue haze of copper(II) hydroxide forms, about {haze * 1e3:.2g} mmol: hydroxide "
            "from the cathode meets copper ions."
        )
    return tuple(said)


def _and_reacts(run: Run) -> str:
    """Say what else becomes of the chlorine where the cathode makes alkali."""
    alkaline = charge_share(run.cathode, "H2") > 0.5 and "H+" not in run.cell.ions_mol_dm3
    return " or reacts with the alkali from the cathode" if alkaline else ""


def _anode(run: Run, rule: ElectrodeRule) -> tuple[str, ...]:
    because = {
        "O2": "makes oxygen instead: the thinner the chloride and the higher the current, the more.",
        "Cl2": "makes chlorine.",
    }
    said = _beside(run.anode, rule, because)
    if "Cl2" in run.anode.products:
        made = float(run.anode.gas_cm3("Cl2")[-1])
        collected = float(run.anode.gas_cm3("Cl2", collected=True)[-1])
        if made > 0 and collected < 0.9 * made:
            caught = f"only about {collected:.2g} cm³" if collected > 0.05 else "hardly any"
            said.append(
                f"Of the {made:.2g} cm³ of chlorine that is made "
                f"{caught} can be collected: the rest stays dissolved{_and_reacts(run)}."
            )
    if run.anode.material == "graphite" and charge_share(run.anode, "O2") > 0.5:
        said.append(
            "A carbon anode also burns a little to carbon dioxide, which the model counts as oxygen."
        )
    if rule.product == "Cu2+" and "Cu" in run.cathode.products:
        gain = float(run.cathode.mass_g("Cu")[-1])
        loss = -float(run.anode.mass_g("Cu")[-1])
        said.append(
            f"The anode loses {1e3 * loss:.3g} mg and the cathode gains {1e3 * gain:.3g} mg: the "
            "blue stays."
        )
    return tuple(said)
