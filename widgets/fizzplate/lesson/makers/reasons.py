"""Makers of questions that ask for reasons and statements."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.chemistry import solutions
from fizzplate.lesson.makers.parts import asked, choice, solution_name, written
from fizzplate.lesson.misconceptions import Misconception, correction, misconceptions
from fizzplate.lesson.question import Point

if TYPE_CHECKING:
    from fizzplate.lesson.dice import Dice
    from fizzplate.lesson.makers.parts import Wrong
    from fizzplate.lesson.question import Question

SOLIDS = ("NaCl", "KI", "ZnCl2", "KBr", "CuCl2", "MgCl2", "CaCl2", "NaBr")
#: what statements of a topic are about
ABOUT = {
    "ions": "ions and the liquid that they are in",
    "current": "what carries the current",
    "electrodes": "electrodes",
    "electrons and amounts": "electrons and amounts",
    "products": "products and what they depend on",
}


def solid_conducts(dice: Dice) -> Question:
    """Ask why a solid salt does not conduct, or what lets it."""
    name = solutions()[dice.one_of(SOLIDS)].name
    if dice.number(2) == 0:
        right = "its ions are held in the lattice and cannot move"
        wrong: list[Wrong] = [
            (
                "it has no ions until it is melted or dissolved",
                "The ions are there in the solid already; melting or dissolving only sets them free.",
                1,
            ),
            ("its electrons are held in the bonds and cannot move", correction(3), 3),
            (
                "only its negative ions could move, and there are too few of them",
                correction(19),
                19,
            ),
            (
                "it holds no water, and water is what conducts",
                "Molten salts conduct too, and hold no water: the ions carry the current.",
                14,
            ),
        ]
        text = f"Why does solid {name} not conduct electricity?"
        reason = f"In the solid {right}; they can when it is melted or dissolved."
    else:
        right = "its ions become free to move"
        wrong = [
            (
                "it turns into ions, which it did not hold before",
                "The ions are there in the solid already; they only become free to move.",
                1,
            ),
            ("its electrons become free to move", correction(3), 3),
            (
                "its negative ions become free to move, and its positive ions stay in place",
                correction(19),
                19,
            ),
        ]
        how = dice.one_of(("melted", "dissolved in water"))
        text = f"What changes when solid {name} is {how}, so that it conducts electricity?"
        reason = "The ions are there in the solid as well, but they are held in the lattice."
    return asked("solid", "melts", text, choice(dice, right, wrong, reason))


def why_solid(dice: Dice) -> Question:
    """Ask for the reason in words why a solid does not conduct and a melt or a solution does."""
    formula = dice.one_of(SOLIDS)
    molten = dice.number(2) == 0
    name = solutions()[formula].name
    other = f"molten {name}" if molten else solution_name(formula, dice.wording)
    move = ("move", "mobile", "free ions", "flow")
    points = (
        Point(
            "in the solid the ions are held in place",
            (
                "held",
                "fixed",
                "cannot move",
                "can't move",
                "can not move",
                "not move",
                "unable to move",
                "not free",
                "locked",
                "lattice",
                "aren't free",
                "not able to move",
            ),
            ("no ions in the solid", "electrons cannot", "electrons are held"),
            ("solid",),
        ),
        Point(
            "when molten or dissolved the ions can move",
            (
                "ions can move",
                "ions are free",
                "ions move",
                "free to move",
                "ions are able to move",
                "mobile ions",
                "ions are mobile",
                "ions become mobile",
                "they can move",
                "they are free",
                "they move",
            ),
            ("electrons are free", "electrons can move", "free electrons", "electrons move"),
            move,
        ),
    )
    answer = (
        "In the solid the ions are held in the lattice; when it is "
        f"{'molten' if molten else 'dissolved'} the ions can move and carry the current."
    )
    text = f"Explain why {other} conducts electricity, but solid {name} does not."
    return written("why a solid does not conduct", "melts", text, answer, points)


def ideas_told(dice: Dice) -> list[Misconception]:
    """Return the ideas that can be told with the board's names for the electrodes.

    That a cathode is negative cannot be discussed where it is called the negative electrode.
    """
    by_sign = dice.wording.electrode_names == "negative"
    return [each for each in misconceptions() if not (by_sign and each.number == 4)]


def true_statement(dice: Dice) -> Question:
    """Ask which statement of a topic is right: the wrong ones are what learners say."""
    ideas = ideas_told(dice)
    topic = dice.one_of(list(ABOUT))
    of_topic = dice.some((each for each in ideas if each.topic == topic), 4)
    right = of_topic[0]
    wrong: list[Wrong] = [
        (each.wrong, correction(each.number), each.number) for each in of_topic[1:]
    ]
    text = dice.one_of(
        (
            f"Which of these statements about {ABOUT[topic]} is right?",
            f"Four students talk about {ABOUT[topic]} in electrolysis. Who is right?",
        )
    )
    reason = f"It is right; the others are what learners often say. {right.bench}".strip()
    options = choice(dice, right.right, wrong, f"{reason.removesuffix('.')}.")
    return asked("true statement", "ideas", text, options, watch=right.watch)


def false_statement(dice: Dice) -> Question:
    """Ask which statement of a topic is wrong: it is what learners say."""
    topic = dice.one_of(list(ABOUT))
    of_topic = dice.some((each for each in ideas_told(dice) if each.topic == topic), 4)
    mistake = of_topic[0]
    wrong: list[Wrong] = [
        (
            each.right,
            (
                f"That statement is right. The wrong one is “{mistake.wrong}” In fact: "
                f"{correction(mistake.number)}"
            ),
            mistake.number,
        )
        for each in of_topic[1:]
    ]
    text = dice.one_of(
        (
            f"Which of these statements about {ABOUT[topic]} is wrong?",
            f"Three of these statements about {ABOUT[topic]} are right. Which one is not?",
        )
    )
    options = choice(dice, mistake.wrong, wrong, f"It is wrong. {correction(mistake.number)}")
    return asked("wrong statement", "ideas", text, options, watch=mistake.watch)
