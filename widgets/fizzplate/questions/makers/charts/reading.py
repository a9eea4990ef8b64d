"""Makers of questions about a chart of a run: read it, and work with what is read."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.chemistry import FARADAY_C_MOL, half_equation, molar_mass_g_mol, species_name
from fizzplate.lesson.measure import ROUND_FARADAY
from fizzplate.lesson.state import read_cell
from fizzplate.questions.calculations import FARADAY
from fizzplate.questions.content import NearMiss, Part, datum
from fizzplate.questions.maker import maker
from fizzplate.questions.makers.charts.parts import (
    READ_TO,
    chart_number_question,
    chart_of,
    line_name,
    title_of,
    unit_of,
)
from fizzplate.questions.makers.charts.stored_runs import (
    CHARGE,
    CHLORINE,
    COLLECTED,
    COPPER,
    HYDROGEN,
    OXYGEN,
    SILVER,
    ZINC,
    stored_run,
)
from fizzplate.words import NO_BREAK, say

if TYPE_CHECKING:
    from fizzplate.questions.makers.charts.stored_runs import StoredRun
    from fizzplate.questions.question_types import Question
    from fizzplate.questions.random_source import RandomSource

#: a substance or charge, and what had become of it
BECAME = {
    CHARGE: ("charge", "had", "passed"),
    COPPER: ("copper", "had", "been deposited"),
    SILVER: ("silver", "had", "been deposited"),
    ZINC: ("zinc", "had", "been deposited"),
    HYDROGEN: ("hydrogen", "had", "formed"),
    OXYGEN: ("oxygen", "had", "formed"),
    CHLORINE: ("chlorine", "had", "formed"),
    COLLECTED: ("chlorine", "had", "been collected"),
}
#: which lines of a run stand in one chart to read from
READ = (
    ("copper", (COPPER,)),
    ("copper", (OXYGEN,)),
    ("copper", (CHARGE,)),
    ("water", (HYDROGEN, OXYGEN)),
    ("water", (CHARGE,)),
    ("brine", (HYDROGEN, COLLECTED)),
    ("silver", (SILVER,)),
    ("zinc", (ZINC,)),
    ("zinc", (HYDROGEN,)),
    ("running low", (COPPER,)),
    ("running low sooner", (HYDROGEN,)),
    ("strong", (CHARGE,)),
    ("weak", (CHARGE,)),
)


@maker("read a chart", topic="charts", level=14, version=2, since=1)
def read_off(rng: RandomSource) -> Question:
    """Ask for a value at a time, or the time of a value."""
    name, quantities = rng.one_of(READ)
    run = stored_run(name)
    quantity = rng.one_of(quantities)
    chart = chart_of(run, {line_name(each, rng.wording): each for each in quantities})
    values = run.quantity(quantity)
    # far enough from the axes to be read to a few per cent
    at = rng.one_of([k for k, value in enumerate(values) if value >= 0.35 * values[-1]])
    unit, minutes, value = unit_of(quantity), run.minutes[at], values[at]
    forwards = rng.number(3) > 0 or not float(f"{value:.3g}")
    if forwards:
        others = [each for each in quantities if each != quantity]
        part = Part(
            value,
            unit,
            (f"At {minutes:.0f}{NO_BREAK}min the line is at about {value:.2g}{NO_BREAK}{unit}.",)
            if value < 100
            else (
                f"At {minutes:.0f}{NO_BREAK}min the line is at about {value:.0f}{NO_BREAK}{unit}.",
            ),
            near_misses=tuple(
                NearMiss(
                    run.quantity(each)[at],
                    (0,),
                    f"That is read from the line of {line_name(each, rng.wording)}.",
                )
                for each in others
            ),
            tolerance=READ_TO,
            figures=2 if value < 100 else 3,
        )
        what, auxiliary, verb = BECAME[quantity]
        prompt = rng.one_of(
            (
                f"How much {what} {auxiliary} {verb} after {minutes:.0f}{NO_BREAK}minutes, in {unit}?",
                (
                    f"Read off how much {what} {auxiliary} {verb} by {minutes:.0f}{NO_BREAK}minutes, "
                    f"in {unit}."
                ),
            )
        )
    else:
        part = Part(
            minutes,
            "min",
            (f"The line reaches {value:.3g}{NO_BREAK}{unit} at about {minutes:.0f}{NO_BREAK}min.",),
            tolerance=READ_TO,
            figures=len(f"{minutes:.0f}"),
        )
        what, auxiliary, verb = BECAME[quantity]
        prompt = f"After how many minutes {auxiliary} {value:.3g}{NO_BREAK}{unit} of {what} {verb}?"
    # the classroom rule has hydrogen alone there
    both = ", in which zinc is deposited and some hydrogen forms as well" if name == "zinc" else ""
    text = f"The chart shows a modelled run{both}. {prompt}"
    return chart_number_question(text, part, chart, watch=run.cell)


@maker("ratio from a chart", topic="charts", level=14, version=1)
def ratio(rng: RandomSource) -> Question:
    """Ask for the ratio of two volumes read from a chart."""
    run = stored_run("water")
    chart = chart_of(run, {line_name(each, rng.wording): each for each in (HYDROGEN, OXYGEN)})
    at = rng.one_of([k for k, minutes in enumerate(run.minutes) if minutes >= 8])
    hydrogen, oxygen = (run.quantity(each)[at] for each in (HYDROGEN, OXYGEN))
    value = hydrogen / oxygen
    part = Part(
        value,
        "",
        (
            (
                f"At {run.minutes[at]:.0f}{NO_BREAK}min the chart shows about "
                f"{hydrogen:.1f}{NO_BREAK}cm³ of hydrogen and "
                f"{oxygen:.1f}{NO_BREAK}cm³ of oxygen."
            ),
            f"{hydrogen:.1f} ÷ {oxygen:.1f} = {value:.1f}.",
        ),
        near_misses=(
            NearMiss(
                oxygen / hydrogen, (1,), "That is oxygen divided by hydrogen: the other way round."
            ),
        ),
        tolerance=0.06,
        figures=2,
    )
    text = (
        f"Read both volumes at {run.minutes[at]:.0f}{NO_BREAK}minutes from the chart. Calculate "
        f"the volume of "
        "hydrogen divided by the volume of oxygen."
    )
    return chart_number_question(text, part, chart, watch="Na2SO4")


@maker("current from a chart", topic="charts", level=16, version=3, since=1)
def current(rng: RandomSource) -> Question:
    """Ask for the current, from the slope of a line of charge or of mass."""
    if rng.number(2) == 0:
        return _current_from_charge(rng)
    name, quantity, metal = rng.one_of((("copper", COPPER, "Cu"), ("silver", SILVER, "Ag")))
    run = stored_run(name)
    at = rng.one_of([k for k, minutes in enumerate(run.minutes) if minutes >= 10])
    mass, minutes = run.quantity(quantity)[at], run.minutes[at]
    electrons, molar = half_equation(metal).electrons, round(molar_mass_g_mol(metal), 1)
    moles = mass / 1e3 / molar
    times = f" × {electrons}" if electrons > 1 else ""
    charge = moles * electrons * FARADAY_C_MOL
    amperes = charge / (60 * minutes)
    near = [
        NearMiss(60 * amperes, (3,), "The minutes were not converted into seconds."),
        NearMiss(1e3 * amperes, (1,), "The mass was not converted from mg into g."),
    ]
    if electrons > 1:
        near.append(
            NearMiss(
                amperes / electrons,
                (2,),
                f"Each {species_name(metal)} ion takes {electrons} electrons.",
            )
        )
    part = Part(
        amperes,
        "A",
        (
            f"At {minutes:.0f}{NO_BREAK}min the line is at about {mass:.3g}{NO_BREAK}mg.",
            f"That is {mass / 1e3:.3g}{NO_BREAK}g ÷ {molar}{NO_BREAK}g/mol = {moles:.3g}{NO_BREAK}mol.",
            (
                f"It takes {moles:.3g}{NO_BREAK}mol{times} × {ROUND_FARADAY} = "
                f"{charge:.3g}{NO_BREAK}C."
            ),
            (
                f"I = Q ÷ t = {charge:.3g}{NO_BREAK}C ÷ {60 * minutes:.0f}{NO_BREAK}s = "
                f"{amperes:#.2g}{NO_BREAK}A."
            ),
        ),
        near_misses=tuple(near),
        tolerance=READ_TO,
        figures=2,
    )
    chart = chart_of(
        run, {line_name(quantity, rng.wording): quantity}, title=title_of(run, supply=False)
    )
    text = (
        f"A steady current deposits a metal, and the chart shows its mass. Use the mass at "
        f"{minutes:.0f}{NO_BREAK}minutes to calculate the current, in A."
    )
    data = (FARADAY, datum(f"M({metal})", f"{molar}{NO_BREAK}g/mol"))
    return chart_number_question(text, part, chart, data=data, watch=run.cell)


def _current_from_charge(rng: RandomSource) -> Question:
    run = stored_run(rng.one_of(("copper", "water", "brine", "silver", "strong", "zinc")))
    charge, minutes = run.quantity(CHARGE)[-1], run.minutes[-1]
    amperes = charge / (60 * minutes)
    part = Part(
        amperes,
        "A",
        (
            (
                f"Gradient: about {charge:.3g}{NO_BREAK}C in {minutes:.0f}{NO_BREAK}min, which is "
                f"{charge / minutes:.3g}{NO_BREAK}C/min."
            ),
            (
                f"Divided by 60{NO_BREAK}s in a minute: {amperes:#.2g}{NO_BREAK}C/s = "
                f"{amperes:#.2g}{NO_BREAK}A."
            ),
        ),
        near_misses=(
            NearMiss(
                charge / minutes,
                (1,),
                "That is in coulombs per minute; an ampere is a coulomb per second.",
            ),
            NearMiss(
                60 * minutes / charge,
                (1,),
                "Divide the charge by the time, not the time by the charge.",
            ),
        ),
        tolerance=READ_TO,
        figures=2,
    )
    chart = chart_of(
        run, {line_name(CHARGE, rng.wording): CHARGE}, title=title_of(run, supply=False)
    )
    text = (
        "The chart shows the charge that has passed, and its line is straight. Calculate the current from "
        "its gradient, in A."
    )
    return chart_number_question(text, part, chart, watch=run.cell)


SEEN_CM3 = 0.02  # of hydrogen: from here the line is seen to leave the axis


@maker("hydrogen begins", topic="charts", level=16, version=2, since=1)
def begins(rng: RandomSource) -> Question:
    """Ask when hydrogen begins to form as well as copper."""
    run = stored_run(rng.one_of(("running low", "running low sooner")))
    volumes = run.quantity(HYDROGEN)
    at = max(k for k, volume in enumerate(volumes) if volume < SEEN_CM3)
    minutes = run.minutes[at]
    chart = chart_of(run, {line_name(HYDROGEN, rng.wording): HYDROGEN})
    if rng.number(2):
        return _copper_left(rng, run, at)
    part = Part(
        minutes,
        "min",
        (
            f"The line is on the axis at first and leaves it after about {minutes:.0f}{NO_BREAK}min.",
        ),
        tolerance=0.2,
        figures=len(f"{minutes:.0f}"),
    )
    text = say(
        "Copper is deposited from copper(II) sulfate solution at a steady current. The chart "
        "shows the hydrogen at {the_cathode}. After about how many minutes does hydrogen "
        "begin to form?",
        rng.wording,
    )
    return chart_number_question(text, part, chart, watch=run.cell)


def _copper_left(rng: RandomSource, run: StoredRun, at: int) -> Question:
    """Ask how much of the copper is still there when hydrogen begins."""
    setup = read_cell(run.cell)[0]
    volume = setup.volume_cm3 or 0.0
    begun = setup.concentration_mol_dm3 * volume / 1e3
    minutes, mass = run.minutes[at], run.quantity(COPPER)[at]
    molar = round(molar_mass_g_mol("Cu"), 1)
    gone = mass / 1e3 / molar
    left = 100 * (1 - gone / begun)
    read = round(mass) / 1e3 / molar  # of the mass as it is read off
    part = Part(
        left,
        "%",
        (
            (
                f"At {minutes:.0f}{NO_BREAK}min the line is at about {mass:.0f}{NO_BREAK}mg, which "
                f"is {read:#.3g}{NO_BREAK}mol."
            ),
            (
                f"{setup.concentration_mol_dm3:g}{NO_BREAK}mol/dm³ × {volume / 1e3:g}{NO_BREAK}dm³ = "
                f"{begun:.2g}{NO_BREAK}mol at first."
            ),
            (
                f"({begun:.2g}{NO_BREAK}mol − {read:#.3g}{NO_BREAK}mol) ÷ {begun:.2g}{NO_BREAK}mol × "
                f"100 = {left:.0f}{NO_BREAK}%."
            ),
        ),
        near_misses=(NearMiss(100 - left, (2,), "That is the part that has gone."),),
        tolerance=0.02,
        figures=2,
    )
    text = (
        f"The chart shows the copper deposited from {volume:g}{NO_BREAK}cm³ of solution. After "
        f"{minutes:.0f}{NO_BREAK}minutes hydrogen begins to form too. What percentage of the copper "
        "ions is still in the solution then?"
    )
    chart = chart_of(run, {line_name(COPPER, rng.wording): COPPER})
    data = (datum("M(Cu)", f"{molar}{NO_BREAK}g/mol"),)
    return chart_number_question(text, part, chart, data=data, watch=run.cell)
