"""Makers of calculations: the quantities and the words are drawn at random."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.chemistry import solutions
from fizzplate.questions.calculations import gases, ions
from fizzplate.questions.calculations import single_answer as build
from fizzplate.questions.calculations.contexts import scenes
from fizzplate.questions.calculations.derivations import ROOM, ProductAmount
from fizzplate.questions.calculations.draws import (
    draw_charge,
    draw_flow,
    draw_measurement,
    draw_until_suitable,
    phrase,
    rounded,
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
from fizzplate.questions.calculations.quantities import Coulombs, Duration, Flow
from fizzplate.questions.calculations.sizes import (
    AMOUNTS_MOL,
    CHLORINE_YIELDS,
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
    WORKS_YIELDS,
)
from fizzplate.questions.calculations.targets import losses, targets
from fizzplate.questions.maker import maker
from fizzplate.questions.tables import edition_rows
from fizzplate.words import say

if TYPE_CHECKING:
    from fizzplate.questions.calculations.contexts import Scene
    from fizzplate.questions.calculations.quantities import Product
    from fizzplate.questions.question_types import Question
    from fizzplate.questions.random_source import RandomSource

#: unknown metals, most of them with a charge of 3
UNKNOWN = {
    "molten": (SODIUM, POTASSIUM, MAGNESIUM, CALCIUM, LEAD),
    "dissolved": (SILVER, COPPER, NICKEL, ZINC, LEAD, CHROMIUM, CHROMIUM, CHROMIUM),
}


@maker("charge", topic="quantities", level=14, version=3, since=1)
def charge(rng: RandomSource) -> Question:
    """Ask for a charge, or for the time or the current that brings it."""

    def draw(rng: RandomSource) -> Question:
        scene = rng.one_of(scenes("charge", rng.edition))
        flow, form = draw_flow(rng, scene), rng.number(4)
        coulombs = flow.charge_C
        if form == 0:
            prompt = phrase(rng, "time for a charge")
            return build.time_for_charge(
                coulombs,
                flow.current_A,
                situation=scene.situation,
                prompt=prompt,
                watch=scene.watch,
                wording=rng.wording,
            )
        if form == 1 and flow.unit != "s":
            prompt = phrase(rng, "current for a charge")
            return build.current_for_charge(
                coulombs,
                flow.duration,
                situation=scene.situation,
                prompt=prompt,
                watch=scene.watch,
                wording=rng.wording,
            )
        prompt = phrase(rng, "charge")
        return build.charge(
            flow, situation=scene.situation, prompt=prompt, watch=scene.watch, wording=rng.wording
        )

    return draw_until_suitable(rng, draw)


def _make_question(rng: RandomSource, kind: str, prompt: str) -> Question:
    def draw(rng: RandomSource) -> Question:
        scene = rng.one_of(scenes(kind, rng.edition))
        charge_source, product = draw_charge(rng, scene), rng.one_of(scene.product)
        return build.made_by_charge(
            charge_source,
            product,
            scene.unit,
            situation=without_side_reactions(rng, scene.situation, beside=scene.beside),
            prompt=phrase(rng, scene.question or prompt),
            watch=scene.watch,
            wording=rng.wording,
        )

    return draw_until_suitable(rng, draw)


@maker("mass", topic="quantities", level=16, version=3, since=1)
def mass(rng: RandomSource) -> Question:
    """Ask for the mass of a metal."""
    return _make_question(rng, "deposit", "mass")


@maker("gas volume", topic="quantities", level=16, version=3, since=1)
def volume(rng: RandomSource) -> Question:
    """Ask for the volume of a gas."""
    return _make_question(rng, "gas", "volume")


@maker("time", topic="quantities", level=16, version=3, since=1)
def time_needed(rng: RandomSource) -> Question:
    """Ask how long a current needs."""

    def draw(rng: RandomSource) -> Question:
        target = rng.one_of(targets(rng.edition))
        wanted = ProductAmount(rng.one_of(target.product), rng.one_of(target.amounts), target.unit)
        current_A, prompt = rng.one_of(target.currents_A), phrase(rng, "time")
        situation = without_side_reactions(rng, target.situation, beside=target.beside)
        return build.time_needed(
            wanted,
            current_A,
            situation=situation,
            prompt=prompt,
            watch=target.watch,
            wording=rng.wording,
        )

    return draw_until_suitable(rng, draw)


@maker("current", topic="quantities", level=16, version=3, since=1)
def current_needed(rng: RandomSource) -> Question:
    """Ask what current a time needs."""

    def draw(rng: RandomSource) -> Question:
        target = rng.one_of(targets(rng.edition))
        wanted = ProductAmount(rng.one_of(target.product), rng.one_of(target.amounts), target.unit)
        duration, prompt = Duration(*rng.one_of(target.times)), phrase(rng, "current")
        situation = without_side_reactions(rng, target.situation, beside=target.beside)
        return build.current_needed(
            wanted,
            duration,
            situation=situation,
            prompt=prompt,
            watch=target.watch,
            wording=rng.wording,
        )

    return draw_until_suitable(rng, draw)


@maker("ratio", topic="quantities", level=14, version=3, since=1)
def ratio(rng: RandomSource) -> Question:
    """Ask for the gas at the other electrode, or for its part of both gases."""
    water = pairs("water", rng.edition)
    pair = rng.one_of((*water, *water, *pairs("chloride", rng.edition)))
    given, wanted = rng.shuffled((pair.cathode, pair.anode))
    size = rng.one_of(VOLUMES_CM3)
    if pair in water and rng.number(4) == 0:
        total, prompt = 1.5 * size, phrase(rng, "share of both gases")
        return gases.share_of_both(
            wanted,
            given,
            total,
            situation=pair.situation,
            prompt=prompt,
            watch=pair.watch,
            wording=rng.wording,
        )
    prompt = phrase(rng, "ratio")
    return gases.ratio(
        given,
        size,
        wanted,
        situation=pair.situation,
        prompt=prompt,
        watch=pair.watch,
        wording=rng.wording,
    )


def _usual_yields(scene: Scene, product: Product, edition: int) -> tuple[float, ...]:
    """Return percentages that are usual in a class's cell, or in a works for this product."""
    if scene.watch:
        chlorine = product.formula == "Cl2"
        return CHLORINE_YIELDS if chlorine else GAS_YIELDS if product.is_gas else METAL_YIELDS
    lost = [each.percentages for each in losses(edition) if product in each.scene.product]
    return lost[0] if lost and scene.beside else WORKS_YIELDS


@maker("yield", topic="quantities", level=16, version=3, since=1)
def percentage_yield(rng: RandomSource) -> Question:
    """Ask for a percentage yield."""

    def draw(rng: RandomSource) -> Question:
        gas = rng.number(3) == 0
        of_kind = scenes("gas" if gas else "deposit", rng.edition)
        scene = rng.one_of([scene for scene in of_kind if not scene.question])
        charge_source, product = draw_charge(rng, scene, short=True), rng.one_of(scene.product)
        moles = charge_source.charge_C * product.per_charge_mol
        if gas:
            unit, full = scene.unit, moles * ROOM[scene.unit]
        else:
            grams = moles * product.molar_g_mol
            unit, full = ("mg", 1000 * grams) if grams < 1 else ("g", grams)
        measured = ProductAmount(
            product,
            draw_measurement(rng, full, _usual_yields(scene, product, rng.edition)),
            unit,
            figures=3,
        )
        prompt = phrase(rng, "yield of a gas" if gas else "yield of a metal")
        return build.percentage_yield(
            charge_source,
            measured,
            situation=scene.situation,
            prompt=prompt,
            watch=scene.watch,
            wording=rng.wording,
        )

    return draw_until_suitable(rng, draw)


@maker("two steps", topic="quantities", level=16, version=3, since=1)
def two_steps(rng: RandomSource) -> Question:
    """Ask for what forms at the other electrode, or in another cell with the same current."""

    def draw(rng: RandomSource) -> Question:
        if rng.number(2):
            return _in_series(rng)
        pair = rng.one_of(pairs("metal", rng.edition))
        backwards = rng.number(2) == 0
        given, wanted = (pair.cathode, pair.anode) if backwards else (pair.anode, pair.cathode)
        known, unit = ("mg", "cm³") if backwards else ("cm³", "g")
        situation = pair.situation + " {amount} of {name} forms at {the_electrode}."
        prompt = "What {kind} of {wanted}, in {unit}, forms at {the_electrode}?"
        product_amount = ProductAmount(given, rng.one_of(TWO_STEP_SIZES[known]), known)
        return build.two_steps(
            product_amount,
            wanted,
            unit,
            situation=situation,
            prompt=prompt,
            watch=pair.watch,
            wording=rng.wording,
        )

    return draw_until_suitable(rng, draw)


def _in_series(rng: RandomSource) -> Question:
    (liquid, given), (other, wanted) = rng.sample(cells_in_series(rng.edition), 2)
    known, unit = ("cm³", "g") if given.is_gas else ("mg", "cm³") if wanted.is_gas else ("mg", "g")
    begins = say(phrase(rng, "cells in series"), rng.wording, first=liquid, second=other)
    if {given, wanted} & {NICKEL, ZINC, CHROMIUM}:
        which = "either" if begins.count("plating bath") > 1 else "the"
        begins += f" Suppose that no hydrogen forms in {which} plating bath."
    situation = begins + " {amount} of {name} forms at the first {cathode}."
    prompt = phrase(rng, "product in the second cell")
    product_amount = ProductAmount(given, rng.one_of(TWO_STEP_SIZES[known]), known)
    return build.two_steps(
        product_amount, wanted, unit, situation=situation, prompt=prompt, wording=rng.wording
    )


@maker("Faraday constant", topic="quantities", level=16, version=3, since=1)
def faraday_found(rng: RandomSource) -> Question:
    """Ask for the Faraday constant from a class's numbers."""

    def draw(rng: RandomSource) -> Question:
        deposits = scenes("deposit", rng.edition)
        scene = rng.one_of([scene for scene in deposits if scene.watch in MEASURED_IN])
        product, liquid = scene.product[0], f"{solutions()[scene.watch].name} solution"
        charge_source = draw_charge(rng, scene, short=True)
        grams = charge_source.charge_C * product.per_charge_mol * product.molar_g_mol
        measured = ProductAmount(product, draw_measurement(rng, grams, MEASURED), "g", figures=3)
        situation = phrase(rng, "measurement for the Faraday constant")
        prompt = phrase(rng, "Faraday constant")
        return ions.faraday_found(
            charge_source,
            measured,
            situation=situation,
            prompt=prompt,
            liquid=liquid,
            watch=scene.watch,
            wording=rng.wording,
        )

    return draw_until_suitable(rng, draw)


@maker("gas at room temperature", topic="quantities", level=16, version=3, since=1)
def gas_at_room(rng: RandomSource) -> Question:
    """Ask for a gas volume by the ideal gas at a room's temperature and pressure."""

    def draw(rng: RandomSource) -> Question:
        scene = rng.one_of([s for s in scenes("gas", rng.edition) if s.unit == "cm³"])
        return gases.gas_at_room(
            Coulombs(rounded(draw_flow(rng, scene).charge_C, 2)),
            rng.one_of(scene.product),
            rng.one_of(ROOM_C),
            rng.one_of(ROOM_KPA),
            situation=scene.situation,
            prompt=phrase(rng, "gas at room temperature"),
            watch=scene.watch,
            wording=rng.wording,
        )

    return draw_until_suitable(rng, draw)


@maker("mole ratio", topic="quantities", level=16, version=3, since=1)
def mole_ratio(rng: RandomSource) -> Question:
    """Ask for moles at one electrode from those at the other."""

    def draw(rng: RandomSource) -> Question:
        if rng.number(2):
            melt = rng.one_of(melts(rng.edition))
            begins, cathode, anode, watch = melt.begins, melt.metal, melt.other, ""
            amounts = AMOUNTS_MOL
        else:
            kinds = ("metal", "water", "chloride")
            pair = rng.one_of([pair for kind in kinds for pair in pairs(kind, rng.edition)])
            begins, cathode, anode, watch = pair.situation, pair.cathode, pair.anode, pair.watch
            amounts = CLASS_MOL
        if cathode.electrons == anode.electrons:
            return draw(rng)  # equal amounts leave nothing to work out
        given, wanted = rng.shuffled((cathode, anode))
        situation = begins + " {moles} of {given} forms at {the_electrode}."
        moles, prompt = rng.one_of(amounts), phrase(rng, "moles at the other electrode")
        return ions.mole_ratio(
            given,
            moles,
            wanted,
            situation=situation,
            prompt=prompt,
            watch=watch,
            wording=rng.wording,
        )

    return draw_until_suitable(rng, draw)


@maker("charge number", topic="quantities", level=16, version=3, since=1)
def charge_number(rng: RandomSource) -> Question:
    """Ask how many charges the ions of an unknown metal carry."""

    def draw(rng: RandomSource) -> Question:
        metal = rng.one_of(edition_rows("calculation_unknown_metals", rng.edition))
        product = rng.one_of(metal.one_of("state", UNKNOWN))
        flow = Flow(rng.one_of((*CLASS_A, *BATH_A)), *rng.one_of(BATH_TIMES))
        grams = flow.charge_C * product.per_charge_mol * product.molar_g_mol
        measured = ProductAmount(
            product, draw_measurement(rng, grams, MEASURED_WELL), "g", figures=3
        )
        return ions.charge_number(
            flow,
            measured,
            situation=metal.text("text"),
            prompt=phrase(rng, "charge number"),
            wording=rng.wording,
        )

    return draw_until_suitable(rng, draw)
