"""A maker of questions: a function that a decorator gives its name, topic, level and version."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from fizzplate.questions.random_source import EDITION
from fizzplate.words import choice, number

if TYPE_CHECKING:
    from fizzplate.questions.question_types import Question
    from fizzplate.questions.random_source import RandomSource

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

Make = Callable[["RandomSource"], "Question"]


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
        The edition in which it was changed last.
    since
        The edition in which it came: sets of earlier editions do without it.
    make
        The function.
    holds
        Names of makers that ask what a part of its questions asks: no set asks both while it can do without.
    """

    name: str
    topic: str
    level: int
    version: int
    since: int
    make: Make
    holds: tuple[str, ...] = ()

    def __call__(self, rng: RandomSource) -> Question:
        """Make a question under the maker's name."""
        made = self.make(rng)
        return replace(made, maker=self.name, topic=self.topic, level=self.level)


def maker(
    name: str, *, topic: str, level: int, version: int, since: int = 0, holds: tuple[str, ...] = ()
) -> Callable[[Make], Maker]:
    """Declare the function below as a maker.

    Whoever adds one gives it the next :data:`~fizzplate.questions.random_source.EDITION` for its version;
    whoever changes what one makes does so too, and says in ``since`` in which edition it came.

    Raises
    ------
    InputError
        If the topic is not in :data:`TOPICS`, or the version is none that there is.

    Examples
    --------
    >>> from fizzplate.questions.makers.ions import which_way
    >>> which_way.name, which_way.topic, which_way.level, which_way.version
    ('which way', 'drift', 14, 1)
    """
    choice("topic", topic, TOPICS)
    number("version", version, unit="", minimum=1, maximum=EDITION)
    return lambda make: Maker(name, topic, level, version, since or version, make, holds)
