"""Makers of calculations about works: pure copper, aluminium, and the products of brine."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from fizzplate.chemistry import molar_mass_g_mol, pretty
from fizzplate.lesson.measure import Step, as_given, moles_step, significant, with_power_of_ten
from fizzplate.questions.calculations.parts import Link, Slip, number_question, part, parts_at
from fizzplate.questions.calculations.products import ALUMINIUM, CHLORINE, HYDROGEN
from fizzplate.questions.calculations.quantities import TAKEN_FARADAY_C_MOL, measured
from fizzplate.questions.content import datum
from fizzplate.questions.maker import maker
from fizzplate.words import NO_BREAK, say, with_unit

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.questions.question_types import Question
    from fizzplate.questions.random_source import RandomSource

#: loss and sludge of an anode in grams, as one balance shows both: far enough apart that every slip shows
LOSS_AND_SLUDGE_G = tuple(
    (loss, loss * percent / 100)
    for loss in range(60, 250, 5)
    for percent in (4, 5, 6, 8, 10, 12)
    if loss * percent % (10 if loss < 100 else 100) == 0
)
ALUMINIUM_KG = (5.4, 8.1, 13.5, 16.2, 21.6, 24.3, 27, 32.4, 40.5, 48.6, 54, 67.5, 81, 108)
CELL_VOLTS = (4.0, 4.2, 4.4, 4.5, 4.8, 5.0)  # of an aluminium cell (common practice)
REMELTING_MJ_KG = (
    2.5,
    3.0,
    3.5,
    4.0,
)  # for used metal, with the furnace's losses (common practice)
CURRENT_SHARE = 0.9  # of the charge that makes aluminium (common practice)
#: moles of each product of brine that one mole of electrons makes, counted from their half-equations
BRINE = {
    "chlorine": ("Cl2", 1 / CHLORINE.electrons),
    "hydrogen": ("H2", 1 / HYDROGEN.electrons),
    "sodium hydroxide": ("NaOH", 1.0),  # each electron leaves a hydroxide ion
}
BRINE_KG = {
    "chlorine": (14.2, 28.4, 35.5, 42.6, 56.8, 71, 85.2),
    "hydrogen": (1.2, 1.6, 2.4, 3.2, 4.8, 5.6),
    "sodium hydroxide": (12, 18, 24, 32, 36, 44, 60, 72),
}


@maker("masses of a copper works", topic="applications", level=14, version=3)
def copper_masses(rng: RandomSource) -> Question:
    """Ask what the cathode gains, and how pure the copper was, from a loss and its sludge."""
    stem, links = _purified(rng)
    prompts = (
        ("gain", say("What mass, in g, does {the_cathode} gain?", rng.wording)),
        ("percent", "What percentage of the impure copper was copper?"),
    )
    return number_question(
        stem, parts_at(links, prompts), watch="CuSO4,anode=copper,cathode=copper"
    )


def copper_purity(rng: RandomSource) -> Question:
    """Ask how pure another batch of copper was, from the loss of an anode and its sludge."""
    stem, links = _purified(rng, ANOTHER_BATCH)
    ask = "What percentage of the impure copper was copper?"
    return number_question(f"{stem} {ask}", [part(links)])


#: what becomes of an anode of impure copper
BATCHES = (
    (
        "Besides copper, {an_anode} of impure copper holds only metals that do not dissolve. It loses "
        "{lost}, and {fallen} of sludge falls to the bottom."
    ),
    (
        "Copper is purified, and its impurities do not dissolve: {the_anode} becomes {lost} lighter, and the "
        "dry sludge has a mass of {fallen}."
    ),
)
ANOTHER_BATCH = (
    (
        "In another batch of copper no impurity dissolves: {the_anode} becomes {lost} lighter, and the dry "
        "sludge has a mass of {fallen}."
    ),
)


def _purified(rng: RandomSource, batches: Sequence[str] = BATCHES) -> tuple[str, list[Link]]:
    """Draw the loss of an anode and its sludge, with the way to the copper's percentage."""
    loss, sludge = rng.one_of(LOSS_AND_SLUDGE_G)
    gain = loss - sludge
    lost, fallen, gained = (with_unit(significant(each, 3), "g") for each in (loss, sludge, gain))
    situation = rng.one_of(batches)
    stem = say(
        f"{situation} All the copper that dissolves is deposited.",
        rng.wording,
        lost=lost,
        fallen=fallen,
    )
    apart = "The sludge is part of the loss: take it away from it."
    upside_down = "Divide the copper by the whole loss, not the loss by it."
    links = [
        Link(
            "gain",
            Step(f"Copper that dissolves: {lost} − {fallen}", gain, "g", figures=3),
            (Slip((loss + sludge) / gain, apart),),
        ),
        Link(
            "percent",
            Step(f"Percentage of copper: {gained} ÷ {lost} × 100", 100 * gain / loss, "%"),
            (
                Slip((loss / gain) ** 2, upside_down),
                Slip(sludge / gain, "That is the percentage of sludge."),
            ),
        ),
    ]
    return stem, links


@maker("carbon burnt for aluminium", topic="applications", level=16, version=3)
def carbon_burnt(rng: RandomSource) -> Question:
    """Ask how much carbon burns while aluminium forms, by the electrons of both."""
    kg = rng.one_of(ALUMINIUM_KG)
    moles = 1000 * kg / ALUMINIUM.molar_g_mol
    carbon = moles * 3 / 4
    amount = with_unit(measured(kg), "kg")
    equation = f"2{pretty('Al2O3')} + 3C → 4Al + 3{pretty('CO2')}"
    stem = rng.one_of(
        (
            (
                "A cell makes {amount} of aluminium. All of the oxygen burns the {anodes} to carbon "
                "dioxide: {equation}. What mass of carbon, in kg, burns?"
            ),
            (
                "The carbon {anodes} of an aluminium cell burn away: {equation}. What mass of "
                "carbon, in kg, is lost while {amount} of aluminium forms?"
            ),
        )
    )
    stem = say(stem, rng.wording, amount=amount, equation=equation)
    grams = as_given(1000 * kg)
    slip = Slip(1e-3, f"The mass was not converted from kg into g: {amount} is {grams}{NO_BREAK}g.")
    links = [
        Link(
            "moles", moles_step("aluminium", grams, f"{ALUMINIUM.molar_g_mol:.1f}", moles), (slip,)
        ),
        Link(
            "carbon",
            Step(
                f"Moles of carbon, 3 for 4 of aluminium: {significant(moles, 4)}{NO_BREAK}mol × 3 ÷ 4",
                carbon,
                "mol",
            ),
            (
                Slip(16 / 9, "There are 3 moles of carbon for 4 of aluminium, not 4 for 3."),
                Slip(4 / 3, "The moles of carbon are not those of aluminium: 3 for 4."),
            ),
        ),
        Link(
            "end",
            Step(
                f"Mass: {significant(carbon, 4)}{NO_BREAK}mol × 12.0{NO_BREAK}g/mol ÷ 1000",
                carbon * 12.0 / 1000,
                "kg",
            ),
        ),
    ]
    data = (ALUMINIUM.molar, datum("M(C)", f"12.0{NO_BREAK}g/mol"))
    return number_question(say(stem, rng.wording), [part(links)], data=data)


@maker("energy for aluminium", topic="applications", level=16, version=3)
def aluminium_energy(rng: RandomSource) -> Question:
    """Ask what energy a cell takes, and what recycling saves of it."""
    kg, volts = rng.one_of(ALUMINIUM_KG), rng.one_of(CELL_VOLTS)
    per_gram = ALUMINIUM.electrons * TAKEN_FARADAY_C_MOL / ALUMINIUM.molar_g_mol
    charge = float(f"{1000 * kg * per_gram / CURRENT_SHARE:.2e}")
    megajoules = charge * volts / 1e6
    recycled = float(f"{kg * rng.one_of(REMELTING_MJ_KG):.2e}")
    saved = megajoules - recycled
    amount = with_unit(measured(kg), "kg")
    passed = with_unit(with_power_of_ten(charge), "C")
    melted = with_unit(significant(recycled, 3), "MJ")
    shown = with_unit(significant(megajoules, 4), "MJ")
    stem = (
        f"A cell makes {amount} of aluminium with a charge of {passed} at {volts:.2f}{NO_BREAK}V. "
        f"Melting as much used aluminium takes {melted}, since no ions have to be discharged."
    )
    links = [
        Link(
            "joules",
            Step(
                f"Energy: charge × voltage = {passed} × {volts:.2f}{NO_BREAK}V",
                charge * volts,
                "J",
            ),
            (Slip(volts**-2, "Energy is charge times voltage, not charge divided by it."),),
        ),
        Link(
            "energy",
            Step(
                f"Energy in MJ: {significant(charge * volts, 4)}{NO_BREAK}J ÷ 10⁶",
                megajoules,
                "MJ",
            ),
            (Slip(1e3, f"A megajoule is a million joules: 1{NO_BREAK}MJ = 10⁶{NO_BREAK}J."),),
        ),
        Link("saved", Step(f"Energy saved: {shown} − {melted}", saved, "MJ")),
        Link(
            "percent",
            Step(
                f"Percentage: {significant(saved, 4)}{NO_BREAK}MJ ÷ {shown} × 100",
                100 * saved / megajoules,
                "%",
            ),
            (Slip(recycled / saved, "That is the percentage still needed, not the one saved."),),
        ),
    ]
    first = part(links[:2], prompt="What energy, in MJ, does the cell take?")
    second = replace(
        part(links[2:], prompt="What percentage of this energy does recycling save?"),
        formula=f"a {recycled:.10g} - a ÷ 100 ×",
    )
    return number_question(stem, [first, second])


@maker("amounts from brine", topic="applications", level=16, version=3)
def brine_amounts(rng: RandomSource) -> Question:
    """Ask for the mass of one product of brine from that of another."""
    given, wanted = rng.sample(BRINE, 2)
    (formula, share), (other, other_share) = BRINE[given], BRINE[wanted]
    molar, other_molar = (round(molar_mass_g_mol(each), 1) for each in (formula, other))
    kg = rng.one_of(BRINE_KG[given])
    moles = 1000 * kg / molar
    ratio = other_share / share
    made = moles * ratio
    amount = with_unit(measured(kg), "kg")
    ask = rng.one_of(
        (
            f"It makes {amount} of {given}. What mass of {wanted}, in kg, does it make in the same time?",
            f"How many kilograms of {wanted} form while it makes {amount} of {given}?",
        )
    )
    equation = f"2NaCl + 2{pretty('H2O')} → {pretty('Cl2')} + {pretty('H2')} + 2NaOH"
    per = {1.0: "as many", 2.0: "twice as many", 0.5: "half as many"}[ratio]
    grams = as_given(1000 * kg)
    slips = [
        Slip(factor / ratio, f"By the equation there are {per} moles of {wanted} as of {given}.")
        for factor in (1.0, 2.0, 0.5)
        if factor != ratio
    ]
    sign = {1.0: "× 1", 2.0: "× 2", 0.5: "÷ 2"}[ratio]
    links = [
        Link(
            "moles",
            moles_step(given, grams, f"{molar:.1f}", moles),
            (
                Slip(
                    1e-3,
                    f"The mass was not converted from kg into g: {amount} is {grams}{NO_BREAK}g.",
                ),
            ),
        ),
        Link(
            "ratio",
            Step(
                f"Moles of {wanted}, {per}: {significant(moles, 4)}{NO_BREAK}mol {sign}",
                made,
                "mol",
            ),
            tuple(slips),
        ),
        Link(
            "end",
            Step(
                f"Mass: {significant(made, 4)}{NO_BREAK}mol × {other_molar:.1f}{NO_BREAK}g/mol ÷ 1000",
                made * other_molar / 1000,
                "kg",
            ),
        ),
    ]
    if ratio == 1.0:
        links[1] = Link(
            "ratio", Step(f"Moles of {wanted} (as many as of {given})", made, "mol"), tuple(slips)
        )
    data = tuple(
        datum(f"M({pretty(each)})", f"{size:.1f}{NO_BREAK}g/mol")
        for each, size in ((formula, molar), (other, other_molar))
    )
    stem = f"A factory electrolyses brine: {equation}. {ask}"
    return number_question(stem, [part(links)], data=data, watch="NaCl")
