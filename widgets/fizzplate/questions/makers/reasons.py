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

SOLIDS = ("NaCl", "KI", "ZnCl2", "KBr", "CuCl2", "MgCl2", "CaCl2", "NaBr")
#: ways to say that ions move
MOVING = (
    "can move",
    "can now move",
    "can then move",
    "are free",
    "are now free",
    "are then free",
    "free to move",
    "become free",
    "move",
    "now move",
    "are able to move",
    "are mobile",
    "become mobile",
    "can flow",
    "can carry",
)


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
    points = (_held_ions(), _moving_ions())
    answer = (
        "In the solid the ions are held in the lattice; when it is "
        f"{'molten' if molten else 'dissolved'} the ions can move and carry the current."
    )
    text = f"Explain why {other} conducts electricity, but solid {name} does not."
    return text_question(text, answer, points, wording=rng.wording)


def _held_ions() -> Point:
    """Return what earns the mark for the solid."""
    return Point(
        "in the solid the ions are held in place",
        (
            "held",
            "fixed",
            "cannot move",
            "can't move",
            "can not move",
            "not move",
            "unable to move",
            "couldn't move",
            "don't move",
            "no ions can move",
            "no ions move",
            "no mobile ions",
            "no moving ions",
            "no free ions",
            "immobile",
            "stuck",
            "trapped",
            "vibrate",
            "not free",
            "locked",
            "lattice",
            "aren't free",
            "not able to move",
        ),
        ("no ions in the solid", "has no ions", "electrons cannot", "electrons are held"),
        ("solid",),
    )


def _moving_ions() -> Point:
    """Return what earns the mark for the melt or the solution."""
    return Point(
        "when molten or dissolved the ions can move",
        (
            # not "free to move" alone: that would be found in "not free to move"
            *combine(("ions", "they", "particles", "particles now", "ions now"), MOVING),
            *combine(
                (
                    "are",
                    "become",
                    "becoming",
                    "being",
                    "then",
                    "now",
                    "and",
                    "but",
                    "is",
                    "molten",
                ),
                ("free to move", "able to move", "free to flow"),
            ),
            "ions that can move",
            "ions that move",
            "ions that are free",
            "ions which can move",
            "ions which are free",
            "has mobile ions",
            "contains mobile ions",
            "has free ions",
            "contains free ions",
            "has free-moving ions",
            "can move freely",
            "can flow",
            "lets the ions move",
            "lets them move",
            "allows the ions to move",
            "allows them to move",
            "allowing the ions to move",
            "allowing them to move",
            "allowing ions to move",
            "breaks free",
            "break free",
        ),
        (
            "electrons are free",
            "electrons can move",
            "electrons are able to move",
            "electrons become free",
            "electrons free to move",
            "has free electrons",
            "contains free electrons",
            "its electrons move",
            "the electrons move",
            "because electrons move",
        ),
        ("move", "mobile", "free ions", "flow"),
    )


def board_misconceptions(rng: RandomSource) -> list[Misconception]:
    """Return the misconceptions that make sense with the board's names for the electrodes.

    That a cathode is negative cannot be discussed where it is called the negative electrode.
    """
    numbers = set(map(int, candidates("misconception", rng.edition)))
    if rng.wording.electrode_names == "negative":
        numbers.discard(Idea.CATHODE_ALWAYS_NEGATIVE)
    return [each for number, each in misconceptions(rng.wording).items() if number in numbers]


@maker("true statement", topic="ideas", level=14, version=1)
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


@maker("wrong statement", topic="ideas", level=14, version=1)
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
                f"That statement is right. The wrong one is “{mistake.wrong}” In fact: "
                f"{correction(mistake.number, rng.wording)}"
            ),
            mistake.number,
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
