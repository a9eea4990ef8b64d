"""Makers of calculations: the quantities and the words are drawn with dice."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.chemistry import solutions
from fizzplate.questions.calculations import gases, ions
from fizzplate.questions.calculations import single_answer as build
from fizzplate.questions.calculations.contexts import scenes
from fizzplate.questions.calculations.derivations import ROOM, Wanted
from fizzplate.questions.calculations.draws import (
    drawn_flow,
    drawn_passed,
    found,
    phrase,
    rounded,
    settled,
    without_side_reactions,
)
from fizzplate.questions.calculations.electrode_pairs import cells_in_series, melts, pairs
from fizzplate.questions.calculations.products import (
    BATH_A,
    BATH_TIMES,
    CALCIUM,
    CHROMIUM,
    CLASS_A,
    COPPER,
    LEAD,
    MAGNESIUM,
    NICKEL,
    POTASSIUM,
    SILVER,
    SODIUM,
    ZINC,
)
from fizzplate.questions.calculations.quantities import Coulombs, Flow, Lasting
from fizzplate.questions.calculations.sizes import (
    AMOUNTS_MOL,
    CLASS_MOL,
    GAS_YIELDS,
    MEASURED,
    MEASURED_IN,
    MEASURED_WELL,
    METAL_YIELDS,
    ROOM_C,
    ROOM_KPA,
    TWO_STEP_SIZES,
    VOLUMES_CM3,
)
from fizzplate.questions.calculations.targets import targets
from fizzplate.questions.maker import maker
from fizzplate.questions.tables import offered
from fizzplate.words import say

if TYPE_CHECKING:
    from fizzplate.questions.dice import Dice
    from fizzplate.questions.question_types import Question

#: unknown metals, most of them with a charge of 3
UNKNOWN = {
    "molten": (SODIUM, POTASSIUM, MAGNESIUM, CALCIUM, LEAD),
    "dissolved": (SILVER, COPPER, NICKEL, ZINC, LEAD, CHROMIUM, CHROMIUM, CHROMIUM),
}


@maker("charge", topic="quantities", level=14, version=1)
def charge(dice: Dice) -> Question:
    """Ask for a charge, or for the time or the current that brings it."""

    def draw(dice: Dice) -> Question:
        scene = dice.one_of(scenes("charge", dice.edition))
        flow, form = drawn_flow(dice, scene), dice.number(4)
        coulombs = flow.charge_C
        if form == 0:
            asks = phrase(dice, "time for a charge")
            return build.time_for_charge(
                coulombs,
                flow.current_A,
                says=scene.says,
                asks=asks,
                watch=scene.watch,
                wording=dice.wording,
            )
        if form == 1 and flow.unit != "s":
            asks = phrase(dice, "current for a charge")
            return build.current_for_charge(
                coulombs,
                flow.lasting,
                says=scene.says,
                asks=asks,
                watch=scene.watch,
                wording=dice.wording,
            )
        asks = phrase(dice, "charge")
        return build.charge(
            flow, says=scene.says, asks=asks, watch=scene.watch, wording=dice.wording
        )

    return settled(dice, draw)


def _made(dice: Dice, kind: str, asks: str) -> Question:
    def draw(dice: Dice) -> Question:
        scene = dice.one_of(scenes(kind, dice.edition))
        passed, made = drawn_passed(dice, scene), dice.one_of(scene.made)
        return build.made_by_charge(
            passed,
            made,
            scene.unit,
            says=without_side_reactions(dice, scene.says, beside=scene.beside),
            asks=phrase(dice, scene.question or asks),
            watch=scene.watch,
            wording=dice.wording,
        )

    return settled(dice, draw)


@maker("mass", topic="quantities", level=16, version=1)
def mass(dice: Dice) -> Question:
    """Ask for the mass of a metal."""
    return _made(dice, "deposit", "mass")


@maker("gas volume", topic="quantities", level=16, version=1)
def volume(dice: Dice) -> Question:
    """Ask for the volume of a gas."""
    return _made(dice, "gas", "volume")


@maker("time", topic="quantities", level=16, version=1)
def time_needed(dice: Dice) -> Question:
    """Ask how long a current needs."""

    def draw(dice: Dice) -> Question:
        target = dice.one_of(targets(dice.edition))
        wanted = Wanted(dice.one_of(target.made), dice.one_of(target.amounts), target.unit)
        current_A, asks = dice.one_of(target.currents_A), phrase(dice, "time")
        says = without_side_reactions(dice, target.says, beside=target.beside)
        return build.time_needed(
            wanted, current_A, says=says, asks=asks, watch=target.watch, wording=dice.wording
        )

    return settled(dice, draw)


@maker("current", topic="quantities", level=16, version=1)
def current_needed(dice: Dice) -> Question:
    """Ask what current a time needs."""

    def draw(dice: Dice) -> Question:
        target = dice.one_of(targets(dice.edition))
        wanted = Wanted(dice.one_of(target.made), dice.one_of(target.amounts), target.unit)
        lasting, asks = Lasting(*dice.one_of(target.times)), phrase(dice, "current")
        says = without_side_reactions(dice, target.says, beside=target.beside)
        return build.current_needed(
            wanted, lasting, says=says, asks=asks, watch=target.watch, wording=dice.wording
        )

    return settled(dice, draw)


@maker("ratio", topic="quantities", level=14, version=1)
def ratio(dice: Dice) -> Question:
    """Ask for the gas at the other electrode, or for its part of both gases."""
    water = pairs("water", dice.edition)
    pair = dice.one_of((*water, *water, *pairs("chloride", dice.edition)))
    given, asked = dice.shuffled((pair.cathode, pair.anode))
    size = dice.one_of(VOLUMES_CM3)
    if pair in water and dice.number(4) == 0:
        total, asks = 1.5 * size, phrase(dice, "share of both gases")
        return gases.share_of_both(
            asked, given, total, says=pair.says, asks=asks, watch=pair.watch, wording=dice.wording
        )
    asks = phrase(dice, "ratio")
    return gases.ratio(
        given, size, asked, says=pair.says, asks=asks, watch=pair.watch, wording=dice.wording
    )


@maker("yield", topic="quantities", level=16, version=1)
def percentage_yield(dice: Dice) -> Question:
    """Ask for a percentage yield."""

    def draw(dice: Dice) -> Question:
        gas = dice.number(3) == 0
        of_kind = scenes("gas" if gas else "deposit", dice.edition)
        scene = dice.one_of([scene for scene in of_kind if not scene.question])
        passed, made = drawn_passed(dice, scene, short=True), dice.one_of(scene.made)
        moles = passed.charge_C * made.per_charge_mol
        if gas:
            unit, full = scene.unit, moles * ROOM[scene.unit]
        else:
            grams = moles * made.molar_g_mol
            unit, full = ("mg", 1000 * grams) if grams < 1 else ("g", grams)
        measured = Wanted(
            made, found(dice, full, GAS_YIELDS if gas else METAL_YIELDS), unit, figures=3
        )
        asks = phrase(dice, "yield of a gas" if gas else "yield of a metal")
        return build.percentage_yield(
            passed, measured, says=scene.says, asks=asks, watch=scene.watch, wording=dice.wording
        )

    return settled(dice, draw)


@maker("two steps", topic="quantities", level=16, version=1)
def two_steps(dice: Dice) -> Question:
    """Ask for what forms at the other electrode, or in another cell with the same current."""

    def draw(dice: Dice) -> Question:
        if dice.number(2):
            return _in_series(dice)
        pair = dice.one_of(pairs("metal", dice.edition))
        backwards = dice.number(2) == 0
        given, asked = (pair.cathode, pair.anode) if backwards else (pair.anode, pair.cathode)
        known, unit = ("mg", "cm³") if backwards else ("cm³", "g")
        says = f"{pair.says} {{amount}} of {{name}} forms at {{the_{given.electrode}}}."
        kind = "volume" if backwards else "mass"
        asks = f"What {kind} of {{asked}}, in {{unit}}, forms at {{the_{asked.electrode}}}?"
        wanted = Wanted(given, dice.one_of(TWO_STEP_SIZES[known]), known)
        return build.two_steps(
            wanted, asked, unit, says=says, asks=asks, watch=pair.watch, wording=dice.wording
        )

    return settled(dice, draw)


def _in_series(dice: Dice) -> Question:
    (liquid, given), (other, asked) = dice.some(cells_in_series(dice.edition), 2)
    known, unit = ("cm³", "g") if given.is_gas else ("mg", "cm³") if asked.is_gas else ("mg", "g")
    begins = say(phrase(dice, "cells in series"), dice.wording, first=liquid, second=other)
    if {given, asked} & {NICKEL, ZINC, CHROMIUM}:
        begins += " Suppose that no hydrogen forms in the plating bath."
    says = f"{begins} {{amount}} of {{name}} forms at the first {{cathode}}."
    asks = phrase(dice, "product in the second cell")
    wanted = Wanted(given, dice.one_of(TWO_STEP_SIZES[known]), known)
    return build.two_steps(wanted, asked, unit, says=says, asks=asks, wording=dice.wording)


@maker("Faraday constant", topic="quantities", level=16, version=1)
def faraday_found(dice: Dice) -> Question:
    """Ask for the Faraday constant from a class's numbers."""

    def draw(dice: Dice) -> Question:
        deposits = scenes("deposit", dice.edition)
        scene = dice.one_of([scene for scene in deposits if scene.watch in MEASURED_IN])
        made, liquid = scene.made[0], f"{solutions()[scene.watch].name} solution"
        passed = drawn_passed(dice, scene, short=True)
        grams = passed.charge_C * made.per_charge_mol * made.molar_g_mol
        measured = Wanted(made, found(dice, grams, MEASURED), "g", figures=3)
        says = phrase(dice, "measurement for the Faraday constant")
        asks = phrase(dice, "Faraday constant")
        return ions.faraday_found(
            passed,
            measured,
            says=says,
            asks=asks,
            liquid=liquid,
            watch=scene.watch,
            wording=dice.wording,
        )

    return settled(dice, draw)


@maker("gas at room temperature", topic="quantities", level=16, version=1)
def gas_at_room(dice: Dice) -> Question:
    """Ask for a gas volume by the ideal gas at a room's temperature and pressure."""

    def draw(dice: Dice) -> Question:
        scene = dice.one_of([s for s in scenes("gas", dice.edition) if s.unit == "cm³"])
        return gases.gas_at_room(
            Coulombs(rounded(drawn_flow(dice, scene).charge_C, 2)),
            dice.one_of(scene.made),
            dice.one_of(ROOM_C),
            dice.one_of(ROOM_KPA),
            says=scene.says,
            asks=phrase(dice, "gas at room temperature"),
            watch=scene.watch,
            wording=dice.wording,
        )

    return settled(dice, draw)


@maker("mole ratio", topic="quantities", level=16, version=1)
def mole_ratio(dice: Dice) -> Question:
    """Ask for moles at one electrode from those at the other."""

    def draw(dice: Dice) -> Question:
        if dice.number(2):
            melt = dice.one_of(melts(dice.edition))
            begins, cathode, anode, watch = melt.begins, melt.metal, melt.other, ""
            amounts = AMOUNTS_MOL
        else:
            kinds = ("metal", "water", "chloride")
            pair = dice.one_of([pair for kind in kinds for pair in pairs(kind, dice.edition)])
            begins, cathode, anode, watch = pair.says, pair.cathode, pair.anode, pair.watch
            amounts = CLASS_MOL
        if cathode.electrons == anode.electrons:
            return draw(dice)  # equal amounts leave nothing to work out
        given, asked = dice.shuffled((cathode, anode))
        says = f"{begins} {{moles}} of {{given}} forms at {{the_{given.electrode}}}."
        moles, asks = dice.one_of(amounts), phrase(dice, "moles at the other electrode")
        return ions.mole_ratio(
            given, moles, asked, says=says, asks=asks, watch=watch, wording=dice.wording
        )

    return settled(dice, draw)


@maker("charge number", topic="quantities", level=16, version=1)
def charge_number(dice: Dice) -> Question:
    """Ask how many charges the ions of an unknown metal carry."""

    def draw(dice: Dice) -> Question:
        metal = dice.one_of(offered("calculation_unknown_metals", dice.edition))
        made = dice.one_of(metal.one_of("state", UNKNOWN))
        flow = Flow(dice.one_of((*CLASS_A, *BATH_A)), *dice.one_of(BATH_TIMES))
        grams = flow.charge_C * made.per_charge_mol * made.molar_g_mol
        measured = Wanted(made, found(dice, grams, MEASURED_WELL), "g", figures=3)
        return ions.charge_number(
            flow,
            measured,
            says=metal.text("text"),
            asks=phrase(dice, "charge number"),
            wording=dice.wording,
        )

    return settled(dice, draw)
