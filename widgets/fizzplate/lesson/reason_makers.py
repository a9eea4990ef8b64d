"""Makers of questions that ask for reasons, statements and plans."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.chemistry import (
    pretty,
    solutions,
)
from fizzplate.lesson.marking import Option, Point, Question
from fizzplate.lesson.misconceptions import correction, misconceptions
from fizzplate.lesson.question_parts import (
    asked,
    choice,
    solution_name,
)

if TYPE_CHECKING:
    from fizzplate.lesson.dice import Dice


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
        f"Why does {solution_name(formula)} turn alkaline when it is electrolysed?",
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
    return asked(
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
    return asked("solid", "melts", text, choice(dice, right, wrong, f"In the solid {right}."))


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
    return asked("application", "applications", text, choice(dice, right, wrong, reason), level=16)


def true_statement(dice: Dice) -> Question:
    """Ask which of four statements is right: the wrong ones are what learners say."""
    ideas = dice.some(misconceptions(), 4)
    right = ideas[0]
    wrong = [(each.wrong, correction(each.number), each.number) for each in ideas[1:]]
    options = choice(dice, right.right, wrong, right.right)
    return asked(
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
    return asked(
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
        f"{solution_name(formula)}. "
        "Then tick what your plan holds.",
        "list",
        len(points),
        " ".join(str(k) for k in range(1, len(points) + 1)),
        answer,
        points=points,
    )
