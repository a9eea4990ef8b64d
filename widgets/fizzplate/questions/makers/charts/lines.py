"""Makers of questions about a chart of a run: which line is which, and what the chart shows."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.chemistry import molar_mass_g_mol, species_name
from fizzplate.lesson.state import read_cell
from fizzplate.questions.content import Chart, ChartLine
from fizzplate.questions.maker import maker
from fizzplate.questions.makers.charts.parts import (
    TIME,
    Y_LABELS,
    chart_choice_question,
    chart_of,
    line_name,
)
from fizzplate.questions.makers.charts.stored_runs import (
    CHARGE,
    COLLECTED,
    COPPER,
    GAINED,
    HYDROGEN,
    LOST,
    OXYGEN,
    SILVER,
    stored_run,
)
from fizzplate.questions.misconceptions import Idea, correction
from fizzplate.words import NO_BREAK, begin, board_slots, say

if TYPE_CHECKING:
    from fizzplate.questions.makers.parts import Wrong
    from fizzplate.questions.question_types import Question
    from fizzplate.questions.random_source import RandomSource


@maker("which line", topic="charts", level=14, version=1)
def which_line(rng: RandomSource) -> Question:
    """Ask which of two lines is which, and by what it is known."""
    return rng.one_of((_which_gas, _which_gas, _which_rod, _which_strength))(rng)


def _letters(rng: RandomSource) -> tuple[str, str]:
    first, second = rng.shuffled("AB")
    return first, second


def _in_order(named: dict[str, str]) -> dict[str, str]:
    return dict(sorted(named.items()))


def _which_gas(rng: RandomSource) -> Question:
    run = stored_run("water")
    hydrogen, oxygen = _letters(rng)
    chart = chart_of(run, _in_order({hydrogen: HYDROGEN, oxygen: OXYGEN}))
    gas = rng.one_of(("hydrogen", "oxygen"))
    own, other = (hydrogen, oxygen) if gas == "hydrogen" else (oxygen, hydrogen)
    twice = "two volumes of hydrogen form for every volume of oxygen"
    right = f"line {own}, because {twice}"
    wrong: list[Wrong] = [
        (
            f"line {other}, because two volumes of oxygen form for every volume of hydrogen",
            correction(Idea.TWICE_AS_MUCH_OXYGEN, rng.wording),
            Idea.TWICE_AS_MUCH_OXYGEN,
        ),
        (
            f"line {other}, because hydrogen is the lighter gas and takes up less room"
            if gas == "hydrogen"
            else f"line {other}, because oxygen is the heavier gas and takes up more room",
            "A mole of either gas takes up the same room; what counts is how many moles form.",
            0,
        ),
        (
            "either line: how much forms at one electrode does not depend on the other",
            correction(Idea.ELECTRODES_PASS_DIFFERENT_CHARGES, rng.wording),
            Idea.ELECTRODES_PASS_DIFFERENT_CHARGES,
        ),
    ]
    text = (
        "The chart shows the two gases from sodium sulfate solution with carbon electrodes. Which line is "
        f"{gas}?"
    )
    reason = f"{begin(twice)}: 4 electrons make two molecules of hydrogen, or one of oxygen."
    return chart_choice_question(text, rng, right, wrong, reason, chart, watch="Na2SO4")


def _which_rod(rng: RandomSource) -> Question:
    run = stored_run("copper rods")
    cathode, anode = _letters(rng)
    chart = chart_of(run, _in_order({cathode: GAINED, anode: LOST}), y_label="Change in mass, mg")
    right = f"line {cathode}, because copper is deposited there"
    wrong: list[Wrong] = [
        (
            say(
                "line {anode}, because {the_cathode} gives electrons to the ions and so dissolves",
                rng.wording,
                anode=anode,
            ),
            say(
                "The metal dissolves where it loses electrons for good, and that is {the_anode}.",
                rng.wording,
            ),
            Idea.OXIDATION_IS_GAIN,
        ),
        (
            say("line {anode}, because copper ions drift to {the_anode}", rng.wording, anode=anode),
            correction(Idea.CATIONS_DRIFT_TO_ANODE, rng.wording),
            Idea.CATIONS_DRIFT_TO_ANODE,
        ),
        (
            "neither: copper rods stay as they are, so one line is wrong",
            correction(Idea.COPPER_ANODE_GIVES_OXYGEN, rng.wording),
            Idea.COPPER_ANODE_GIVES_OXYGEN,
        ),
    ]
    text = say(
        "The chart shows how the masses of two copper rods change in copper(II) sulfate "
        "solution. Which line belongs to {the_cathode}?",
        rng.wording,
    )
    reason = say(
        "Copper ions gain electrons at {the_cathode} and are deposited, so it becomes heavier.",
        rng.wording,
    )
    watch = "CuSO4,anode=copper,cathode=copper"
    return chart_choice_question(text, rng, right, wrong, reason, chart, watch=watch)


def _which_strength(rng: RandomSource) -> Question:
    strong, weak = _letters(rng)
    runs = {strong: stored_run("strong"), weak: stored_run("weak")}
    chart = Chart(
        f"Sodium sulfate solution, 0.5 and 0.1{NO_BREAK}mol/dm³, carbon electrodes, 6{NO_BREAK}V",
        TIME,
        Y_LABELS["C"],
        tuple(
            ChartLine(name, run.minutes, run.quantity(CHARGE)) for name, run in sorted(runs.items())
        ),
    )
    right = f"line {strong}, because more ions carry more current at the same voltage"
    wrong: list[Wrong] = [
        (
            f"line {weak}, because ions are slowed down less where there are few",
            "Each is a little faster there, but there are only a fifth as many.",
            0,
        ),
        (
            "you cannot tell, because the same voltage gives the same current",
            "The current depends on the solution as well: more ions, less resistance.",
            Idea.VOLTAGE_DOUBLES_MASS,
        ),
        (
            f"line {weak}, because more water is there to carry the current",
            "Water molecules carry no current; the ions do.",
            0,
        ),
    ]
    text = (
        f"Sodium sulfate solutions of 0.5 and 0.1{NO_BREAK}mol/dm³ are electrolysed at 6{NO_BREAK}V. "
        "The chart shows the charge that passes. Which line belongs to the more concentrated one?"
    )
    reason = "The steeper line is the larger current, and more ions carry a larger current."
    return chart_choice_question(
        text, rng, right, wrong, reason, chart, watch="Na2SO4,c=0.1,lamp=none"
    )


@maker("explain a chart", topic="charts", level=16, version=2, since=1)
def explain(rng: RandomSource) -> Question:
    """Ask what a chart shows, and why."""
    return rng.one_of((_explain_low, _explain_brine, _explain_rods, _explain_straight))(rng)


def _explain_low(rng: RandomSource) -> Question:
    run = stored_run(rng.one_of(("running low", "running low sooner")))
    setup = read_cell(run.cell)[0]
    volume = setup.volume_cm3 or 0.0
    start_mg = setup.concentration_mol_dm3 * volume * molar_mass_g_mol("Cu")
    left = 1 - run.quantity(COPPER)[-1] / start_mg
    right = say(
        "copper ions no longer reach {the_cathode} as fast as the current takes them", rng.wording
    )
    wrong: list[Wrong] = [
        (
            "all the copper ions have been used up by then",
            f"Even at the end {100 * left:.0f}{NO_BREAK}% of them are left: so little charge has passed.",
            0,
        ),
        (
            "copper ions are harder to discharge than hydrogen ions",
            (
                f"{correction(Idea.COPPER_HARDER_THAN_HYDROGEN, rng.wording)} "
                "That is why there is no hydrogen at first."
            ),
            Idea.COPPER_HARDER_THAN_HYDROGEN,
        ),
        (
            "the current makes hydrogen ions only after a while",
            "They are there all the time, from the water.",
            Idea.CURRENT_MAKES_IONS,
        ),
        (
            say("{the_anode} has stopped, so {the_cathode} must make something else", rng.wording),
            (
                "The current is steady, at either electrode. "
                f"{correction(Idea.ELECTRODES_PASS_DIFFERENT_CHARGES, rng.wording)}"
            ),
            Idea.ELECTRODES_PASS_DIFFERENT_CHARGES,
        ),
    ]
    text = say(
        "Copper is deposited from {volume} of copper(II) sulfate solution at a steady "
        "current. The chart shows the hydrogen at {the_cathode}. Why does it begin to form?",
        rng.wording,
        volume=f"{volume:.0f}{NO_BREAK}cm³",
    )
    reason = "Fewer copper ions arrive as the solution gets dilute; the rest of the current makes hydrogen."
    chart = chart_of(run, {line_name(HYDROGEN, rng.wording): HYDROGEN})
    return chart_choice_question(text, rng, right, wrong, reason, chart, watch=run.cell)


def _explain_brine(rng: RandomSource) -> Question:
    run = stored_run("brine")
    chart = chart_of(run, {line_name(each, rng.wording): each for each in (HYDROGEN, COLLECTED)})
    right = "some of the chlorine dissolves, or reacts with the alkali"
    wrong: list[Wrong] = [
        (
            say("fewer electrons pass at {the_anode} than at {the_cathode}", rng.wording),
            correction(Idea.ELECTRODES_PASS_DIFFERENT_CHARGES, rng.wording),
            Idea.ELECTRODES_PASS_DIFFERENT_CHARGES,
        ),
        (
            "a molecule of chlorine needs more electrons than one of hydrogen",
            "Both need two electrons, so equal volumes are made.",
            0,
        ),
        (
            say("the carbon of {the_anode} uses chlorine up to make the products", rng.wording),
            correction(Idea.CARBON_REACTS, rng.wording),
            Idea.CARBON_REACTS,
        ),
        (
            say("the lamp has used up part of the current before {the_anode}", rng.wording),
            correction(Idea.LAMP_USES_UP_CURRENT, rng.wording),
            Idea.LAMP_USES_UP_CURRENT,
        ),
    ]
    text = (
        "The chart shows the gases from sodium chloride solution. By the half-equations, equal volumes form. "
        "Why is the line for chlorine lower?"
    )
    reason = (
        "Chlorine dissolves well in water and makes bleach with hydroxide; hydrogen does neither."
    )
    return chart_choice_question(text, rng, right, wrong, reason, chart, watch="NaCl")


def _explain_rods(rng: RandomSource) -> Question:
    run, names = stored_run("copper rods"), board_slots(rng.wording)
    chart = chart_of(
        run, {names["cathode"]: GAINED, names["anode"]: LOST}, y_label="Change in mass, mg"
    )
    right = say(
        "it stays the same: as much copper goes in at {the_anode} as comes out at {the_cathode}",
        rng.wording,
    )
    wrong: list[Wrong] = [
        (
            say("it falls, because copper comes out at {the_cathode}", rng.wording),
            correction(Idea.BLUE_FADES_WITH_COPPER, rng.wording),
            Idea.BLUE_FADES_WITH_COPPER,
        ),
        (
            "it rises, because the current makes copper ions from the water",
            say(
                "No current makes copper ions from water: they come from {the_anode}.", rng.wording
            ),
            Idea.CURRENT_MAKES_IONS,
        ),
        (
            say(
                "you cannot tell, because {the_anode} and {the_cathode} do not depend on each "
                "other",
                rng.wording,
            ),
            correction(Idea.ELECTRODES_PASS_DIFFERENT_CHARGES, rng.wording),
            Idea.ELECTRODES_PASS_DIFFERENT_CHARGES,
        ),
    ]
    text = (
        "Two copper rods are in copper(II) sulfate solution. What does the chart show about the number of "
        "copper ions in the solution?"
    )
    reason = "The two lines mirror each other: loss and gain are equal at every time."
    watch = "CuSO4,anode=copper,cathode=copper"
    return chart_choice_question(text, rng, right, wrong, reason, chart, watch=watch)


def _explain_straight(rng: RandomSource) -> Question:
    name, quantity, metal = rng.one_of((("copper", COPPER, "Cu"), ("silver", SILVER, "Ag")))
    run = stored_run(name)
    chart = chart_of(run, {line_name(quantity, rng.wording): quantity})
    each = species_name(metal)
    right = "the current is steady, and the mass is proportional to the charge"
    wrong: list[Wrong] = [
        (
            "the voltage is steady, and the mass is proportional to the voltage",
            correction(Idea.VOLTAGE_DOUBLES_MASS, rng.wording),
            Idea.VOLTAGE_DOUBLES_MASS,
        ),
        (
            f"the {each} ions become fewer, which keeps the rate steady",
            "Fewer ions would make the line bend down instead; here there are still plenty.",
            0,
        ),
        (
            say(
                "{the_anode} gives as many ions as it likes, whatever {the_cathode} takes",
                rng.wording,
            ),
            correction(Idea.ELECTRODES_PASS_DIFFERENT_CHARGES, rng.wording),
            Idea.ELECTRODES_PASS_DIFFERENT_CHARGES,
        ),
    ]
    text = f"The chart shows the mass of {each} deposited. Why is its line straight?"
    reason = "In equal times equal charges pass, and each ion takes the same number of electrons."
    return chart_choice_question(text, rng, right, wrong, reason, chart, watch=run.cell)
