"""Short investigations for a student alone: a question, a set-up, what to vary, a model answer.

The figures of every answer come from runs of the model, which run when the answer is asked for.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data
from fizzplate.cell import run_many
from fizzplate.lesson.classroom.predictions import ObservationPoint
from fizzplate.lesson.rule import charge_share, charge_share_ranges, percent
from fizzplate.lesson.state import CellSetup
from fizzplate.words import DEFAULT_WORDING, Sentence, board_slots, page_quantity, say

if TYPE_CHECKING:
    from collections.abc import Callable

    from fizzplate.cell import Run
    from fizzplate.words import Wording

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
    control
        The control of the set-up by which it is varied, by its name there.
    answer_sentence
        Runs the model, and returns the model answer with its figures; the board's wording fills the rest.
    """

    name: str
    question: str
    setups: tuple[CellSetup, ...]
    sweep: str
    vary: str
    look_for: str
    control: str
    answer_sentence: Callable[[], Sentence]

    @property
    def controls(self) -> tuple[str, ...]:
        """Every control by which it is varied: both electrodes of another material are two."""
        first, last = self.setups[0], self.setups[-1]
        rods = tuple(
            each for each in ("cathode", "anode") if getattr(first, each) != getattr(last, each)
        )
        return rods if self.control in rods else (self.control,)

    @property
    def points(self) -> tuple[ObservationPoint, ...]:
        """What a conclusion should say."""
        return tuple(
            ObservationPoint(row["point"], tuple(row.text.split("|")))
            for row in data.rows("investigation_points")
            if row["investigation"] == self.name
        )

    def answer(self, wording: Wording = DEFAULT_WORDING) -> str:
        """Return the model answer."""
        return self.answer_sentence().fill(board_slots(wording))


def _run(setup: CellSetup, samples: int = 31) -> Run:
    return setup.cell().run(minutes=setup.minutes, samples=samples)


BRINE = replace(PLAIN, solution="NaCl")


def _dilute_brine() -> Sentence:
    strengths = np.geomspace(0.002, 0.5, 14)
    setups = [replace(BRINE, concentration_mol_dm3=float(c)).cell() for c in strengths]
    runs = run_many(setups, minutes=BRINE.minutes, samples=3)
    shares = [charge_share(run.anode, "Cl2") for run in runs]
    below = [c for c, share in zip(strengths, shares, strict=True) if share < 0.9]
    weakest, strongest = (page_quantity(c, "mol/dm3") for c in (strengths[0], strengths[-1]))
    limit = (
        "Below about {limit} more than a tenth of the charge makes oxygen: too few chloride ions reach "
        "{the_anode} for the current."
        if below
        else "Even at {weakest} at least nine tenths of the charge makes chlorine."
    )
    return Sentence(
        "At {strongest} {largest} of the charge makes chlorine, at {weakest} {smallest}. "
        + limit
        + " The change is gradual, so each examination board decides for itself which solutions it calls "
        "dilute.",
        {
            "strongest": strongest,
            "weakest": weakest,
            "largest": percent(shares[-1]),
            "smallest": percent(shares[0]),
            "limit": page_quantity(max(below, default=0.0), "mol/dm3", ".1g"),
        },
    )


CARBON = CellSetup("CuSO4")
COPPER = replace(CARBON, anode="copper", cathode="copper")


def _carbon_or_copper() -> Sentence:
    carbon, copper = (_run(setup) for setup in (CARBON, COPPER))
    loss, gain, plated = (
        page_quantity(1e3 * grams[-1], "mg", ".2g")
        for grams in (
            -copper.anode.mass_g("Cu"),
            copper.cathode.mass_g("Cu"),
            carbon.cathode.mass_g("Cu"),
        )
    )
    return Sentence(
        "With copper electrodes {the_anode} loses {loss} and {the_cathode} gains {gain}: the blue stays. "
        "With graphite {plated} of copper comes out of the solution and oxygen forms: the blue fades, and "
        "the pH at {the_anode} falls to {pH}.",
        {"loss": loss, "gain": gain, "plated": plated, "pH": f"{carbon.anode.pH[-1]:.1f}"},
    )


VOLTS = (3.0, 6.0)
LOW_V, HIGH_V = (replace(PLAIN, solution="CuSO4", supply_V=volts) for volts in VOLTS)


def _twice_the_voltage() -> Sentence:
    low, high = (_run(setup) for setup in (LOW_V, HIGH_V))
    masses = [1e3 * float(run.cathode.mass_g("Cu")[-1]) for run in (low, high)]
    charges = [float(run.charge_C[-1]) for run in (low, high)]
    return Sentence(
        "Twice the voltage gave {of_mass} times the mass of copper, because it passed {of_charge} times the "
        "charge. Part of the voltage is needed before anything is discharged; only the rest drives current. "
        "The mass is proportional to the charge (current times time), not to the voltage.",
        {
            "of_mass": f"{masses[1] / masses[0]:.2g}",
            "of_charge": f"{charges[1] / charges[0]:.2g}",
        },
    )


ACID = replace(CARBON, minutes=15.0)


def _where_the_acid_goes() -> Sentence:
    carbon, copper = (_run(setup) for setup in (ACID, replace(ACID, anode="copper")))
    return Sentence(
        "At {an_anode} of graphite the pH falls from {start} to {end}: the oxygen comes from "
        "{oxygen_source}, and the water's hydrogen ions stay in the solution with sulfate ions. At "
        "{an_anode} of copper no oxygen forms, and at the end the pH there is {with_copper}. So the acid "
        "forms at {the_anode}, not at {the_cathode}.",
        {
            "start": f"{carbon.anode.pH[0]:.1f}",
            "end": f"{carbon.anode.pH[-1]:.1f}",
            "with_copper": f"{copper.anode.pH[-1]:.1f}",
        },
    )


ZINC = CellSetup("ZnSO4")


def _zinc() -> Sentence:
    run = _run(ZINC)
    return Sentence(
        "No. The rule says hydrogen, because zinc is more reactive than hydrogen. But in the run {share} of "
        "the charge plates zinc. Hydrogen does not form easily on zinc, and there are many zinc ions but few "
        "hydrogen ions. An exam still expects hydrogen.",
        {"share": percent(charge_share(run.cathode, "Zn"))},
    )


MIXED = CellSetup("NaCl", also="KI", also_mol_dm3=0.1, minutes=15.0)


def _halides() -> Sentence:
    run = _run(MIXED)
    shares = {f: charge_share(run.anode, f) for f in ("I2", "Cl2", "O2")}
    return Sentence(
        "Iodide goes first, although there is five times as much chloride: in {minutes} minutes {iodine} of "
        "the charge makes iodine and {chlorine} makes chlorine. Iodide ions lose their electrons more "
        "easily. Chloride takes over when iodide no longer reaches {the_anode} fast enough.",
        {
            "minutes": f"{MIXED.minutes:g}",
            "iodine": percent(shares["I2"]),
            "chlorine": percent(shares["Cl2"]),
        },
    )


LITTLE = replace(PLAIN, solution="CuSO4", concentration_mol_dm3=0.05, volume_cm3=30.0, minutes=60.0)


def _copper_runs_out() -> Sentence:
    run = _run(LITTLE, samples=61)
    copper = run.amount_mol("Cu2+")
    left = float(copper[-1] / copper[0])
    half = np.flatnonzero(run.cathode.share("Cu") < 0.5)
    when = (
        f"After {run.time_s[half[0]] / 60:.2g} minutes less than half of the current plates copper"
        if half.size
        else "More than half of the current plates copper until the end"
    )
    return Sentence(
        "{when}; the rest makes hydrogen, because copper ions do not reach {the_cathode} fast enough. After "
        "an hour {left} of the copper is still in the solution: the last part takes longest to plate.",
        {"when": when, "left": percent(left)},
    )


WATER = replace(PLAIN, solution="Na2SO4", minutes=10.0)


def _oxygen_is_short() -> Sentence:
    run = _run(WATER)
    hydrogen = [float(run.cathode.gas_cm3("H2", collected=c)[-1]) for c in (False, True)]
    oxygen = [float(run.anode.gas_cm3("O2", collected=c)[-1]) for c in (False, True)]
    return Sentence(
        "Made: {hydrogen} of hydrogen and {oxygen} of oxygen, a ratio of {ratio} to 1. Collected: "
        "{hydrogen_collected} and {oxygen_collected}, {ratio_collected} to 1. Oxygen is short for two "
        "reasons: more of it than of hydrogen dissolves, and a little of the charge makes carbon dioxide "
        "from the carbon of {the_anode} instead.",
        {
            "hydrogen": page_quantity(hydrogen[0], "cm3", ".2g"),
            "oxygen": page_quantity(oxygen[0], "cm3", ".2g"),
            "ratio": f"{hydrogen[0] / oxygen[0]:.3g}",
            "hydrogen_collected": f"{hydrogen[1]:.2g}",
            "oxygen_collected": page_quantity(oxygen[1], "cm3", ".2g"),
            "ratio_collected": f"{hydrogen[1] / oxygen[1]:.3g}",
        },
    )


THIN = replace(PLAIN, solution="NaCl", concentration_mol_dm3=0.01, supply_V=None, current_A=0.03)


def _how_sure() -> Sentence:
    thin, strong = (
        charge_share_ranges(_run(setup, samples=3).anode)
        for setup in (THIN, replace(THIN, concentration_mol_dm3=0.5))
    )
    oxygen = next(each for each in thin if each.product == "O2")
    chlorine = next(each for each in strong if each.product == "Cl2")
    return Sentence(
        "In the thin solution oxygen takes {oxygen} of the charge, but anything from {low} to {high} would "
        "fit what is known: the speed of each reaction is known only to a factor of about ten, and small "
        "changes decide between two products that compete. In {strong} solution chlorine takes {chlorine}, "
        "and {least} at least. So a model can be sure of one cell and unsure of another; an experiment "
        "decides.",
        {
            "oxygen": percent(oxygen.share),
            "low": percent(oxygen.low),
            "high": percent(oxygen.high),
            "strong": page_quantity(0.5, "mol/dm3"),
            "chlorine": percent(chlorine.share),
            "least": percent(chlorine.low),
        },
    )


def investigations(wording: Wording = DEFAULT_WORDING) -> tuple[Investigation, ...]:
    """Return the investigations, their questions in the board's wording.

    Examples
    --------
    >>> len(investigations()) >= 8
    True
    """
    return tuple(
        replace(
            each,
            question=say(each.question, wording),
            vary=say(each.vary, wording),
            look_for=say(each.look_for, wording),
        )
        for each in _templates()
    )


def _templates() -> tuple[Investigation, ...]:
    return (
        Investigation(
            "Dilute brine",
            "When does brine stop giving mostly chlorine?",
            (BRINE,),
            "shares against concentration",
            f"The concentration, from 0.5 down to {page_quantity(0.01, 'mol/dm3')}.",
            "The share of the charge that makes chlorine, and whether it changes suddenly.",
            "concentration_mol_dm3",
            _dilute_brine,
        ),
        Investigation(
            "Carbon or copper",
            "What do copper electrodes change in copper(II) sulfate?",
            (CARBON, COPPER),
            "",
            "The material of both electrodes.",
            "{The_anode}, the blue colour, the pH at {the_anode}.",
            "anode",
            _carbon_or_copper,
        ),
        Investigation(
            "Twice the voltage",
            "Does twice the voltage give twice the mass?",
            (LOW_V, HIGH_V),
            "current against voltage",
            f"The supply, {VOLTS[0]:g} and {page_quantity(VOLTS[1], 'V')}, without the lamp.",
            "The charge, and the mass of copper.",
            "supply",
            _twice_the_voltage,
        ),
        Investigation(
            "Where the acid goes",
            "Copper(II) sulfate turns acid between graphite rods. Where does the acid come from?",
            (ACID, replace(ACID, anode="copper")),
            "",
            "{The_anode}: graphite, then copper. Add universal indicator.",
            "The pH at each electrode.",
            "anode",
            _where_the_acid_goes,
        ),
        Investigation(
            "Zinc and the rule",
            "Does zinc sulfate follow the rule of the reactivity series?",
            (ZINC,),
            "",
            "Nothing at first; then the concentration.",
            "What forms at {the_cathode}, and its share of the charge.",
            "concentration_mol_dm3",
            _zinc,
        ),
        Investigation(
            "Two halides",
            "Which halide goes first in a mixture?",
            (MIXED,),
            "",
            "The concentration of the potassium iodide.",
            "Which colour comes first, and how the shares change.",
            "also_mol_dm3",
            _halides,
        ),
        Investigation(
            "How long the copper lasts",
            "How long does copper form when there is only a little copper(II) sulfate?",
            (LITTLE,),
            "metal against charge",
            "The time.",
            "When bubbles begin at {the_cathode}, and how the blue fades.",
            "minutes",
            _copper_runs_out,
        ),
        Investigation(
            "Why oxygen is short",
            "Why is less oxygen collected than half of the hydrogen?",
            (WATER,),
            "gas against time",
            "The time.",
            "Gas made and gas collected at each electrode.",
            "minutes",
            _oxygen_is_short,
        ),
        Investigation(
            "How sure is the model",
            "Can anyone calculate how much oxygen very thin brine gives?",
            (THIN,),
            "",
            f"The concentration, from {page_quantity(0.01, 'mol/dm3')} up to 0.5.",
            "The line “not sure” below the share at {the_anode}: how wide is the range, and when does it go?",
            "concentration_mol_dm3",
            _how_sure,
        ),
    )
