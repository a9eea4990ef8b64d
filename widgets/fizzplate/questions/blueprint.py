"""The blueprint of a set: by topic how many questions, for how many marks, how many of them harder."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby
from typing import TYPE_CHECKING

from fizzplate.questions.maker import TOPICS
from fizzplate.questions.sets import LEVELS, MAX_QUESTIONS, different_questions
from fizzplate.words import InputError, choice, number

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from fizzplate.questions.question_types import Question
    from fizzplate.words import Wording

MAX_MARKS = 300
HARDER_MARKS = 4  # and more, at any level
POOL = 3  # times the questions wanted, and at least LEAST, are there to choose from
LEAST = 40


@dataclass(frozen=True, slots=True)
class BlueprintRow:
    """What a paper asks on one topic.

    Parameters
    ----------
    topic
        A name in :data:`~fizzplate.questions.maker.TOPICS`.
    count
        How many questions.
    marks
        What they are worth together.
    harder
        How many of them are harder (:func:`is_harder`).

    Raises
    ------
    InputError
        If something cannot be used; it names what was given and what is allowed.
    """

    topic: str
    count: int
    marks: int
    harder: int = 0

    def __post_init__(self) -> None:
        choice("topic", self.topic, TOPICS)
        limits = (
            ("questions", self.count, 1, MAX_QUESTIONS),
            ("marks", self.marks, 1, MAX_MARKS),
            ("harder", self.harder, 0, self.count),
        )
        for name, value, least, most in limits:
            number(f"{self.topic}, {name}", value, unit="", minimum=least, maximum=most)
            if value != round(value):
                allowed = f"a whole number from {least} to {most}"
                raise InputError(f"{self.topic}, {name}", value, allowed)

    def __str__(self) -> str:
        """Say what the row asks for."""
        questions = f"{self.count} question{'' if self.count == 1 else 's'}"
        return (
            f"{questions}, {self.harder} harder, {self.marks} mark{'' if self.marks == 1 else 's'}"
        )


def is_harder(question: Question) -> bool:
    """Whether a question is harder: of the level 16 to 18, or worth four marks or more.

    Examples
    --------
    >>> from fizzplate.questions.sets import another
    >>> is_harder(another("mass", 1)), is_harder(another("gas test", 1))
    (True, False)
    """
    return question.level == max(LEVELS) or question.marks >= HARDER_MARKS


def blueprint_of(questions: Iterable[Question]) -> tuple[BlueprintRow, ...]:
    """Return the blueprint that a set has, topics in the order in which a page offers them.

    Examples
    --------
    >>> from fizzplate.questions.sets import questions
    >>> made = questions(seed=3, count=4, topics=["ions", "tests"], level=14)
    >>> write_blueprint(blueprint_of(made))
    'ions:2:3:0;tests:2:2:0'
    """
    known = sorted(
        (each for each in questions if each.topic in TOPICS),
        key=lambda each: TOPICS.index(each.topic),
    )
    rows = []
    for topic, group in groupby(known, key=lambda each: each.topic):
        asked = list(group)
        marks = sum(each.marks for each in asked)
        rows.append(BlueprintRow(topic, len(asked), marks, sum(map(is_harder, asked))))
    return tuple(rows)


def questions_by(
    rows: Sequence[BlueprintRow],
    *,
    seed: int,
    level: int,
    strict: bool,
    wording: Wording | None,
    edition: int,
) -> list[Question]:
    """Make the questions of a blueprint: as many on each topic as it says, for just its marks.

    Of those that a topic's makers give for the seed, the first that fit are taken.

    Raises
    ------
    InputError
        If a row cannot be met; it names the row, and what is possible.

    Examples
    --------
    >>> row = BlueprintRow("tests", 3, 5)
    >>> made = questions_by([row], seed=3, level=14, strict=False, wording=None, edition=3)
    >>> len(made), sum(each.marks for each in made)
    (3, 5)
    """
    made: list[Question] = []
    for row in rows:
        pool = different_questions(
            seed,
            max(LEAST, POOL * row.count),
            topic=row.topic,
            level=level,
            strict=strict,
            wording=wording,
            edition=edition,
        )
        made += [pool[k] for k in _places(row, pool, level)]
    return made


def _places(row: BlueprintRow, pool: Sequence[Question], level: int) -> tuple[int, ...]:
    """Choose questions of a pool that meet a row: its count, its harder ones, its marks."""
    kinds = tuple((each.marks, is_harder(each)) for each in pool)
    wanted = (row.count, row.harder, row.marks)
    makers = tuple(each.maker for each in pool)
    # nobody asks the same thing twice with another solution, where a paper can do without
    for limit in (1, 2):
        if (found := _ways(kinds, row.count, makers, limit).get(wanted)) is not None:
            return tuple(sorted(found))
    ways = _ways(kinds, row.count)
    found = ways.get(wanted)
    if found is not None:
        return found
    years = f"{LEVELS[level]} years"
    harder = sorted({many for count, many, _ in ways if count == row.count})
    marks = sorted({m for c, many, m in ways if (c, many) == (row.count, row.harder)})
    if not harder:
        most = f"{len(pool)} question{'' if len(pool) == 1 else 's'}"
        allowed = f"at most {most} on this topic, for {years}" if pool else "another topic"
        why = "" if pool else f"no questions have this topic for {years}"
        raise InputError(row.topic, str(row), allowed, why=why)
    if not marks:
        why = f"of {row.count} on this topic, for {years}, not so many can be harder"
        if row.harder < harder[0]:
            why = f"of {row.count} on this topic, for {years}, more are harder"
        raise InputError(row.topic, str(row), f"{_listed(harder)} harder", why=why)
    raise InputError(row.topic, str(row), f"{_listed(marks)} marks for so many questions")


@lru_cache(maxsize=64)
def _ways(
    kinds: tuple[tuple[int, bool], ...],
    most: int,
    makers: tuple[str, ...] = (),
    most_of_a_maker: int = 0,
) -> dict[tuple[int, int, int], tuple[int, ...]]:
    """Return what so many questions can come to: by count, harder ones and marks, which are taken.

    Of several ways the one found first is kept, which takes the earliest questions.

    Parameters
    ----------
    kinds
        Marks of each question, and whether it is harder.
    most
        Questions that are taken at most.
    makers, most_of_a_maker
        Who makes each question, and how many of one maker are taken at most; 0 for as many as there are.

    Examples
    --------
    >>> kinds = ((2, False), (2, False), (1, False))
    >>> _ways(kinds, 2)[2, 0, 4], (2, 0, 4) in _ways(kinds, 2, ("a", "a", "b"), 1)
    ((0, 1), False)
    """
    groups: dict[tuple[str, int], list[int]] = {}
    seen: Counter[str] = Counter()
    for place in range(len(kinds)):
        maker = makers[place] if makers else ""
        turn = seen[maker] % most_of_a_maker if most_of_a_maker else place
        groups.setdefault((maker, turn), []).append(place)
        seen[maker] += 1
    ways: dict[tuple[int, int, int], tuple[int, ...]] = {(0, 0, 0): ()}
    for places in groups.values():  # of which one is taken, or none
        for (count, many, total), taken in list(ways.items()):
            for place in places if count < most else ():
                marks, harder = kinds[place]
                ways.setdefault((count + 1, many + harder, total + marks), (*taken, place))
    return ways


def _listed(numbers: Sequence[int]) -> str:
    """Name whole numbers, those in a row as a range.

    Examples
    --------
    >>> _listed([3, 4, 5, 8]), _listed([0])
    ('3 to 5 or 8', '0')
    """
    runs = [
        [n for _, n in group]
        for _, group in groupby(enumerate(numbers), key=lambda pair: pair[1] - pair[0])
    ]
    texts = [str(run[0]) if len(run) == 1 else f"{run[0]} to {run[-1]}" for run in runs]
    *first, last = texts
    return f"{', '.join(first)} or {last}" if first else last


def write_blueprint(rows: Iterable[BlueprintRow]) -> str:
    """Write a blueprint as links do.

    Examples
    --------
    >>> write_blueprint([BlueprintRow("what is left", 2, 3), BlueprintRow("charts", 1, 4, 1)])
    'what is left:2:3:0;charts:1:4:1'
    """
    return ";".join(f"{row.topic}:{row.count}:{row.marks}:{row.harder}" for row in rows)


def read_blueprint(text: str) -> tuple[tuple[BlueprintRow, ...], list[str]]:
    """Read a blueprint of a link; give it with sentences about what was left out.

    Examples
    --------
    >>> read_blueprint("tests:2:3:0;cooking:1:1:0")[1]
    ["blueprint: 'cooking:1:1:0' was left out. Write a topic, its questions, marks and harder questions."]
    """
    rows: dict[str, BlueprintRow] = {}
    left_out = []
    for each in filter(None, text.split(";")):
        topic, *numbers = each.split(":")
        try:
            count, marks, harder = (int(n) for n in numbers if n.isascii() and n.isdigit())
            rows.setdefault(topic, BlueprintRow(topic, count, marks, harder))
        except (InputError, ValueError):
            left_out.append(
                f"blueprint: {each[:30]!r} was left out. "
                "Write a topic, its questions, marks and harder questions."
            )
    return tuple(rows.values()), left_out
