"""Short investigations for a student alone: a question, a set-up, what to vary, a model answer.

The figures of every answer come from runs of the model, worked out when the answer is asked for.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell import run_many
from fizzplate.lesson.rule.rule_vs_model import charge_share, percent
from fizzplate.lesson.state.cell_setup import CellSetup

if TYPE_CHECKING:
    from collections.abc import Callable

    from fizzplate.cell import Run

PLAIN = CellSetup(lamp="none")


@dataclass(frozen=True, slots=True)
class Investigation:
    """One investigation.

    Parameters
    ----------
    name, question
        What it is called, and what is asked.
    setups
        One cell, or two that differ in one thing: both electrodes of another material count as one.
    sweep
        The sweep to draw, or an empty text.
    vary, look_for
        What to do and what to watch.
    answer
        Works the model answer out.
    """

    name: str
    question: str
    setups: tuple[CellSetup, ...]
    sweep: str
    vary: str
    look_for: str
    answer: Callable[[], str]


def _run(setup: CellSetup, samples: int = 31) -> Run:
    return setup.cell().run(minutes=setup.minutes, samples=samples)


BRINE = replace(PLAIN, solution="NaCl")


def _dilute_brine() -> str:
    strengths = np.geomspace(0.002, 0.5, 14)
    setups = [replace(BRINE, concentration_mol_dm3=float(c)).cell() for c in strengths]
    runs = run_many(setups, minutes=BRINE.minutes, samples=3)
    shares = [charge_share(run.anode, "Cl2") for run in runs]
    below = [c for c, share in zip(strengths, shares, strict=True) if share < 0.9]
    limit = (
        f"Below about {max(below):.1g} mol/dm³ more than a tenth of the charge makes oxygen"
        if below
        else "Down to 0.002 mol/dm³ nine tenths of the charge make chlorine"
    )
    return (
        f"At 0.5 mol/dm³ {percent(shares[-1])} of the charge makes chlorine, at 0.002 mol/dm³ "
        f"{percent(shares[0])}. {limit}: there are too few chloride ions at the face for the current. "
        "Nothing "
        "changes suddenly, so where a board draws its line for dilute is a choice."
    )


CARBON = CellSetup("CuSO4")
COPPER = replace(CARBON, anode="copper", cathode="copper")


def _carbon_or_copper() -> str:
    carbon, copper = (_run(setup) for setup in (CARBON, COPPER))
    gain, loss = 1e3 * copper.cathode.mass_g("Cu")[-1], -1e3 * copper.anode.mass_g("Cu")[-1]
    return (
        f"With copper electrodes the anode loses {loss:.2g} mg and the cathode gains {gain:.2g} mg: the blue "
        f"stays. With graphite {1e3 * carbon.cathode.mass_g('Cu')[-1]:.2g} mg of copper come out of the "
        f"solution and oxygen forms: the blue fades, and at the anode the pH falls to "
        f"{carbon.anode.pH[-1]:.1f}."
    )


LOW_V, HIGH_V = (replace(PLAIN, solution="CuSO4", supply_V=volts) for volts in (3.0, 6.0))


def _twice_the_voltage() -> str:
    low, high = (_run(setup) for setup in (LOW_V, HIGH_V))
    masses = [1e3 * float(run.cathode.mass_g("Cu")[-1]) for run in (low, high)]
    charges = [float(run.charge_C[-1]) for run in (low, high)]
    return (
        f"Twice the voltage gave {masses[1] / masses[0]:.2g} times the mass of copper, because it passed "
        f"{charges[1] / charges[0]:.2g} times the charge. Part of the voltage is needed before anything is "
        "discharged; only the rest drives current. Mass goes with charge (current and time), not with "
        "voltage."
    )


ACID = replace(CARBON, minutes=15.0)


def _where_the_acid_goes() -> str:
    carbon, copper = (_run(setup) for setup in (ACID, replace(ACID, anode="copper")))
    return (
        f"At the graphite anode the pH falls from {carbon.anode.pH[0]:.1f} to {carbon.anode.pH[-1]:.1f}: "
        "oxygen "
        "comes from water, and its hydrogen ions stay with sulfate ions. With a copper anode no oxygen forms "
        f"and the pH there ends at {copper.anode.pH[-1]:.1f}. The acid is made at the anode, not at the "
        "cathode."
    )


ZINC = CellSetup("ZnSO4")


def _zinc() -> str:
    run = _run(ZINC)
    return (
        f"No. The rule says hydrogen, since zinc is the more reactive; in the run "
        f"{percent(charge_share(run.cathode, 'Zn'))} of the charge plates zinc. Hydrogen forms with "
        "difficulty on "
        "zinc, and zinc ions are many while hydrogen ions are few. An exam still expects hydrogen."
    )


MIXED = CellSetup("NaCl", also="KI", also_mol_dm3=0.1, minutes=15.0)


def _halides() -> str:
    run = _run(MIXED)
    shares = {f: charge_share(run.anode, f) for f in ("I2", "Cl2", "O2")}
    return (
        f"Iodide goes first although chloride is five times as strong: {percent(shares['I2'])} of the charge "
        f"makes iodine and {percent(shares['Cl2'])} chlorine in {MIXED.minutes:g} minutes. Iodide gives its "
        "electrons most easily; chloride takes over where iodide no longer comes to the face fast enough."
    )


LITTLE = replace(PLAIN, solution="CuSO4", concentration_mol_dm3=0.05, volume_cm3=30.0, minutes=60.0)


def _copper_runs_out() -> str:
    run = _run(LITTLE, samples=61)
    copper = run.concentration("Cu2+") @ run.volume_m3
    left = float(copper[-1] / copper[0])
    half = np.flatnonzero(run.cathode.share("Cu") < 0.5)
    when = (
        f"After {run.time_s[half[0]] / 60:.2g} minutes less than half of the current plates copper"
        if half.size
        else "To the end more than half of the current plates copper"
    )
    return (
        f"{when}; the rest makes hydrogen, since copper ions do not reach the face fast enough. After an "
        "hour "
        f"{percent(left)} of the copper is still in the solution: the last of it takes longest."
    )


WATER = replace(PLAIN, solution="Na2SO4", minutes=10.0)


def _oxygen_is_short() -> str:
    run = _run(WATER)
    hydrogen = [float(run.cathode.gas_cm3("H2", collected=c)[-1]) for c in (False, True)]
    oxygen = [float(run.anode.gas_cm3("O2", collected=c)[-1]) for c in (False, True)]
    return (
        f"Made: {hydrogen[0]:.2g} cm³ of hydrogen and {oxygen[0]:.2g} cm³ of oxygen, "
        f"{hydrogen[0] / oxygen[0]:.3g} "
        f"to 1. Collected: {hydrogen[1]:.2g} and {oxygen[1]:.2g} cm³, {hydrogen[1] / oxygen[1]:.3g} to "
        "1. Oxygen "
        "dissolves more than hydrogen, and a little of the charge burns the carbon to carbon dioxide."
    )


def investigations() -> tuple[Investigation, ...]:
    """Return the investigations.

    Examples
    --------
    >>> len(investigations()) >= 8
    True
    """
    return (
        Investigation(
            "Dilute brine",
            "When does brine stop giving mostly chlorine?",
            (BRINE,),
            "shares against concentration",
            "The concentration, from 0.5 down to 0.01 mol/dm³.",
            "The share of the charge that makes chlorine, and whether it changes suddenly.",
            _dilute_brine,
        ),
        Investigation(
            "Carbon or copper",
            "What do copper electrodes change in copper(II) sulfate?",
            (CARBON, COPPER),
            "",
            "The material of both electrodes.",
            "The anode, the blue colour, the pH at the anode.",
            _carbon_or_copper,
        ),
        Investigation(
            "Twice the voltage",
            "Does twice the voltage give twice the mass?",
            (LOW_V, HIGH_V),
            "current against voltage",
            "The supply, 3 V and 6 V, without the lamp.",
            "The charge, and the mass of copper.",
            _twice_the_voltage,
        ),
        Investigation(
            "Where the acid goes",
            "Copper(II) sulfate turns acid between graphite rods. Where does the acid come from?",
            (ACID, replace(ACID, anode="copper")),
            "",
            "The anode: graphite, then copper. Add universal indicator.",
            "The pH at each electrode.",
            _where_the_acid_goes,
        ),
        Investigation(
            "Zinc and the rule",
            "Does zinc sulfate obey the rule of the reactivity series?",
            (ZINC,),
            "",
            "Nothing at first; then the strength.",
            "What forms at the cathode, and its share of the charge.",
            _zinc,
        ),
        Investigation(
            "Two halides",
            "Which halide goes first in a mixture?",
            (MIXED,),
            "",
            "The strength of the potassium iodide.",
            "Which colour comes first, and how the shares change.",
            _halides,
        ),
        Investigation(
            "How long the copper lasts",
            "How long can copper be taken from a little copper(II) sulfate?",
            (LITTLE,),
            "metal against charge",
            "The time, up to an hour.",
            "When bubbles begin at the cathode, and how the blue fades.",
            _copper_runs_out,
        ),
        Investigation(
            "Why oxygen is short",
            "Why is less oxygen collected than half of the hydrogen?",
            (WATER,),
            "gas against time",
            "The time.",
            "Gas made and gas collected at each electrode.",
            _oxygen_is_short,
        ),
    )
