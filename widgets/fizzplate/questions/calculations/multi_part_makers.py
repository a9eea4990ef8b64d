"""Makers of longer calculations: in parts, from melts, with losses, and of layers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.questions.calculations import multi_part as build
from fizzplate.questions.calculations.contexts import scenes
from fizzplate.questions.calculations.draws import (
    drawn_flow,
    phrase,
    settled,
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
from fizzplate.questions.calculations.sizes import PART_ASKS
from fizzplate.questions.calculations.targets import layers, losses
from fizzplate.questions.maker import maker

if TYPE_CHECKING:
    from fizzplate.questions.calculations.derivations import Passed
    from fizzplate.questions.dice import Dice
    from fizzplate.questions.question_types import Question


@maker("in parts", topic="quantities", level=16, version=1)
def in_parts(dice: Dice) -> Question:
    """Ask for a charge and go on, part by part, to a mass or a volume."""

    def draw(dice: Dice) -> Question:
        both = (*scenes("deposit", dice.edition), *scenes("gas", dice.edition))
        scene = dice.one_of([scene for scene in both if not scene.question])
        return build.in_parts(
            drawn_flow(dice, scene),
            dice.one_of(scene.made),
            scene.unit,
            asks=dice.one_of(PART_ASKS),
            says=without_side_reactions(dice, scene.says, beside=scene.beside),
            watch=scene.watch,
            wording=dice.wording,
        )

    return settled(dice, draw)


@maker("mass from a melt", topic="quantities", level=16, version=1)
def melt_mass(dice: Dice) -> Question:
    """Ask for the masses of both products of a melt."""

    def draw(dice: Dice) -> Question:
        melt = dice.one_of(melts(dice.edition))
        if melt.place == "school":
            passed: Passed = Flow(dice.one_of(BATH_A), *dice.one_of(CLASS_TIMES))
            says, unit = "In one lesson {passes}.", "g"
        elif melt.place == "works" and dice.number(2):
            passed = Flow(dice.one_of(POT_LINE_A), *dice.one_of(SHIFTS))
            says, unit = phrase(dice, "current through a works cell"), "kg"
        else:
            passed = Coulombs(dice.one_of(LARGE_C), power=bool(dice.number(2)))
            says, unit = phrase(dice, "charge through a melt"), "g"
        says = f"{melt.begins} {says}"
        return build.melt_mass(
            passed, melt.metal, melt.other, unit, says=says, wording=dice.wording
        )

    return settled(dice, draw)


@maker("current efficiency", topic="quantities", level=16, version=1)
def efficiency(dice: Dice) -> Question:
    """Ask for a mass where part of the charge is lost."""

    def draw(dice: Dice) -> Question:
        loss = dice.one_of(losses(dice.edition))
        scene = loss.scene
        return build.efficiency(
            drawn_flow(dice, scene),
            dice.one_of(scene.made),
            scene.unit,
            dice.one_of(loss.percentages),
            says=scene.says,
            asks=phrase(dice, "mass that is really made"),
            wording=dice.wording,
        )

    return settled(dice, draw)


@maker("plating time", topic="quantities", level=16, version=1)
def plating_time(dice: Dice) -> Question:
    """Ask for the mass of a layer, the charge and the time for it."""

    def draw(dice: Dice) -> Question:
        layer = dice.one_of(layers(dice.edition))
        return build.plating_time(
            layer.made,
            dice.one_of(layer.thicknesses),
            dice.one_of(layer.areas),
            layer.density_g_cm3,
            dice.one_of(layer.currents_A),
            says=f"{layer.says} All of the charge deposits the metal.",
            unit=dice.one_of(("s", "min")),
            wording=dice.wording,
        )

    return settled(dice, draw)
