"""Makers of questions that ask for reasons and statements."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.chemistry import solutions
from fizzplate.questions.content import Point
from fizzplate.questions.maker import maker
from fizzplate.questions.makers.choices import table_choice
from fizzplate.questions.makers.mark_points import combine
from fizzplate.questions.makers.parts import (
    choice,
    choice_question,
    solution_name,
    text_question,
)
from fizzplate.questions.misconceptions import Idea, Misconception, correction, misconceptions
from fizzplate.questions.tables import candidates, edition_rows

if TYPE_CHECKING:
    from fizzplate.questions.makers.parts import Wrong
    from fizzplate.questions.question_types import Question
    from fizzplate.questions.random_source import RandomSource
    from fizzplate.words import Wording

SOLIDS = ("NaCl", "KI", "ZnCl2", "KBr", "CuCl2", "MgCl2", "CaCl2", "NaBr")


@maker("solid", topic="melts", level=14, version=1)
def solid_conducts(rng: RandomSource) -> Question:
    """Ask why a solid salt does not conduct, or what lets it."""
    name = solutions()[rng.one_of(SOLIDS)].name
    if rng.number(2) == 0:
        return table_choice(rng, "solid", name=name)
    melted = rng.one_of(("melted", "dissolved in water"))
    return table_choice(rng, "solid changed", name=name, melted=melted)


@maker("why a solid does not conduct", topic="melts", level=14, version=1)
def why_solid(rng: RandomSource) -> Question:
    """Ask for the reason in words why a solid does not conduct and a melt or a solution does."""
    formula = rng.one_of(SOLIDS)
    molten = rng.number(2) == 0
    name = solutions()[formula].name
    other = f"molten {name}" if molten else solution_name(formula, rng.wording)
    return conducts_in_words(name, other, "molten" if molten else "dissolved", rng.wording)


def conducts_in_words(name: str, other: str, how: str, wording: Wording) -> Question:
    """Ask why a solid does not conduct, and the same molten or dissolved does.

    Parameters
    ----------
    name, other
        The solid, and the liquid, in words.
    how
        What the solid is in the liquid: "molten" or "dissolved".
    wording
        The board's.
    """
    points = (_held_ions(), _moving_ions())
    answer = (
        f"In the solid the ions are held in the lattice; when it is {how} the ions can move and carry the "
        "current."
    )
    text = f"Explain why {other} conducts electricity, but solid {name} does not."
    return text_question(text, answer, points, wording=wording)


#: other verbs for ions that move
GOING = ("go", "spread")


def _held_ions() -> Point:
    """Return what earns the mark for the solid."""
    return Point(
        "in the solid the ions are held in place",
        (
            "held",
            "not move",
            "unable to move",
            *combine(("not", "unable to", "nowhere to"), (*GOING, "leave", "escape", "get out")),
            *combine(("too ..",), ("to move", "to get anywhere", "to leave", "to go")),
            *("no way", "no chance", "no room", "no movement", "no motion", "not move until"),
            *(
                "no ions .. move",
                "no mobile ions",
                "no move",
                "only moves when",
                "moves only when",
                "only when .. move",
            ),
            *combine(
                ("only move", "only mobile"), ("in molten", "in melt", "in solution", "in liquid")
            ),
            *(
                "bonded tightly",
                "tightly bonded",
                "strongly bonded",
                "packed tightly",
                "tightly packed",
            ),
            *combine(
                ("stay in", "kept in", "sit in"), ("one place", "their place", "their places")
            ),
            *combine(
                ("ions .. move &",),
                ("not when solid", "not when it is solid", "not in the solid", "not as a solid"),
            ),
            "vibrate",
            "lattice",
            "in fixed",
            *combine(("stay", "set", "kept"), ("in place", "in position", "where they are")),
        ),
        (
            "no ions in the solid",
            "has no ions",
            "there are no ions",
            *combine(
                ("electrons ..", "electrons .. move & they .."), ("not move", "not go", "held")
            ),
            *("electrons & held when solid", "electrons & held in the solid"),
            *combine(
                ("solid ions", "solid the ions", "solid they", "ions of solid"),
                ("can move", "are free"),
            ),
            *combine(("molecules ..", "atoms .."), ("not move", "held")),
        ),
        ("solid",),
    )


def _moving_ions() -> Point:
    """Return what earns the mark for the melt or the solution."""
    return Point(
        "when molten or dissolved the ions can move",
        (
            *combine(
                ("ions ..", "they", "charged particles .."),
                ("move", "carry", "split free", "loose", "dissociat", "transport", "reach", *GOING),
            ),
            *combine(
                ("ions ..", "they ..", "ions"),
                ("make from", "pass on", "released from", "set free"),
            ),
            *combine(("frees", "freeing", "set free", "sets free", "let go"), ("ions", "the ions")),
            *combine(
                ("let ..", "lets ..", "letting ..", "allows ..", "allow ..", "allowing .."),
                ("move",),
            ),
            *combine(
                ("ion &",), ("carry charge", "carry the charge", "carry current", "carry electric")
            ),
            *("not move until", "ions only move"),
            *("mobile ions", "free ions", "ions free", "then move"),
            *combine(("but", "and", "when molten", "when dissolved"), ("move", "they move")),
        ),
        (
            *combine(("electrons ..",), ("not move & they move", "held & they move")),
            *combine(
                ("molten", "melted", "dissolved", "solution", "liquid", "melt"),
                (
                    "not move",
                    "they not move",
                    "ions not move",
                    "it not move",
                    "they held",
                    "ions held",
                ),
            ),
            *combine(("electrons ..",), ("move", "carry")),
            "free electrons",
            *combine(("no free electrons",), (".. they move", ".. but they move", ".. when they")),
        ),
        ("move", "particles .. move"),
    )


def board_misconceptions(rng: RandomSource) -> list[Misconception]:
    """Return the misconceptions that make sense with the board's names for the electrodes.

    That a cathode is negative cannot be discussed where it is called the negative electrode.
    """
    numbers = set(map(int, candidates("misconception", rng.edition)))
    if rng.wording.electrode_names == "negative":
        numbers.discard(Idea.CATHODE_ALWAYS_NEGATIVE)
    return [each for number, each in misconceptions(rng.wording).items() if number in numbers]


@maker("true statement", topic="ideas", level=14, version=3, since=1)
def true_statement(rng: RandomSource) -> Question:
    """Ask which statement of a topic is right: the wrong ones are what learners say."""
    ideas = board_misconceptions(rng)
    topic = rng.one_of(edition_rows("statement_topics", rng.edition))
    about = topic.text("text")
    of_topic = rng.sample((each for each in ideas if each.topic == topic["topic"]), 4)
    right = of_topic[0]
    wrong: list[Wrong] = [
        (each.wrong, correction(each.number, rng.wording), each.number) for each in of_topic[1:]
    ]
    text = rng.one_of(
        (
            f"Which of these statements about {about} is right?",
            f"Four students talk about {about} in electrolysis. Who is right?",
        )
    )
    bench = f" {right.qualification}." if right.qualification else ""
    reason = f"This one is right; the others are mistakes that learners often make.{bench}"
    options = choice(rng, right.right, wrong, reason)
    return choice_question(text, options, watch=right.watch)


@maker("wrong statement", topic="ideas", level=14, version=3, since=1)
def false_statement(rng: RandomSource) -> Question:
    """Ask which statement of a topic is wrong: it is what learners say."""
    topic = rng.one_of(edition_rows("statement_topics", rng.edition))
    about = topic.text("text")
    of_topic = rng.sample(
        (each for each in board_misconceptions(rng) if each.topic == topic["topic"]), 4
    )
    mistake = of_topic[0]
    wrong: list[Wrong] = [
        (
            each.right,
            (
                f"That statement is right. What is wrong is to say instead: “{each.wrong}” In this list "
                f"the wrong one is “{mistake.wrong}”"
            ),
            each.number,
        )
        for each in of_topic[1:]
    ]
    text = rng.one_of(
        (
            f"Which of these statements about {about} is wrong?",
            f"Three of these statements about {about} are right. Which one is not?",
        )
    )
    options = choice(
        rng, mistake.wrong, wrong, f"It is wrong. {correction(mistake.number, rng.wording)}"
    )
    return choice_question(text, options, watch=mistake.watch)
