"""A maker of questions: a function that a decorator gives its name, topic, level and version."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from fizzplate.words.refusals import choice

if TYPE_CHECKING:
    from fizzplate.questions.dice import Dice
    from fizzplate.questions.question_types import Question

#: what questions are about, in the order in which a page offers it
TOPICS = (
    "words",
    "ions",
    "drift",
    "current",
    "products",
    "melts",
    "observations",
    "tests",
    "half-equations",
    "what is left",
    "quantities",
    "charts",
    "rule and bench",
    "ideas",
    "applications",
    "practical work",
)

#: maker, topic and level of a question that no maker has signed yet
UNDECLARED = ("", "", 0)

Make = Callable[["Dice"], "Question"]


@dataclass(frozen=True, slots=True)
class Maker:
    """A function that makes questions of one kind.

    Parameters
    ----------
    name
        What questions and links call it.
    topic
        What its questions are about.
    level
        From which level it is asked: 14 or 16.
    version
        Raised by whoever changes what it makes.
    make
        The function.
    """

    name: str
    topic: str
    level: int
    version: int
    make: Make

    def __call__(self, dice: Dice) -> Question:
        """Make a question under the maker's name."""
        made = self.make(dice)
        return replace(made, maker=self.name, topic=self.topic, level=self.level)


def maker(name: str, *, topic: str, level: int, version: int) -> Callable[[Make], Maker]:
    """Declare the function below as a maker.

    Raises
    ------
    InputError
        If the topic is not in :data:`TOPICS`.

    Examples
    --------
    >>> from fizzplate.questions.makers.ions import which_way
    >>> which_way.name, which_way.topic, which_way.level, which_way.version
    ('which way', 'drift', 14, 1)
    """
    choice("topic", topic, TOPICS)
    return lambda make: Maker(name, topic, level, version, make)
