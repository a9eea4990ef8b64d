"""Makers of questions about ideas: all computed from the rule, the tables and the misconceptions."""

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
from fizzplate.lesson.equation_tasks import half_task, overall_task
from fizzplate.lesson.marking import Option, Point, Question
from fizzplate.lesson.misconceptions import correction, misconceptions
from fizzplate.lesson.product_tests import observation_of, usual_test
from fizzplate.lesson.remains import ions_shown

if TYPE_CHECKING:
    from fizzplate.lesson.dice import Dice

SALTS = (
    "NaCl",
    "Na2SO4",
    "CuCl2",
    "CuSO4",
    "KBr",
    "KI",
    "MgSO4",
    "Cu(NO3)2",
    "KNO3",
    "HCl",
    "H2SO4",
    "NaOH",
    "CaCl2",
    "MgCl2",
    "NaBr",
    "NaI",
    "KCl",
    "K2SO4",
    "NaNO3",
    "AgNO3",
)
MELTS = ("PbBr2(l)", "NaCl(l)", "ZnCl2(l)")
WRONG_PRODUCT = "The rule is applied to the ions that come to this electrode, those of water too."


def _name(formula: str) -> str:
    return f"{solutions()[formula].name} solution"


def _begin(text: str) -> str:
    return text[0].upper() + text[1:]


def _cell(formula: str, anode: str = "graphite", cathode: str = "graphite") -> Cell:
    return Cell(formula, concentration_mol_dm3=0.1, anode=anode, cathode=cathode)


def choice(
    dice: Dice, right: str, wrong: list[tuple[str, str, int]], reason: str
) -> tuple[Option, ...]:
    """Return options in a mixed order: the right one, and three or fewer wrong ones, all different."""
    made = {right: Option(right, right=True, reason=reason)}
    for text, why, number in wrong:
        if text not in made and len(made) < 4:
            made[text] = Option(text, right=False, reason=why, misconception=number)
    return tuple(dice.shuffled(made.values()))


def _asked(
    maker: str,
    topic: str,
    text: str,
    options: tuple[Option, ...],
    *,
    level: int = 14,
    watch: str = "",
) -> Question:
    right = next(option for option in options if option.right)
    return Question(
        maker,
        topic,
        level,
        text,
        "choice",
        1,
        right.text,
        right.reason,
        options=options,
        watch=watch,
    )


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
    return _asked("definition", "words", f"What does the word “{term}” mean?", options)


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
    return _asked("ions present", "ions", f"Which ions are in {_name(formula)}?", options)


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
    text = f"The switch is closed. Which way does {pretty(ion)} drift in {_name(formula)}?"
    return _asked("which way", "drift", text, choice(dice, right, wrong, reason), watch=formula)


def _product(dice: Dice, role: str) -> Question:
    formula = dice.one_of(SALTS)
    cell = _cell(formula)
    rule = cell.rule()
    electrode = getattr(rule, role)
    right = answer_of(electrode.product, "graphite")
    ideas = {"sulfur dioxide": 27, "sodium": 21, "the electrode dissolves": 13, "nothing": 25}
    wrong = [
        (name, correction(ideas[name]) if name in ideas else WRONG_PRODUCT, ideas.get(name, 0))
        for name in dice.shuffled(offered_products(cell))
        if name != right
    ]
    text = f"{_begin(_name(formula))} is electrolysed with carbon electrodes. What forms at the {role}?"
    options = choice(dice, right, wrong, electrode.reason)
    return _asked(f"product at the {role}", "products", text, options, watch=formula)


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
        f"{_begin(_name(formula))} is electrolysed with {metal} electrodes. What happens at the "
        "anode?"
    )
    options = choice(dice, right, wrong, f"A {metal} anode is active: it dissolves.")
    return _asked(
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
    return _asked(
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
    return _asked(
        "mixture", "products", text, options, level=16, watch=f"{second},also={first}:0.5"
    )


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
    return _asked(
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
    product = getattr(_cell(formula).rule(), role).product
    answer = observation_of(product)
    return Question(
        "observation",
        "observations",
        14,
        f"{_begin(_name(formula))} is electrolysed with carbon electrodes. Describe what is seen at the "
        f"{role}.",
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


def _half(dice: Dice) -> tuple[str, str, Question]:
    formula = dice.one_of(SALTS)
    role = dice.one_of(("cathode", "anode"))
    electrode = getattr(_cell(formula).rule(), role)
    task = half_task(electrode.half_equation, electrode.product, role)
    question = Question(
        "half-equation",
        "half-equations",
        14,
        f"{_begin(_name(formula))} is electrolysed with carbon electrodes. {task.asks}",
        "equation",
        2,
        str(electrode.half_equation),
        f"{electrode.half_equation.pretty()}: atoms and charge balance.",
        task=task,
        watch=formula,
    )
    return role, electrode.product, question


def write_half(dice: Dice) -> Question:
    """Ask for a half-equation."""
    return _half(dice)[2]


def correct_half(dice: Dice) -> Question:
    """Ask for the correction of a half-equation that has one mistake."""
    formula = dice.one_of(SALTS)
    role = dice.one_of(("cathode", "anode"))
    electrode = getattr(_cell(formula).rule(), role)
    equation = electrode.half_equation
    terms = [species for _, species in (*equation.reactants, *equation.products)]
    broken = dice.one_of(terms)
    sides = []
    for side in (equation.reactants, equation.products):
        parts = []
        for count, species in side:
            shown = (
                count + 1 if species == broken and count == 1 else 1 if species == broken else count
            )
            parts.append(f"{shown if shown > 1 else ''}{pretty(species)}")
        sides.append(" + ".join(parts))
    task = half_task(equation, electrode.product, role)
    return Question(
        "correct a half-equation",
        "half-equations",
        14,
        f"A student writes {sides[0]} → {sides[1]} for the {role} in {_name(formula)}. One number is "
        "wrong. Write it "
        "correctly.",
        "equation",
        2,
        str(equation),
        f"{equation.pretty()}: atoms and charge balance.",
        task=task,
        watch=formula,
    )


def write_overall(dice: Dice) -> Question:
    """Ask for the overall equation."""
    formula = dice.one_of(SALTS)
    rule = _cell(formula).rule()
    task = overall_task(
        rule.cathode.half_equation,
        rule.cathode.product,
        rule.anode.half_equation,
        rule.anode.product,
    )
    if task is None:
        raise AssertionError("graphite electrodes never undo each other")
    shown = task.hints[-1]
    return Question(
        "overall equation",
        "half-equations",
        16,
        f"{_begin(_name(formula))} is electrolysed with carbon electrodes. The half-equations are "
        f"{rule.cathode.half_equation.pretty()} and {rule.anode.half_equation.pretty()}. {task.asks}",
        "equation",
        2,
        shown,
        f"{shown}: the electrons are made equal and cancel.",
        task=task,
        watch=formula,
    )


def why_alkaline(dice: Dice) -> Question:
    """Ask why a halide solution turns alkaline."""
    formula = dice.one_of(("NaCl", "KCl", "NaBr", "KI"))
    cation = next(ion for ion in solutions()[formula].ions if ion.endswith("+"))
    points = (
        Point(
            "hydrogen ions are discharged",
            ("hydrogen ions are", "h+ ions are", "hydrogen is"),
            (),
        ),
        Point("hydroxide ions are left", ("hydroxide", "oh-"), ()),
    )
    answer = (
        f"Hydrogen ions are discharged at the cathode; hydroxide ions stay with {pretty(cation)}."
    )
    return Question(
        "why alkaline",
        "what is left",
        14,
        f"Why does {_name(formula)} turn alkaline when it is electrolysed?",
        "text",
        2,
        answer,
        answer,
        points=points,
        watch=formula,
    )


def why_blue_stays(dice: Dice) -> Question:
    """Ask why the blue stays, or fades."""
    stays = dice.number(2) == 0
    material = "copper" if stays else "carbon"
    right = (
        "as many copper ions go into the solution as come out of it"
        if stays
        else "copper ions come out of the solution and none go in"
    )
    wrong = [
        ("the current makes new copper ions out of the water", correction(1), 1),
        ("sulfate gives the colour", "Copper ions give the blue.", 0),
        (
            "copper ions come out of the solution and none go in"
            if stays
            else "as many copper ions go into the solution as come out of it",
            correction(17),
            17,
        ),
    ]
    verb = "stay" if stays else "fade"
    text = (
        f"Copper(II) sulfate solution is electrolysed with {material} electrodes. Why does its blue "
        f"{verb}?"
    )
    rods = "CuSO4,anode=copper,cathode=copper" if stays else "CuSO4"
    return _asked(
        "blue",
        "what is left",
        text,
        choice(dice, right, wrong, f"It does so because {right}."),
        watch=rods,
    )


def solid_conducts(dice: Dice) -> Question:
    """Ask why a solid salt does not conduct."""
    name = dice.one_of(("sodium chloride", "lead(II) bromide", "zinc chloride", "potassium iodide"))
    right = "its ions are held in the lattice and cannot move"
    wrong = [
        ("it has no ions until it is melted or dissolved", correction(1), 1),
        ("its electrons are held in the bonds", correction(3), 3),
        ("only metals conduct", "Melts and solutions of salts conduct too.", 0),
    ]
    text = f"Why does solid {name} not conduct?"
    return _asked("solid", "melts", text, choice(dice, right, wrong, f"In the solid {right}."))


def carbon_or_copper(dice: Dice) -> Question:
    """Ask what copper electrodes change."""
    points = (
        Point("with carbon oxygen forms at the anode", ("oxygen",), ()),
        Point("with copper the anode dissolves", ("dissolve", "thinner", "wears", "smaller"), ()),
        Point("with carbon the blue fades", ("fade", "paler", "lighter blue"), ()),
        Point(
            "with copper the blue stays", ("stays", "does not change", "same blue", "unchanged"), ()
        ),
    )
    answer = (
        "With carbon oxygen forms at the anode and the blue fades; with copper the anode dissolves and "
        "the blue "
        "stays."
    )
    del dice
    return Question(
        "carbon or copper",
        "products",
        16,
        "Copper(II) sulfate solution is electrolysed once with carbon and once with copper electrodes. "
        "Compare what "
        "happens at the anode and to the colour.",
        "text",
        4,
        answer,
        answer,
        points=points,
        watch="CuSO4;CuSO4,anode=copper,cathode=copper",
    )


def plating(dice: Dice) -> Question:
    """Ask how something is plated or purified."""
    metal, formula = dice.one_of((("copper", "CuSO4"), ("silver", "AgNO3"), ("nickel", "NiSO4")))
    purify = dice.number(2) == 0 and metal == "copper"
    thing = "impure copper" if purify else "a spoon"
    place = "anode" if purify else "cathode"
    right = f"{thing} as {place}, {solutions()[formula].name} solution"
    other = "cathode" if purify else "anode"
    reason = (
        "The impure copper dissolves and pure copper settles on the cathode."
        if purify
        else f"{metal.capitalize()} ions are discharged at the cathode, on the spoon."
    )
    wrong = [
        (f"{thing} as {other}, {solutions()[formula].name} solution", reason, 6),
        (
            f"{thing} as {place}, sodium chloride solution",
            "Ions of the metal must be in it.",
            0,
        ),
        (f"{thing} as either, since the current flows both ways", correction(8), 8),
    ]
    text = "How is copper purified?" if purify else f"How is a spoon plated with {metal}?"
    return _asked("application", "applications", text, choice(dice, right, wrong, reason), level=16)


def true_statement(dice: Dice) -> Question:
    """Ask which of four statements is right: the wrong ones are what learners say."""
    ideas = dice.some(misconceptions(), 4)
    right = ideas[0]
    wrong = [(each.wrong, correction(each.number), each.number) for each in ideas[1:]]
    options = choice(dice, right.right, wrong, right.right)
    return _asked(
        "true statement", right.topic, "Which statement is right?", options, watch=ideas[1].watch
    )


def find_mistake(dice: Dice) -> Question:
    """Ask which sentence of a student's answer is wrong."""
    wrong = dice.one_of(misconceptions())
    sound = dice.some((each for each in misconceptions() if each.topic != wrong.topic), 3)
    options = (
        Option(wrong.wrong, right=True, reason=f"It is wrong: {correction(wrong.number)}"),
        *(Option(each.right, right=False, reason="That sentence is right.") for each in sound),
    )
    return _asked(
        "find the mistake",
        wrong.topic,
        "A student writes four sentences. Which one is wrong?",
        tuple(dice.shuffled(options)),
        level=16,
        watch=wrong.watch,
    )


def plan(dice: Dice) -> Question:
    """Ask for a plan, marked by the learner with a list."""
    formula = dice.one_of(("CuSO4", "AgNO3"))
    points = (
        Point("weighs the dry electrodes before", ("weigh",), ()),
        Point("names the circuit: d.c. supply, ammeter in series", ("ammeter",), ()),
        Point("keeps the current steady, or reads it often", ("steady", "constant"), ()),
        Point("notes the time in seconds", ("time",), ()),
        Point("rinses, dries and weighs the electrodes again", ("dry", "dries"), ()),
        Point(
            "repeats with other times or currents and draws mass against charge",
            ("repeat", "graph"),
            (),
        ),
    )
    answer = "; ".join(point.says for point in points)
    return Question(
        "plan",
        "practical work",
        16,
        f"Plan how to find out how the mass of metal at the cathode depends on the charge, with "
        f"{_name(formula)}. "
        "Then tick what your plan holds.",
        "list",
        len(points),
        " ".join(str(k) for k in range(1, len(points) + 1)),
        answer,
        points=points,
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
    return _asked(
        "unfamiliar data",
        "products",
        text,
        choice(dice, species_name(right), wrong, reason),
        level=16,
    )
