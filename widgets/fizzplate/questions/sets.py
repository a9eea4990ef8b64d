"""Sets of questions by a seed: the same for everyone who has the seed."""

from __future__ import annotations

from itertools import count as counted
from types import MappingProxyType
from typing import TYPE_CHECKING

from fizzplate.questions.maker import TOPICS
from fizzplate.questions.makers import MAKERS
from fizzplate.questions.random_source import EDITION, RandomSource, seed_of
from fizzplate.words import InputError, choice, number

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from fizzplate.questions.question_types import Question
    from fizzplate.words import Wording

__all__ = [
    "LEVELS",
    "MAKERS",
    "MAX_QUESTIONS",
    "TOPICS",
    "another",
    "different_questions",
    "maker_order",
    "questions",
]

#: from which age on questions are asked, and how pages and papers name it
LEVELS = MappingProxyType({14: "14 to 16", 16: "16 to 18"})
MAX_QUESTIONS = 100
TRIES = 12  # rounds through the makers in search of a question that has not been asked
SETS_IN_A_TERM = (
    6  # sets with consecutive numbers, none of which repeats the questions of those before it
)
QUESTIONS_NOT_REPEATED = (
    20  # of each set, however long it is: the later sets of its term avoid them
)
MAX_REDRAWS = 20  # of one maker in search of a question that differs


def questions(
    *,
    seed: int,
    count: int = 10,
    topics: Sequence[str] = (),
    level: int = 16,
    strict: bool = False,
    wording: Wording | None = None,
    edition: int = EDITION,
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
    edition
        Of the questions: makers and rows that came later are left out, so that the set stays as it was.

    Raises
    ------
    InputError
        If a topic or the level is not offered, or no maker is left.

    Examples
    --------
    >>> [question.topic for question in questions(seed=3, count=4, topics=["ions", "tests"], level=14)]
    ['tests', 'ions', 'ions', 'tests']
    """
    number("seed", seed, unit="", minimum=0)
    number("count", count, unit="questions", minimum=1, maximum=MAX_QUESTIONS)
    if level not in LEVELS:
        raise InputError("level", level, " or ".join(map(str, LEVELS)))
    for topic in topics:
        choice("topics", topic, TOPICS)
    wanted = [
        each.name
        for each in MAKERS.values()
        if each.since <= edition and each.level <= level and (not topics or each.topic in topics)
    ]
    if not wanted:
        raise InputError(
            "topics", ", ".join(topics), f"topics that have questions at level {level}"
        )
    before: set[str] = set()
    # sets with consecutive numbers revise one after another, so they ask different things
    for each in range(seed - seed % SETS_IN_A_TERM, seed):
        made = _set(
            _draws(each, wanted, wording, edition), QUESTIONS_NOT_REPEATED, before, strict=strict
        )
        before |= {question.text for question in made}
    return _set(_draws(seed, wanted, wording, edition), count, before, strict=strict)


def _draws(
    seed: int, wanted: list[str], wording: Wording | None, edition: int
) -> Iterator[tuple[int, str, RandomSource]]:
    """Go through the makers, round by round in an order of its own, with a random source for each.

    Order and random source follow from the set's number, the round and the maker's name: another maker
    changes neither.
    """
    for turn in counted():
        for name in maker_order(seed, turn, wanted):
            yield turn, name, RandomSource(seed_of(seed, turn, name, "dice"), wording, edition)


def different_questions(
    seed: int,
    most: int,
    *,
    topic: str,
    level: int,
    strict: bool,
    wording: Wording | None,
    edition: int,
) -> list[Question]:
    """Make questions on one topic that differ from each other, in the order of a set with this number.

    Parameters
    ----------
    most
        How many at most; fewer come if the topic has no more.
    seed, topic, level, strict, wording, edition
        As for a set.

    Examples
    --------
    >>> made = different_questions(
    ...     3, 5, topic="tests", level=14, strict=False, wording=None, edition=EDITION
    ... )
    >>> len({each.text for each in made})
    5
    """
    wanted = [
        each.name
        for each in MAKERS.values()
        if each.since <= edition and each.level <= level and each.topic == topic
    ]
    if not wanted:
        return []
    return _set(_draws(seed, wanted, wording, edition), most, set(), strict=strict)


def maker_order(seed: int, turn: int, names: Iterable[str]) -> list[str]:
    """Return makers in the order of one round of a set: it follows from the set's number and their names."""
    return sorted(names, key=lambda name: seed_of(seed, turn, name))


def _set(
    draws: Iterator[tuple[int, str, RandomSource]], most: int, before: set[str], *, strict: bool
) -> list[Question]:
    """Make a set of questions that differ from each other, and from the texts before where they can."""
    made: list[Question] = []
    for turn, name, rng in draws:
        if len(made) == most or turn == len(PASSES) * TRIES:
            break
        # once nothing new is found, earlier sets' questions may come again, and then the same answer
        is_same, may_repeat = PASSES[turn // TRIES]
        found = _make_question(name, rng, strict=strict)
        repeats = found.text in before and not may_repeat
        held = not may_repeat and any(_holds(found, each) or _holds(each, found) for each in made)
        if not repeats and not held and not any(is_same(found, each) for each in made):
            made.append(found)
    return made


def another(
    maker: str,
    seed: int,
    *,
    unlike: str = "",
    strict: bool = False,
    wording: Wording | None = None,
    edition: int = EDITION,
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
    strict, wording, edition
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
    number("seed", seed, unit="", minimum=0)
    rng = RandomSource(seed, wording, edition)
    found = _make_question(maker, rng.fork(), strict=strict)
    for _ in range(MAX_REDRAWS):
        if found.text != unlike:
            break
        found = _make_question(maker, rng.fork(), strict=strict)
    return found


def _make_question(name: str, rng: RandomSource, *, strict: bool) -> Question:
    return MAKERS[name](rng).with_strict_units(strict=strict)


def _same(question: Question, other: Question) -> bool:
    """Whether two questions ask the same thing in other words."""
    if question.text == other.text:
        return True
    return (question.maker, question.comparison_key, question.chart) == (
        other.maker,
        other.comparison_key,
        other.chart,
    )


def _holds(question: Question, other: Question) -> bool:
    """Whether a part of a question asks what another question asks, perhaps with other numbers."""
    asked = {each.text for each in question.sections}
    return other.maker in MAKERS[question.maker].holds or other.text in asked


def _same_text(question: Question, other: Question) -> bool:
    """Whether two questions are the same but for the order of their options."""
    return question.text == other.text and question.answer == other.answer


#: what counts as the same question, and whether questions of earlier sets may come again, strictest first
PASSES = ((_same, False), (_same, True), (_same_text, True))
