"""Sets of questions by a seed: the same for everyone who has the seed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.questions.board_names import in_board_names
from fizzplate.questions.dice import Dice
from fizzplate.questions.maker import TOPICS
from fizzplate.questions.makers.registry import MAKERS
from fizzplate.words.refusals import InputError, choice, number

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.questions.question_types import Question
    from fizzplate.words.wording import Wording

__all__ = ["LEVELS", "MAKERS", "MOST", "TOPICS", "another", "questions"]

LEVELS = (14, 16)
MOST = 100
TRIES = 12  # rounds through the makers in search of a question that has not been asked
TERM = 6  # sets with numbers that follow one another, which do not repeat each other's questions
OTHERS = 20  # draws of one maker in search of a question that differs


def questions(
    *,
    seed: int,
    count: int = 10,
    topics: Sequence[str] = (),
    level: int = 16,
    strict: bool = False,
    wording: Wording | None = None,
) -> list[Question]:
    """Make a set of questions.

    Parameters
    ----------
    seed
        The same seed gives the same set everywhere.
    count
        How many; fewer come if the topics have no more that differ.
    topics
        Names in :data:`TOPICS`; all of them, if none is given.
    level
        14 (14 to 16 years) or 16 (16 to 18).
    strict
        Whether a missing unit, or more figures than the data allow, cost a mark.
    wording
        The board's: half-equations, the names of the electrodes, what counts as dilute.

    Raises
    ------
    InputError
        If a topic or the level is not offered, or no maker is left.

    Examples
    --------
    >>> [asked.topic for asked in questions(seed=3, count=4, topics=["ions", "tests"], level=14)]
    ['ions', 'ions', 'tests', 'tests']
    """
    number("seed", seed, unit="", at_least=0)
    number("count", count, unit="questions", at_least=1, at_most=MOST)
    if level not in LEVELS:
        raise InputError("level", level, "14 or 16")
    for topic in topics:
        choice("topics", topic, TOPICS)
    wanted = [
        each.name
        for each in MAKERS.values()
        if each.level <= level and (not topics or each.topic in topics)
    ]
    if not wanted:
        raise InputError(
            "topics", ", ".join(topics), f"topics that have questions at level {level}"
        )
    before: set[str] = set()
    made: list[Question] = []
    # sets whose numbers follow one another are an hour's revision: they ask for different things
    for each in range(seed - seed % TERM, seed + 1):
        made = _set(wanted, Dice(each, wording), count, before, strict=strict)
        before |= {asked.text for asked in made}
    return made


def _set(
    wanted: list[str], dice: Dice, count: int, before: set[str], *, strict: bool
) -> list[Question]:
    """Make a set of questions that differ from each other, and from the texts before where they can."""
    made: list[Question] = []
    # once nothing new is found, what was asked before may come again, and then the same answer
    for alike, again in ((_same, False), (_same, True), (_same_text, True)):
        for _ in range(TRIES):
            for name in dice.shuffled(wanted):
                if len(made) == count:
                    return made
                asked = _made(name, dice.fork(), strict=strict)
                known = not again and asked.text in before
                if not known and not any(alike(asked, each) for each in made):
                    made.append(asked)
    return made


def another(
    maker: str,
    seed: int,
    *,
    unlike: str = "",
    strict: bool = False,
    wording: Wording | None = None,
) -> Question:
    """Make another question like one: by the same maker.

    Parameters
    ----------
    maker
        A name in :data:`MAKERS`, as ``Question.maker`` holds it.
    seed
        The same seed gives the same question everywhere.
    unlike
        The text of the question that it should differ from, where the maker knows another.
    strict, wording
        As for a set.

    Raises
    ------
    InputError
        If there is no such maker.

    Examples
    --------
    >>> another("gas test", 5).maker
    'gas test'
    """
    choice("maker", maker, MAKERS)
    number("seed", seed, unit="", at_least=0)
    dice = Dice(seed, wording)
    found = _made(maker, dice.fork(), strict=strict)
    for _ in range(OTHERS):
        if found.text != unlike:
            break
        found = _made(maker, dice.fork(), strict=strict)
    return found


def _made(name: str, dice: Dice, *, strict: bool) -> Question:
    """Make a question in the board's words."""
    asked = in_board_names(MAKERS[name](dice), dice.wording)
    return asked.with_strict_units(strict=strict)


def _same(asked: Question, other: Question) -> bool:
    """Whether two questions come to the same, whatever their words."""
    if asked.text == other.text:
        return True
    return (asked.maker, asked.gist, asked.chart) == (other.maker, other.gist, other.chart)


def _same_text(asked: Question, other: Question) -> bool:
    """Whether two questions are the same but for the order of their options."""
    return asked.text == other.text and asked.answer == other.answer
