"""Makers of questions for 16 to 18 that give electrode potentials, as the tables have them."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.chemistry import pretty, species_name
from fizzplate.questions.content import NearMiss, Part
from fizzplate.questions.maker import UNDECLARED, maker
from fizzplate.questions.makers.parts import choice, choice_question
from fizzplate.questions.misconceptions import Idea, correction
from fizzplate.questions.question_types import NumberQuestion, Question
from fizzplate.words import NO_BREAK, Rendering, board_slots, number_text, say

if TYPE_CHECKING:
    from fizzplate.data import Row
    from fizzplate.questions.makers.parts import Wrong
    from fizzplate.questions.random_source import RandomSource

HALIDES = ("Cl2/Cl-", "Br2/Br-", "I2/I-")
CATIONS = ("Cu2+/Cu", "Ag+/Ag", "Pb2+/Pb", "Ni2+/Ni", "Zn2+/Zn", "Fe2+/Fe", "H+/H2")
APART_V = 0.1  # potentials nearer than this leave the order to the bench


def _couple(name: str) -> Row:
    return data.find("potentials", couple=name)


def _volts(value: float) -> str:
    return number_text(value, Rendering.PAGE, spec="+.2f" if value else ".2f")


def _potentials(rows: list[Row]) -> str:
    return ", ".join(
        f"{pretty(row['oxidised'])}/{pretty(row['reduced'])} {_volts(row.value)}{NO_BREAK}V"
        for row in rows
    )


@maker("unfamiliar data", topic="rule and bench", level=16, version=1)
def unfamiliar(rng: RandomSource) -> Question:
    """Ask what is discharged first, from potentials that are given."""
    at_anode = rng.number(3) == 0
    names = HALIDES if at_anode else CATIONS
    rows = _apart(rng.sample(names, 3), rng, names)
    ordered = sorted(rows, key=lambda row: row.value, reverse=not at_anode)
    made = [species_name(row["oxidised" if at_anode else "reduced"]) for row in ordered]
    right = made[0]
    compare = "the least positive" if at_anode else "the most positive"
    change = "oxidised" if at_anode else "reduced"
    reason = f"Its potential is {compare} of those given, so it is {change} first."
    wrong: list[Wrong] = [
        (
            name,
            f"{_volts(row.value)}{NO_BREAK}V is not {compare} of these potentials."
            + (
                " That it is a metal does not help it: hydrogen ions are easier to reduce."
                if right == "hydrogen" and name == "iron"
                else ""
            ),
            Idea.IRON_WITHOUT_HYDROGEN if right == "hydrogen" and name == "iron" else 0,
        )
        for name, row in zip(made[1:], ordered[1:], strict=True)
    ]
    wrong.append(
        (
            "you cannot tell before you try it",
            correction(Idea.PRODUCTS_UNPREDICTABLE, rng.wording),
            Idea.PRODUCTS_UNPREDICTABLE,
        )
    )
    wrong.append(
        (
            "all of them at once, in equal amounts",
            "The one that is easiest to discharge goes first, as long as there is enough of it.",
            0,
        )
    )
    ions = [pretty(row["reduced" if at_anode else "oxidised"]) for row in rows]
    electrode = board_slots(rng.wording)["anode" if at_anode else "cathode"]
    text = (
        f"A solution contains {', '.join(ions[:-1])} and {ions[-1]} ions, 1{NO_BREAK}mol/dm³ of "
        f"each. Standard electrode potentials: {_potentials(rows)}. By these, what forms first at an inert "
        f"{electrode} as the voltage is raised?"
    )
    options = choice(rng, right, wrong, reason, keep=2)
    return choice_question(
        text,
        options,
    )


def _apart(names: list[str], rng: RandomSource, offered: tuple[str, ...]) -> list[Row]:
    """Return couples whose potentials differ by more than the margin."""
    rows = [_couple(name) for name in names]
    while True:
        values = sorted(row.value for row in rows)
        if all(b - a >= APART_V for a, b in pairwise(values)):
            return rows
        rows = [_couple(name) for name in rng.sample(offered, 3)]


#: salts whose solutions give a metal and a halogen: unfamiliar ones among them
SPLIT = tuple(
    (metal, halogen)
    for metal in ("Cu2+/Cu", "Zn2+/Zn", "Ni2+/Ni")
    for halogen in HALIDES
    if (metal, halogen) != ("Cu2+/Cu", "I2/I-")  # copper(II) oxidises iodide by itself
)


@maker("least voltage", topic="rule and bench", level=16, version=1)
def least_voltage(rng: RandomSource) -> Question:
    """Ask for the least voltage that potentials allow."""
    metal, halogen = (_couple(name) for name in rng.one_of(SPLIT))
    low, high = round(metal.value, 2), round(halogen.value, 2)
    volts = round(high - low, 2)
    salt = f"{species_name(metal['oxidised'])} {species_name(halogen['reduced'])}"
    part = Part(
        volts,
        "V",
        (
            (
                say(
                    "{Halogen} forms at {the_anode} and {metal} at {the_cathode}, so the two potentials "
                    "are subtracted.",
                    rng.wording,
                    halogen=species_name(halogen["oxidised"]),
                    metal=species_name(metal["reduced"]),
                )
            ),
            f"{high:.2f}{NO_BREAK}V − ({_volts(low)}{NO_BREAK}V) = {volts:.2f}{NO_BREAK}V.",
        ),
        near_misses=(
            NearMiss(
                round(abs(high - abs(low)) if low < 0 else high + low, 2),
                (0, 1),
                "A sign was lost: the difference of the two potentials is needed.",
            ),
            NearMiss(
                -volts,
                (1,),
                "The cell's own potential is negative; the voltage to be supplied is its size.",
            ),
        ),
        figures=3 if volts >= 1 else 2,
    )
    text = (
        f"Standard electrode potentials: {_potentials([metal, halogen])}. Under standard conditions, what "
        f"is the least voltage that can split dissolved {salt} into {species_name(metal['reduced'])} and "
        f"{species_name(halogen['oxidised'])}?"
    )
    return NumberQuestion(*UNDECLARED, text, " ".join(part.steps), parts=(part,))
