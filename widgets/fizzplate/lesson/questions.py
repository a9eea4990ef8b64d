"""Sets of questions by a seed: the same for everyone who has the seed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.chemistry.checks import InputError, choice, number
from fizzplate.lesson import discharge_makers as products
from fizzplate.lesson import equation_makers as equations
from fizzplate.lesson import number_makers as numbers
from fizzplate.lesson import reason_makers as reasons
from fizzplate.lesson.dice import Dice

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from fizzplate.lesson.marking import Question

    Maker = Callable[[Dice], Question]

LEVELS = (14, 16)
MOST = 100
TRIES = 40  # for a question that has not been asked in the set

#: every maker with its topic, and the level from which it is asked
MAKERS: dict[str, tuple[Maker, str, int]] = {
    "definition": (products.definition, "words", 14),
    "ions present": (products.ions_present, "ions", 14),
    "which way": (products.which_way, "drift", 14),
    "product at the cathode": (products.cathode_product, "products", 14),
    "product at the anode": (products.anode_product, "products", 14),
    "active anode": (products.active_anode, "products", 14),
    "melt": (products.melt_products, "melts", 14),
    "mixture": (products.mixture, "products", 16),
    "dilute": (products.dilute, "products", 16),
    "observation": (products.observation, "observations", 14),
    "gas test": (products.gas_test, "tests", 14),
    "half-equation": (equations.write_half, "half-equations", 14),
    "correct a half-equation": (equations.correct_half, "half-equations", 14),
    "overall equation": (equations.write_overall, "half-equations", 16),
    "why alkaline": (reasons.why_alkaline, "what is left", 14),
    "blue": (reasons.why_blue_stays, "what is left", 14),
    "solid": (reasons.solid_conducts, "melts", 14),
    "charge": (numbers.charge, "quantities", 14),
    "mass": (numbers.mass, "quantities", 16),
    "gas volume": (numbers.volume, "quantities", 16),
    "time": (numbers.time_needed, "quantities", 16),
    "current": (numbers.current_needed, "quantities", 16),
    "ratio": (numbers.ratio, "quantities", 14),
    "yield": (numbers.percentage_yield, "quantities", 16),
    "two steps": (numbers.two_steps, "quantities", 16),
    "Faraday constant": (numbers.faraday_found, "quantities", 16),
    "gas at room temperature": (numbers.gas_at_room, "quantities", 16),
    "unfamiliar data": (products.unfamiliar, "products", 16),
    "find the mistake": (reasons.find_mistake, "ideas", 16),
    "true statement": (reasons.true_statement, "ideas", 14),
    "carbon or copper": (reasons.carbon_or_copper, "products", 16),
    "application": (reasons.plating, "applications", 16),
    "plan": (reasons.plan, "practical work", 16),
}
TOPICS = tuple(dict.fromkeys(topic for _, topic, _ in MAKERS.values()))


def questions(
    *, seed: int, count: int = 10, topics: Sequence[str] = (), level: int = 16
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

    Raises
    ------
    InputError
        If a topic or the level is not offered, or no maker is left.

    Examples
    --------
    >>> [asked.maker for asked in questions(seed=3, count=3, topics=["products"], level=14)]
    ['product at the anode', 'active anode', 'product at the cathode']
    """
    number("seed", seed, unit="", at_least=0)
    number("count", count, unit="questions", at_least=1, at_most=MOST)
    if level not in LEVELS:
        raise InputError("level", level, "14 or 16")
    for topic in topics:
        choice("topics", topic, TOPICS)
    wanted = [
        maker
        for maker, topic, from_level in MAKERS.values()
        if from_level <= level and (not topics or topic in topics)
    ]
    if not wanted:
        raise InputError(
            "topics", ", ".join(topics), f"topics that have questions at level {level}"
        )
    dice = Dice(seed)
    made: list[Question] = []
    known: set[str] = set()
    queue: list[Maker] = []
    for _ in range(TRIES * count):
        if len(made) == count:
            break
        queue = queue or dice.shuffled(wanted)
        asked = queue.pop()(dice.fork())
        if asked.text not in known or (asked.kind == "choice" and _same_stem(asked, made)):
            known.add(asked.text)
            made.append(asked)
    return made


def _same_stem(asked: Question, made: list[Question]) -> bool:
    """Whether a question with a general stem has options that were not asked yet."""
    general = asked.maker in {"true statement", "find the mistake"}
    return general and all(asked.answer != each.answer for each in made)
