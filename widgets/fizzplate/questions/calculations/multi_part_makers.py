"""Makers of longer calculations: in parts, from melts, with losses, and of layers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.questions.calculations import multi_part as build
from fizzplate.questions.calculations.contexts import scenes
from fizzplate.questions.calculations.draws import (
    draw_flow,
    draw_until_suitable,
    phrase,
    without_side_reactions,
)
from fizzplate.questions.calculations.electrode_pairs import melts
from fizzplate.questions.calculations.products import (
    BATH_A,
    CLASS_TIMES,
    LARGE_C,
    POT_LINE_A,
    SHIFTS,
)
from fizzplate.questions.calculations.quantities import Coulombs, Flow
from fizzplate.questions.calculations.sizes import PART_CHOICES
from fizzplate.questions.calculations.targets import layers, losses
from fizzplate.questions.maker import maker

if TYPE_CHECKING:
    from fizzplate.questions.calculations.derivations import ChargeSource
    from fizzplate.questions.question_types import Question
    from fizzplate.questions.random_source import RandomSource


@maker("in parts", topic="quantities", level=16, version=3, since=1)
def in_parts(rng: RandomSource) -> Question:
    """Ask for a charge and go on, part by part, to a mass or a volume."""

    def draw(rng: RandomSource) -> Question:
        both = (*scenes("deposit", rng.edition), *scenes("gas", rng.edition))
        scene = rng.one_of([scene for scene in both if not scene.question])
        return build.in_parts(
            draw_flow(rng, scene),
            rng.one_of(scene.product),
            scene.unit,
            part_names=rng.one_of(PART_CHOICES),
            situation=without_side_reactions(rng, scene.situation, beside=scene.beside),
            watch=scene.watch,
            wording=rng.wording,
        )

    return draw_until_suitable(rng, draw)


@maker("mass from a melt", topic="quantities", level=16, version=3, since=1)
def melt_mass(rng: RandomSource) -> Question:
    """Ask for the masses of both products of a melt."""

    def draw(rng: RandomSource) -> Question:
        melt = rng.one_of(melts(rng.edition))
        if melt.place == "school":
            charge_source: ChargeSource = Flow(rng.one_of(BATH_A), *rng.one_of(CLASS_TIMES))
            situation, unit = "In one lesson {passes}.", "g"
        elif melt.place == "works" and rng.number(2):
            charge_source = Flow(rng.one_of(POT_LINE_A), *rng.one_of(SHIFTS))
            situation, unit = phrase(rng, "current through a works cell"), "kg"
        else:
            charge_source = Coulombs(rng.one_of(LARGE_C), power=bool(rng.number(2)))
            situation, unit = phrase(rng, "charge through a melt"), "g"
        situation = f"{melt.begins} {situation}"
        return build.melt_mass(
            charge_source, melt.metal, melt.other, unit, situation=situation, wording=rng.wording
        )

    return draw_until_suitable(rng, draw)


@maker("current efficiency", topic="quantities", level=16, version=3, since=1)
def efficiency(rng: RandomSource) -> Question:
    """Ask for a mass where part of the charge is lost."""

    def draw(rng: RandomSource) -> Question:
        loss = rng.one_of(losses(rng.edition))
        scene = loss.scene
        return build.efficiency(
            draw_flow(rng, scene),
            rng.one_of(scene.product),
            scene.unit,
            rng.one_of(loss.percentages),
            situation=scene.situation,
            prompt=phrase(rng, "mass that is really made"),
            wording=rng.wording,
        )

    return draw_until_suitable(rng, draw)


@maker("plating time", topic="quantities", level=16, version=3, since=1)
def plating_time(rng: RandomSource) -> Question:
    """Ask for the mass of a layer, the charge and the time for it."""

    def draw(rng: RandomSource) -> Question:
        layer = rng.one_of(layers(rng.edition))
        return build.plating_time(
            layer.product,
            rng.one_of(layer.thicknesses),
            rng.one_of(layer.areas),
            layer.density_g_cm3,
            rng.one_of(layer.currents_A),
            situation=f"{layer.situation} All of the charge deposits the metal.",
            unit=rng.one_of(("s", "min")),
            wording=rng.wording,
        )

    return draw_until_suitable(rng, draw)
