"""Makers of questions that bring out an idea: which metal first, which mass, and what chlorine leaves as."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.chemistry import pretty
from fizzplate.questions.calculations import COPPER, NICKEL, SILVER, ZINC
from fizzplate.questions.content import data_sentence
from fizzplate.questions.maker import maker
from fizzplate.questions.makers.parts import choice, choice_question
from fizzplate.questions.misconceptions import Idea, correction
from fizzplate.words import begin, say, with_unit

if TYPE_CHECKING:
    from fizzplate.questions.makers.parts import Wrong
    from fizzplate.questions.question_types import Question
    from fizzplate.questions.random_source import RandomSource

#: metals whose ions a solution may hold together, with the couples that say which is discharged first
METALS = {"silver": "Ag+/Ag", "copper": "Cu2+/Cu", "nickel": "Ni2+/Ni", "zinc": "Zn2+/Zn"}
MAY_BE_FIRST = ("silver", "copper")  # both less reactive than hydrogen
WEIGHED = (COPPER, SILVER, NICKEL, ZINC)
WITH_CHLORINE = (
    ("copper(II) chloride solution", "CuCl2"),
    ("concentrated sodium chloride solution", "NaCl"),
    ("hydrochloric acid", "HCl"),
    ("molten sodium chloride", ""),
)


@maker("deposited first", topic="products", level=14, version=3)
def deposited_first(rng: RandomSource) -> Question:
    """Ask which of two metals is deposited first from one solution, by their potentials."""
    first = rng.one_of(MAY_BE_FIRST)
    volts = {name: data.find("potentials", couple=couple).value for name, couple in METALS.items()}
    later = rng.one_of([name for name in METALS if volts[name] < volts[first]])
    names = rng.shuffled((first, later))
    ions = " and ".join(
        f"{name} ions ({pretty(METALS[name].split('/', maxsplit=1)[0])})" for name in names
    )
    text = rng.one_of(
        (
            (
                "A solution of nitrates holds {ions} in the same concentration. A small current flows. What "
                "is deposited on {the_cathode} first?"
            ),
            (
                "{A_cathode} stands in a solution with {ions}, as many of one as of the other. What "
                "forms on it first as a small current flows?"
            ),
        )
    )
    text = say(text, rng.wording, ions=ions)
    easier = (
        f"{begin(first)} is less reactive than {later}, so its ions gain electrons more easily."
    )
    wrong: list[Wrong] = [
        (
            f"{later}, because it is the more reactive metal",
            f"{easier} {correction(Idea.MORE_REACTIVE_DEPOSITED_FIRST, rng.wording)}",
            Idea.MORE_REACTIVE_DEPOSITED_FIRST,
        ),
        (
            f"{first} and {later}, as much of one as of the other",
            f"They compete, and the ions that gain electrons more easily win at first. {easier}",
            0,
        ),
        (
            "hydrogen, because it is a gas and leaves the solution",
            f"Hydrogen is more reactive than {first}: {first} ions gain electrons more easily.",
            0,
        ),
    ]
    right = f"{first}, because its ions gain electrons more easily"
    options = choice(rng, right, wrong, easier, keep=3)
    return choice_question(say(text, rng.wording), options)


@maker("mass by the same charge", topic="quantities", level=16, version=3)
def mass_by_charge(rng: RandomSource) -> Question:
    """Ask on which of two cathodes in series more mass is deposited, by molar mass and electrons."""
    pair = rng.sample(WEIGHED, 2)
    while (
        abs(pair[0].molar_g_mol / pair[0].electrons / pair[1].molar_g_mol * pair[1].electrons - 1)
        < 0.02
    ):
        pair = rng.sample(WEIGHED, 2)
    heavy, light = sorted(pair, key=lambda each: each.molar_g_mol / each.electrons, reverse=True)
    named = sorted(pair, key=lambda each: each.name)
    text = say(
        "Two cells are in series, so the same charge passes in both. One deposits {first}, from "
        "{weak} solution, the other {second}, from {strong} solution. On which {cathode} is the "
        "greater mass deposited, if nothing else forms there? The ions are {ions}. {given}",
        rng.wording,
        first=pair[0].name,
        second=pair[1].name,
        ions=" and ".join(pretty(each.source) for each in named),
        given=data_sentence(*(each.molar for each in named)),
        weak=with_unit("0.1", "mol/dm³"),
        strong=with_unit("0.5", "mol/dm³"),
    )
    share = ", ".join(
        f"{each.name} {with_unit(f'{each.molar_g_mol:.1f}', 'g')} ÷ {each.electrons} = "
        f"{with_unit(f'{each.molar_g_mol / each.electrons:.1f}', 'g')}"
        for each in (heavy, light)
    )
    reason = f"A mole of electrons deposits: {share}."
    idea = Idea.MASS_FROM_CONCENTRATION_OR_SIZE
    corrected = correction(idea, rng.wording)
    other = pair[1]  # from the more concentrated solution
    right = f"that with {heavy.name}: more grams for each mole of electrons"
    wrong: list[Wrong] = [
        (
            f"that with {other.name}: its solution is more concentrated",
            f"{corrected} {reason}",
            idea,
        ),
        (
            f"that with {light.name}: its atoms are smaller and pack more closely",
            f"{corrected} {reason}",
            idea,
        ),
        (
            "neither: the same charge deposits the same mass of any metal",
            f"The same charge means the same number of electrons, not the same mass. {reason}",
            0,
        ),
    ]
    return choice_question(text, choice(rng, right, wrong, reason, keep=3))


@maker("what chlorine leaves as", topic="ions", level=14, version=3)
def chlorine_leaves(rng: RandomSource) -> Question:
    """Ask which particles the gas at the anode of a chloride is made of."""
    liquid, watch = rng.one_of(WITH_CHLORINE)
    text = rng.one_of(
        (
            "Chlorine forms at {the_anode} when {liquid} is electrolysed. What does the gas consist of?",
            (
                "{Liquid} is electrolysed, in a fume cupboard or in small amounts, as the risk "
                "assessment says. Which particles leave as a gas at {the_anode}?"
            ),
        )
    )
    text = say(text, rng.wording, liquid=liquid, Liquid=begin(liquid))
    idea = Idea.CHLORINE_AS_ATOMS
    right = "molecules, each from two chloride ions"
    reason = "Two chloride ions lose one electron each, and the two atoms join: 2Cl⁻ gives Cl₂."
    wrong: list[Wrong] = [
        ("single atoms, each from one chloride ion", correction(idea, rng.wording), idea),
        (
            "chloride ions that have left the liquid",
            "Ions stay in the liquid. They lose electrons at {the_anode} and are ions no longer.",
            0,
        ),
        (
            "molecules, each from one chloride ion that splits in two",
            "A chloride ion holds one atom, and an atom does not split: two ions are needed.",
            0,
        ),
    ]
    told = [(option, say(why, rng.wording), number) for option, why, number in wrong]
    return choice_question(
        say(text, rng.wording), choice(rng, right, told, reason, keep=3), watch=watch
    )
