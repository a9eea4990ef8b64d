"""Makers of questions about the circuit: what carries the current, electrodes, wires, lamp and meters."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.chemistry import non_electrolytes, species_name
from fizzplate.lesson.measure import as_given
from fizzplate.lesson.rule import ions_with_water
from fizzplate.questions.maker import maker
from fizzplate.questions.makers.parts import (
    cell_of,
    choice,
    choice_question,
    draw_salt,
    ions_in_words,
    rule_of,
    salts,
    solution_name,
)
from fizzplate.questions.misconceptions import Idea, correction
from fizzplate.questions.tables import candidates
from fizzplate.words import NO_BREAK, begin, say

if TYPE_CHECKING:
    from fizzplate.questions.makers.parts import Wrong
    from fizzplate.questions.question_types import Question
    from fizzplate.questions.random_source import RandomSource


@maker("what carries the current", topic="current", level=14, version=1)
def carriers(rng: RandomSource) -> Question:
    """Ask what carries the current, or why there is none."""
    if rng.number(3) == 0:
        return _no_ions(rng)
    formula = draw_salt(rng)
    ions = ions_with_water(cell_of(formula).ions_mol_dm3)
    cations = [ion for ion in ions if ion.endswith("+")]
    anions = [ion for ion in ions if ion.endswith("-")]
    right = f"{ions_in_words(cations)} ions one way, {ions_in_words(anions)} ions the other way"
    wrong: list[Wrong] = [
        (
            f"only {ions_in_words(anions)} ions, all of them one way",
            correction(Idea.ONLY_ANIONS_CONDUCT, rng.wording),
            Idea.ONLY_ANIONS_CONDUCT,
        ),
        (
            say(
                "electrons that swim from {the_cathode} to {the_anode} through the water",
                rng.wording,
            ),
            correction(Idea.ELECTRONS_CROSS_SOLUTION, rng.wording),
            Idea.ELECTRONS_CROSS_SOLUTION,
        ),
        (
            "electrons that are handed on from one ion to the next",
            correction(Idea.ELECTRONS_MOVE_IN_ELECTROLYTE, rng.wording),
            Idea.ELECTRONS_MOVE_IN_ELECTROLYTE,
        ),
    ]
    name = solution_name(formula, rng.wording)
    text = rng.one_of(
        (
            f"What carries the current through {name}?",
            f"The lamp in the circuit glows. What moves through {name} to carry the current?",
        )
    )
    return choice_question(
        text,
        choice(rng, right, wrong, "Ions of both signs move, in opposite directions."),
        watch=formula,
    )


def _no_ions(rng: RandomSource) -> Question:
    liquid = non_electrolytes()[rng.one_of(candidates("liquid", rng.edition))]
    right = "it is made of molecules, with hardly any ions"
    wrong: list[Wrong] = [
        (
            "its electrons are held too tightly to move through it",
            correction(Idea.ELECTRONS_MOVE_IN_ELECTROLYTE, rng.wording),
            Idea.ELECTRONS_MOVE_IN_ELECTROLYTE,
        ),
        (
            "no current has made any ions in it yet",
            correction(Idea.CURRENT_MAKES_IONS, rng.wording),
            Idea.CURRENT_MAKES_IONS,
        ),
        (
            "its ions are too slow to reach the electrodes",
            "It has hardly any ions, slow or fast.",
            0,
        ),
    ]
    text = rng.one_of(
        (
            f"The lamp stays dark when the electrodes are in {liquid.name}. Why?",
            f"Why does {liquid.name} not light the lamp, although salt solution does?",
        )
    )
    options = choice(rng, right, wrong, liquid.reason)
    return choice_question(text, options, watch=liquid.formula)


@maker("which rod", topic="current", level=14, version=1)
def poles(rng: RandomSource) -> Question:
    """Ask what decides which of two equal rods is the cathode."""
    formula = draw_salt(rng)
    rule = rule_of(formula, rng.wording)
    product = species_name(rule.cathode.product)
    name = solution_name(formula, rng.wording)
    right = "which terminal of the supply it is joined to"
    wrong: list[Wrong] = [
        (
            "whether it is on the left or on the right",
            correction(Idea.LEFT_ELECTRODE_IS_CATHODE, rng.wording),
            Idea.LEFT_ELECTRODE_IS_CATHODE,
        ),
        (
            "which rod was charged first, since it keeps that charge",
            correction(Idea.ELECTRODES_CHARGED_ONCE, rng.wording),
            Idea.ELECTRODES_CHARGED_ONCE,
        ),
        (
            "nothing: the rods are the same, so the products are the same at both",
            correction(Idea.SWAPPING_CHANGES_NOTHING, rng.wording),
            Idea.SWAPPING_CHANGES_NOTHING,
        ),
    ]
    text = (
        f"Two equal carbon rods dip into {name}, and {product} forms at one of them. "
        "What decides at which rod it forms?"
    )
    reason = f"{begin(product)} forms at the rod that is joined to the negative terminal, whichever that is."
    return choice_question(text, choice(rng, right, wrong, reason), watch=formula)


@maker("why it is negative", topic="current", level=14, version=1)
def why_negative(rng: RandomSource) -> Question:
    """Ask why the cathode of an electrolysis is negative all the time."""
    by_sign = rng.wording.electrode_names == "negative"
    right = "because the supply pushes electrons onto it for as long as the switch is closed"
    wrong: list[Wrong] = [
        (
            "because it was charged when the switch was closed, and has kept that charge since",
            correction(Idea.ELECTRODES_CHARGED_ONCE, rng.wording),
            Idea.ELECTRODES_CHARGED_ONCE,
        ),
        (
            "because the cations give it electrons when they touch it",
            correction(Idea.IONS_GIVE_ELECTRONS_AT_CATHODE, rng.wording),
            Idea.IONS_GIVE_ELECTRONS_AT_CATHODE,
        ),
        (
            "because it is the rod on the left of the cell",
            correction(Idea.LEFT_ELECTRODE_IS_CATHODE, rng.wording),
            Idea.LEFT_ELECTRODE_IS_CATHODE,
        ),
    ]
    if not by_sign:  # whoever names electrodes by their signs has no such idea of a cathode
        every = (
            say(
                "because {a_cathode} is negative in every kind of cell, in a battery too",
                rng.wording,
            ),
            say(
                "{correction} In a battery that gives a current {the_cathode} is the positive pole.",
                rng.wording,
                correction=correction(Idea.CATHODE_ALWAYS_NEGATIVE, rng.wording),
            ),
            Idea.CATHODE_ALWAYS_NEGATIVE,
        )
        wrong = [every, *wrong]
    formula = rng.one_of(("NaCl", "Na2SO4", "CuSO4", "KBr"))
    name = solution_name(formula, rng.wording)
    rod = "one of the rods" if by_sign else say("{the_cathode}", rng.wording)
    text = rng.one_of(
        (
            f"Why is {rod} negative while {name} is electrolysed?",
            f"While {name} is electrolysed, cations go on drifting to {rod}. Why is it negative?",
        )
    )
    reason = "The negative terminal goes on giving it electrons, as fast as the ions take them."
    options = choice(rng, right, wrong, reason, keep=2)
    return choice_question(text, options, watch=formula)


@maker("where electrons go", topic="current", level=14, version=1)
def electrons_go(rng: RandomSource) -> Question:
    """Ask which way the electrons go."""
    formula = draw_salt(rng)
    right = say("from {the_anode} through the wires and the supply to {the_cathode}", rng.wording)
    wrong: list[Wrong] = [
        (
            say("from {the_cathode} through the wires and the supply to {the_anode}", rng.wording),
            say(
                "The negative terminal pushes electrons out to {the_cathode}, where ions take them.",
                rng.wording,
            ),
            Idea.IONS_GIVE_ELECTRONS_AT_CATHODE,
        ),
        (
            say("from {the_cathode} through the solution to {the_anode}", rng.wording),
            correction(Idea.ELECTRONS_CROSS_SOLUTION, rng.wording),
            Idea.ELECTRONS_CROSS_SOLUTION,
        ),
        (
            "from the supply to the lamp, where they are used up",
            correction(Idea.LAMP_USES_UP_CURRENT, rng.wording),
            Idea.LAMP_USES_UP_CURRENT,
        ),
        (
            say("from the supply onto {the_cathode}, where they stay as its charge", rng.wording),
            correction(Idea.ELECTRODES_CHARGED_ONCE, rng.wording),
            Idea.ELECTRODES_CHARGED_ONCE,
        ),
    ]
    name = solution_name(formula, rng.wording)
    text = rng.one_of(
        (
            f"A lamp, a supply and a cell with {name} are in series. Which way do electrons go?",
            f"Which path do electrons take while {name} is electrolysed in a circuit with a lamp?",
        )
    )
    reason = say(
        "At {the_anode} electrons are given to the wire, and at {the_cathode} they are taken "
        "from it.",
        rng.wording,
    )
    options = choice(rng, right, wrong, reason, keep=1)
    return choice_question(text, options, watch=formula)


@maker("lamp and ammeters", topic="current", level=14, version=3, since=1)
def lamp_and_meters(rng: RandomSource) -> Question:
    """Ask what a second ammeter reads."""
    reading = rng.one_of((0.04, 0.05, 0.06, 0.12, 0.18, 0.25))
    formula = draw_salt(rng)
    name = solution_name(formula, rng.wording)
    first, second = rng.one_of(
        (
            (
                say("between the negative terminal and {the_cathode}", rng.wording),
                say("between the lamp and {the_anode}", rng.wording),
            ),
            (
                say("between the lamp and {the_anode}", rng.wording),
                say("between {the_cathode} and the negative terminal", rng.wording),
            ),
            (
                "between the positive terminal and the lamp",
                say("between the lamp and {the_anode}", rng.wording),
            ),
        )
    )
    right = f"{reading:.2f}{NO_BREAK}A, because the current is the same all round the circuit"
    wrong: list[Wrong] = [
        (
            f"less than {reading:.2f}{NO_BREAK}A, because the lamp uses up some of the current",
            correction(Idea.LAMP_USES_UP_CURRENT, rng.wording),
            Idea.LAMP_USES_UP_CURRENT,
        ),
        (
            f"less than {reading:.2f}{NO_BREAK}A, because ions are discharged and leave the current",
            "As many electrons are given at one electrode as are taken at the other.",
            Idea.ELECTRODES_PASS_DIFFERENT_CHARGES,
        ),
        (
            f"0{NO_BREAK}A, because electrons cannot get through the solution",
            "In the solution ions carry the current, so the circuit is complete.",
            Idea.ELECTRONS_CROSS_SOLUTION,
        ),
    ]
    text = (
        f"A supply, a lamp and a cell with {name} are in series. An ammeter {first} reads "
        f"{reading:.2f}{NO_BREAK}A. What does an ammeter {second} read?"
    )
    reason = (
        "In a series circuit the current is the same everywhere, in the cell and in the lamp too."
    )
    options = choice(rng, right, wrong, reason)
    return choice_question(text, options, watch=formula)


@maker("wires swapped", topic="current", level=14, version=3, since=1)
def swapped_wires(rng: RandomSource) -> Question:
    """Ask what swapping the wires does."""
    formula = rng.one_of(("CuSO4", "Cu(NO3)2", "NaCl", "Na2SO4", "KI", "KBr", "H2SO4"))
    rule = rule_of(formula, rng.wording)
    gained, lost = (species_name(each.product) for each in (rule.cathode, rule.anode))
    name = solution_name(formula, rng.wording)
    wrong: list[Wrong] = [
        (
            f"nothing changes: {gained} goes on forming at rod A",
            correction(Idea.SWAPPING_CHANGES_NOTHING, rng.wording),
            Idea.SWAPPING_CHANGES_NOTHING,
        ),
        (
            "no current flows, because the ions are at the wrong electrodes",
            "The ions are everywhere in the solution; they only drift the other way now.",
            0,
        ),
    ]
    if rule.cathode.product == "Cu":
        right = "the copper on rod A dissolves, and copper is deposited on rod B"
        wrong.append(
            (
                f"the copper on rod A stays there, and {lost} forms on it",
                say(
                    "Rod A is now {an_anode} of copper, and such {an_anode} dissolves.",
                    rng.wording,
                ),
                Idea.COPPER_ANODE_GIVES_OXYGEN,
            )
        )
        reason = say(
            "Rod A, coated with copper, is {the_anode} now and dissolves; rod B is {the_cathode}.",
            rng.wording,
        )
    else:
        right = f"{gained} forms at rod B, and {lost} at rod A"
        wrong.append(
            (
                f"{gained} and {lost} both form at rod B",
                say(
                    "Reduction and oxidation never happen at the same electrode: rod A is {the_anode} "
                    "now.",
                    rng.wording,
                ),
                Idea.OXIDATION_IS_GAIN,
            )
        )
        reason = say(
            "Rod A is {the_anode} now and rod B {the_cathode}, so the products change places.",
            rng.wording,
        )
    # a halogen that stayed in the solution would be reduced at rod B before hydrogen ions
    fresh = rule.anode.product in {"Cl2", "Br2", "I2"}
    text = say(
        "{Name} has been electrolysed for ten minutes with two carbon rods, A as "
        "{the_cathode} and B as {the_anode}. Then {the_wires}. What happens?",
        rng.wording,
        name=name,
        the_wires="both rods are rinsed and put into fresh solution, with the wires swapped at the supply"
        if fresh
        else "the wires are swapped at the supply",
    )
    return choice_question(text, choice(rng, right, wrong, reason), watch=formula)


@maker("the same electrons", topic="quantities", level=14, version=1)
def same_electrons(rng: RandomSource) -> Question:
    """Ask how often something happens at the one electrode, from the other."""
    offered = [
        formula for formula in salts(rng) if rule_of(formula, rng.wording).cathode.product != "H2"
    ] + ["NaCl", "KBr", "KI", "Na2SO4", "HCl", "H2SO4"]
    formula = rng.one_of(offered)
    rule = rule_of(formula, rng.wording)
    needs = rule.cathode.half_equation.electrons
    gives = rule.anode.half_equation.electrons
    made = rng.one_of((100, 200, 400, 1000))
    count = made * needs // gives
    names = (_particle(rule.cathode.product), _particle(rule.anode.product))
    other = f"{names[1]}s"
    reason = _counted(made, needs, gives, names)
    wrong: list[Wrong] = [
        (
            say(
                "any number of {other}, because {the_anode} works by itself",
                rng.wording,
                other=other,
            ),
            correction(Idea.ELECTRODES_PASS_DIFFERENT_CHARGES, rng.wording),
            Idea.ELECTRODES_PASS_DIFFERENT_CHARGES,
        ),
        *(
            (f"{each} {other}", f"{_electrons_wanted(each, made, needs, gives)} {reason}", 0)
            for each in dict.fromkeys((made, 2 * made, 4 * made, made // 2, made // 4))
            if each != count
        ),
    ]
    text = say(
        "{Formula} is electrolysed with inert electrodes. How many {other} form at "
        "{the_anode} while {made} {names}s form at {the_cathode}?",
        rng.wording,
        formula=solution_name(formula, rng.wording),
        other=other,
        made=made,
        names=names[0],
    )
    options = choice(rng, f"{count} {other}", wrong, reason, keep=1)
    return choice_question(text, options, watch=formula)


def _particle(product: str) -> str:
    """Name one particle of a product."""
    return f"{species_name(product)} {'atom' if product in {'Cu', 'Ag'} else 'molecule'}"


def _electrons_wanted(count: int, made: int, needs: int, gives: int) -> str:
    """Say why a wrong number of particles does not fit the electrons."""
    only = "only " if count * gives > made * needs else ""
    return (
        f"{as_given(count)} would give {as_given(count * gives)} electrons, but {only}"
        f"{as_given(made * needs)} were taken."
    )


def _counted(made: int, needs: int, gives: int, names: tuple[str, str]) -> str:
    first, second = (f"{'an' if name[0] in 'aeiou' else 'a'} {name}" for name in names)
    return (
        f"{begin(first)} takes {needs} electron{'s' if needs > 1 else ''}, so {made} take {made * needs}; "
        f"{second} gives {gives}, so {made * needs // gives} form."
    )
