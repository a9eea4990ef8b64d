"""Makers of questions about ions and products: computed from the rule and the tables."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.chemistry import (
    half_equation,
    melts,
    parse_formula,
    pretty,
    solutions,
    species_name,
)
from fizzplate.lesson.asking import answer_of, offered_products
from fizzplate.lesson.bench import Cell
from fizzplate.lesson.marking import Point, Question
from fizzplate.lesson.misconceptions import correction
from fizzplate.lesson.product_tests import observation_of, usual_test
from fizzplate.lesson.question_parts import (
    MELTS,
    SALTS,
    asked,
    begin,
    cell_of,
    choice,
    solution_name,
)
from fizzplate.lesson.remains import ions_shown

if TYPE_CHECKING:
    from fizzplate.lesson.dice import Dice


WRONG_PRODUCT = "The rule is applied to the ions that come to this electrode, those of water too."
TERMS = {
    "electrolysis": "splitting a compound into simpler substances with an electric current",
    "electrolyte": "a compound, molten or dissolved, whose ions conduct and are split",
    "cathode": "the electrode that is joined to the minus terminal, where reduction happens",
    "anode": "the electrode that is joined to the plus terminal, where oxidation happens",
    "oxidation": "loss of electrons",
    "reduction": "gain of electrons",
    "inert electrode": "an electrode that carries the current without reacting",
    "discharge": "an ion takes or gives electrons at an electrode and becomes an atom or a molecule",
}


def definition(dice: Dice) -> Question:
    """Ask what a word means."""
    term = dice.one_of(sorted(TERMS))
    others = dice.some((each for each in TERMS if each != term), 3)
    wrong = [
        (TERMS[each], f"That is {each}.", 23 if each in {"oxidation", "reduction"} else 0)
        for each in others
    ]
    options = choice(dice, TERMS[term], wrong, f"{term.capitalize()} is {TERMS[term]}.")
    return asked("definition", "words", f"What does the word “{term}” mean?", options)


def ions_present(dice: Dice) -> Question:
    """Ask which ions a solution holds."""
    formula = dice.one_of(SALTS)
    own = list(solutions()[formula].ions)
    right = ", ".join(pretty(ion) for ion in ions_shown(dict.fromkeys(own, 1.0)))
    only = ", ".join(pretty(ion) for ion in own)
    swapped = ", ".join(_swapped(ion) for ion in ions_shown(dict.fromkeys(own, 1.0)))
    wrong = [
        (only, "Water gives H⁺ and OH⁻ as well.", 24),
        (swapped, "Metals and hydrogen form positive ions.", 9),
        (f"{only}, H₂O⁺", "Water gives H⁺ and OH⁻.", 0),
        ("none until the current flows", correction(1), 1),
    ]
    options = choice(dice, right, dice.shuffled(wrong), "The ions of the salt, and those of water.")
    return asked("ions present", "ions", f"Which ions are in {solution_name(formula)}?", options)


def _swapped(ion: str) -> str:
    shown = pretty(ion)
    return shown.translate(str.maketrans("⁺⁻", "⁻⁺"))


def which_way(dice: Dice) -> Question:
    """Ask where an ion drifts."""
    formula = dice.one_of(SALTS)
    ion = dice.one_of(list(ions_shown(dict.fromkeys(solutions()[formula].ions, 1.0))))
    positive = parse_formula(ion).charge > 0
    right, other = (
        ("to the cathode", "to the anode") if positive else ("to the anode", "to the cathode")
    )
    wrong = [
        (other, correction(6) if positive else "Anions go to the anode.", 6),
        ("nowhere: only electrons move in the solution", correction(2), 2),
        ("to and fro, without a direction", "The field gives its wandering a direction.", 0),
    ]
    reason = f"{pretty(ion)} is {'positive' if positive else 'negative'}: it goes {right}."
    text = f"The switch is closed. Which way does {pretty(ion)} drift in {solution_name(formula)}?"
    return asked("which way", "drift", text, choice(dice, right, wrong, reason), watch=formula)


def _product(dice: Dice, role: str) -> Question:
    formula = dice.one_of(SALTS)
    cell = cell_of(formula)
    rule = cell.rule()
    electrode = getattr(rule, role)
    right = answer_of(electrode.product, "graphite")
    ideas = {"sulfur dioxide": 27, "sodium": 21, "the electrode dissolves": 13, "nothing": 25}
    wrong = [
        (name, correction(ideas[name]) if name in ideas else WRONG_PRODUCT, ideas.get(name, 0))
        for name in dice.shuffled(offered_products(cell))
        if name != right
    ]
    solution = begin(solution_name(formula))
    text = f"{solution} is electrolysed with carbon electrodes. What forms at the {role}?"
    options = choice(dice, right, wrong, electrode.reason)
    return asked(f"product at the {role}", "products", text, options, watch=formula)


def cathode_product(dice: Dice) -> Question:
    """Ask what forms at an inert cathode."""
    return _product(dice, "cathode")


def anode_product(dice: Dice) -> Question:
    """Ask what forms at an inert anode."""
    return _product(dice, "anode")


def active_anode(dice: Dice) -> Question:
    """Ask what an active anode does."""
    formula, metal = dice.one_of((("CuSO4", "copper"), ("AgNO3", "silver"), ("ZnSO4", "zinc")))
    right = f"the {metal} dissolves"
    wrong = [
        ("oxygen forms", "An active anode dissolves before any ion is discharged.", 16),
        (f"{metal} is deposited", "Metal is deposited at the cathode.", 23),
        ("nothing happens: the electrode only carries the current", correction(16), 16),
    ]
    text = (
        f"{begin(solution_name(formula))} is electrolysed with {metal} electrodes. What happens at the "
        "anode?"
    )
    options = choice(dice, right, wrong, f"A {metal} anode is active: it dissolves.")
    return asked(
        "active anode", "products", text, options, watch=f"{formula},anode={metal},cathode={metal}"
    )


def melt_products(dice: Dice) -> Question:
    """Ask what a molten salt gives."""
    formula = dice.one_of(MELTS)
    rule = Cell(formula).rule()
    metal, halogen = (species_name(each.product) for each in (rule.cathode, rule.anode))
    right = f"{metal} at the cathode, {halogen} at the anode"
    wrong = [
        (f"hydrogen at the cathode, {halogen} at the anode", correction(14), 14),
        (f"{halogen} at the cathode, {metal} at the anode", correction(6), 6),
        (f"{metal} at the cathode, oxygen at the anode", correction(14), 14),
    ]
    name = melts()[formula].name
    text = f"What forms when {name} is electrolysed with carbon electrodes?"
    return asked(
        "melt", "melts", text, choice(dice, right, wrong, "A melt holds only the ions of the salt.")
    )


def mixture(dice: Dice) -> Question:
    """Ask which halide goes first."""
    first, second = dice.one_of((("KI", "NaCl"), ("KBr", "NaCl"), ("NaI", "KBr")))
    cell = Cell({first: 0.5, second: 0.5})
    product = cell.rule().anode.product
    right = species_name(product)
    others = {"I2", "Br2", "Cl2", "O2"} - {product}
    wrong = [
        (species_name(each), "The halide that gives its electrons most easily goes first.", 0)
        for each in sorted(others)
    ]
    text = (
        f"A solution holds as much {solutions()[first].name} as {solutions()[second].name}. What forms "
        "first at a "
        "carbon anode?"
    )
    reason = "Iodide goes before bromide, and bromide before chloride."
    options = choice(dice, right, dice.shuffled(wrong), reason)
    return asked("mixture", "products", text, options, level=16, watch=f"{second},also={first}:0.5")


def dilute(dice: Dice) -> Question:
    """Ask what dilution changes at the anode."""
    strength = dice.one_of(("0.005", "0.01"))
    right = "more and more oxygen beside the chlorine"
    wrong = [
        ("the same share of chlorine as in a strong solution", correction(15), 15),
        ("sodium", correction(21), 21),
        ("nothing: too few ions are there", "Ions of water are always there.", 25),
    ]
    text = (
        f"Sodium chloride solution is diluted to {strength} mol/dm³. What does the anode then give?"
    )
    reason = "With few chloride ions at the face, water gives oxygen too; boards differ on what they expect."
    return asked(
        "dilute",
        "products",
        text,
        choice(dice, right, wrong, reason),
        level=16,
        watch=f"NaCl,c={strength},lamp=none",
    )


OBSERVED = {
    "Cu": (
        Point("a deposit", ("deposit", "layer", "coat", "solid"), ("precipitate",)),
        Point("its colour", ("orange", "brown", "pink"), ()),
    ),
    "H2": (
        Point("bubbles", ("bubble", "fizz", "effervesc"), ()),
        Point("colourless", ("colourless", "colorless", "no colour"), (" clear",)),
    ),
    "O2": (
        Point("bubbles", ("bubble", "fizz", "effervesc"), ()),
        Point("colourless", ("colourless", "colorless", "no colour"), (" clear",)),
    ),
    "Cl2": (
        Point("bubbles", ("bubble", "fizz", "effervesc"), ()),
        Point("green, or its smell", ("green", "smell", "choking"), ()),
    ),
    "Br2": (
        Point("a colour in the solution", ("solution", "liquid", "turn"), ()),
        Point("orange", ("orange", "yellow", "brown"), ()),
    ),
    "I2": (
        Point("a colour in the solution", ("solution", "liquid", "turn"), ()),
        Point("brown", ("brown", "dark"), ()),
    ),
    "Ag": (
        Point("crystals or a deposit", ("crystal", "deposit", "layer", "coat"), ("precipitate",)),
        Point("grey or silvery", ("grey", "gray", "silver", "white"), ()),
    ),
}


def observation(dice: Dice) -> Question:
    """Ask what is seen."""
    formula = dice.one_of(SALTS)
    role = dice.one_of(("cathode", "anode"))
    product = getattr(cell_of(formula).rule(), role).product
    answer = observation_of(product)
    return Question(
        "observation",
        "observations",
        14,
        f"{begin(solution_name(formula))} is electrolysed with carbon electrodes. "
        f"Describe what is seen at the {role}.",
        "text",
        2,
        answer,
        f"It is {species_name(product)}: {answer}.",
        points=OBSERVED[product],
        watch=formula,
    )


TESTED = {
    "H2": (
        Point(
            "a lighted splint", ("lighted", "lit splint", "burning splint", "flame"), ("glowing",)
        ),
        Point("a squeaky pop", ("pop",), ()),
    ),
    "O2": (
        Point("a glowing splint", ("glowing",), ("lighted",)),
        Point("relights", ("relight",), ()),
    ),
    "Cl2": (
        Point("damp litmus paper", ("litmus",), ()),
        Point("is bleached", ("bleach", "white"), ()),
    ),
}


def gas_test(dice: Dice) -> Question:
    """Ask for the test of a gas."""
    gas = dice.one_of(sorted(TESTED))
    test = usual_test(gas)
    return Question(
        "gas test",
        "tests",
        14,
        f"Describe the test for {species_name(gas)}, and its result.",
        "text",
        2,
        str(test),
        f"{test}.",
        points=TESTED[gas],
    )


def _volts(value: float) -> str:
    return f"{value:+.2f}".replace("-", "−")


def unfamiliar(dice: Dice) -> Question:
    """Ask what is discharged, from potentials that are given."""
    metals = dice.some(("Cu", "Ag", "Pb", "Ni", "Zn"), 2)
    volts = {"Cu": 0.34, "Ag": 0.80, "Pb": -0.13, "Ni": -0.26, "Zn": -0.76}
    right = max(metals, key=lambda metal: volts[metal])
    other = next(metal for metal in metals if metal != right)
    ions = [half_equation(metal).reactants[0][1] for metal in metals]
    given = "; ".join(
        f"{pretty(ion)}/{metal} {_volts(volts[metal])} V"
        for ion, metal in zip(ions, metals, strict=True)
    )
    wrong = [
        (species_name(other), "The couple with the more positive potential is reduced first.", 0),
        ("both at once, half and half", "The easier one goes first.", 20),
        ("oxygen", "Oxygen forms at the anode.", 23),
    ]
    text = (
        f"A solution holds equal amounts of {' and '.join(map(pretty, ions))}. Given: {given}. What "
        "settles first?"
    )
    reason = f"{species_name(right).capitalize()} has the more positive potential."
    return asked(
        "unfamiliar data",
        "products",
        text,
        choice(dice, species_name(right), wrong, reason),
        level=16,
    )
