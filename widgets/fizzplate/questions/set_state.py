"""Which set of questions is asked, and how: the state of the Revise page as the query of a link."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import TYPE_CHECKING

from fizzplate.lesson.state import from_query, query_of
from fizzplate.questions.blueprint import (
    BlueprintRow,
    questions_by,
    read_blueprint,
    write_blueprint,
)
from fizzplate.questions.makers import MAKERS
from fizzplate.questions.random_source import EDITION
from fizzplate.questions.sets import LEVELS, MAX_QUESTIONS, TOPICS, questions
from fizzplate.words import InputError, Wording, choice, number

if TYPE_CHECKING:
    from collections.abc import Collection

    from fizzplate.questions.question_types import Question

MAX_SEED = 999_999
MAX_MINUTES = 180
#: how a set is asked, and how a page names it
STYLES = MappingProxyType(
    {
        "practice": "one at a time",
        "follow": "practice that goes on",
        "clock": "against the clock",
        "board": "on the board",
    }
)
OPTIONS = (
    *("set", "edition", "count", "level", "topics", "topic", "style", "min", "units"),
    "blueprint",
)

_PARTS: dict[str, tuple[str, Collection[object]]] = {
    "set": ("seed", range(MAX_SEED + 1)),
    "edition": ("edition", range(1, EDITION + 1)),
    "count": ("count", range(1, MAX_QUESTIONS + 1)),
    "min": ("minutes", range(1, MAX_MINUTES + 1)),
    "level": ("level", LEVELS),
    "style": ("style", STYLES),
}


@dataclass(frozen=True, slots=True)
class QuestionSet:
    """A set of questions and how it is asked.

    Parameters
    ----------
    seed
        The number of the set: the same number gives the same questions to everyone.
    count
        How many questions.
    topics
        What they are about; nothing means everything.
    level
        14 (14 to 16 years) or 16 (16 to 18).
    style
        "practice" (marked one at a time), "follow" (as long as one wants, each question by the answers before
        it: see :mod:`~fizzplate.questions.practice`), "clock" (so many minutes, marked at the end) or "board"
        (shown to a class, the answer hidden until it is asked for).
    minutes
        Of the clock.
    strict
        Whether units and figures count.
    wording
        The board's.
    edition
        Of the questions: the same set of the same edition asks the same, whatever is added later.
    blueprint
        What is asked on each topic; count and topics follow from it. Nothing leaves that to the number.

    Raises
    ------
    InputError
        If something cannot be used; it names what was given and what is allowed.
    """

    seed: int = 1
    count: int = 10
    topics: tuple[str, ...] = ()
    level: int = 16
    style: str = "practice"
    minutes: int = 15
    strict: bool = False
    wording: Wording = field(default_factory=Wording)
    edition: int = EDITION
    blueprint: tuple[BlueprintRow, ...] = ()

    def __post_init__(self) -> None:
        if self.blueprint:
            object.__setattr__(self, "count", sum(row.count for row in self.blueprint))
            object.__setattr__(self, "topics", tuple(row.topic for row in self.blueprint))
        _whole("set number", self.seed, 0, MAX_SEED)
        _whole("questions", self.count, 1, MAX_QUESTIONS)
        _whole("minutes", self.minutes, 1, MAX_MINUTES)
        _whole("edition", self.edition, 1, EDITION)
        choice("style", self.style, STYLES)
        if self.level not in LEVELS:
            raise InputError("level", self.level, _allowed(LEVELS))
        for topic in self.topics:
            choice("topics", topic, TOPICS)

    def questions(self) -> list[Question]:
        """Make its questions.

        Raises
        ------
        InputError
            If there are none on these topics, or a row of the blueprint cannot be met.
        """
        if self.blueprint:
            return questions_by(
                self.blueprint,
                seed=self.seed,
                level=self.level,
                strict=self.strict,
                wording=self.wording,
                edition=self.edition,
            )
        return questions(
            seed=self.seed,
            count=self.count,
            topics=self.topics,
            level=self.level,
            strict=self.strict,
            wording=self.wording,
            edition=self.edition,
        )


def _whole(name: str, value: float, least: int, most: int) -> None:
    number(name, value, unit="", minimum=least, maximum=most)
    if value != round(value):
        raise InputError(name, value, f"a whole number from {least} to {most}")


def write_set(chosen: QuestionSet) -> str:
    """Write a set as the query of an address.

    Examples
    --------
    >>> write_set(QuestionSet(31, 5, ("quantities", "tests"), level=14, style="clock", minutes=20))
    'v=1&set=31&edition=3&count=5&level=14&topics=quantities;tests&style=clock&min=20'
    """
    options = {
        "set": str(chosen.seed),
        "edition": str(chosen.edition),
    }
    if not chosen.blueprint:
        options["count"] = str(chosen.count)
    options["level"] = str(chosen.level)
    if chosen.blueprint:
        options["blueprint"] = write_blueprint(chosen.blueprint)
    elif chosen.topics:
        options["topics"] = ";".join(chosen.topics)
    if chosen.style != DEFAULT_SET.style:
        options["style"] = chosen.style
    if chosen.style == "clock":
        options["min"] = str(chosen.minutes)
    if chosen.strict:
        options["units"] = "count"
    return query_of({}, chosen.wording, options)


def read_set(query: str) -> tuple[QuestionSet, list[str]]:
    """Read the query of an address; give the set with sentences about what was left out.

    Examples
    --------
    >>> chosen, remarks = read_set("?set=7&count=many&topics=tests;cooking")
    >>> chosen.seed, chosen.count, chosen.topics
    (7, 10, ('tests',))
    >>> remarks[-1]
    "count: 'many' was left out. Use a whole number from 1 to 100."
    """
    state, remarks = from_query(query, OPTIONS)
    given = state.options
    chosen = replace(
        QuestionSet() if any(name in given for name in OPTIONS) else DEFAULT_SET,
        topics=_topics(given.get("topics", given.get("topic", "")), remarks),
        strict=given.get("units") == "count",
        wording=state.wording,
    )
    for key, (name, offered) in _PARTS.items():
        if key not in given:
            continue
        text = given[key]
        value = _one_of(offered, text)
        if value is None:
            remarks.append(f"{key}: {text[:30]!r} was left out. Use {_allowed(offered)}.")
        else:
            chosen = replace(chosen, **{name: value})  # type: ignore[arg-type]  # by the key's kind
    return _with_blueprint(chosen, given.get("blueprint", ""), remarks), remarks


def _with_blueprint(chosen: QuestionSet, text: str, remarks: list[str]) -> QuestionSet:
    """Give a set the blueprint of a link, where questions can be made by it."""
    rows, left_out = read_blueprint(text)
    remarks += left_out
    if not rows:
        return chosen
    try:
        planned = replace(chosen, blueprint=rows)
        planned.questions()
    except InputError as refusal:
        remarks.append(f"blueprint: {refusal} It was left out.")
        return chosen
    return planned


def changes_since(query: str) -> list[str]:
    """Say how the questions of a link's set differ from those that the link meant.

    Examples
    --------
    >>> changes_since("?set=7&count=5")
    ['This link is older than the editions of sets: it opens set 7 as it is today.']
    >>> changes_since(write_set(QuestionSet(7)))
    []
    """
    given = from_query(query, OPTIONS)[0].options
    if "set" not in given:
        return []
    chosen, _ = read_set(query)
    if "edition" not in given:
        return [
            f"This link is older than the editions of sets: it opens set {chosen.seed} as it is today."
        ]
    try:
        made = chosen.questions()
    except InputError:  # there are none, which is said where they are asked
        return []
    changed = [
        str(place)
        for place, each in enumerate(made, start=1)
        if MAKERS[each.maker].version > chosen.edition
    ]
    if not changed:
        return []
    *first, last = changed
    which = f"Questions {', '.join(first)} and {last} have" if first else f"Question {last} has"
    return [f"{which} changed since this link was made."]


def _one_of(offered: Collection[object], text: str) -> object:
    if isinstance(offered, range):
        plain = text.isascii() and text.isdigit() and len(text) < 10
        return int(text) if plain and int(text) in offered else None
    return next((each for each in offered if str(each) == text), None)


def _allowed(offered: Collection[object]) -> str:
    if isinstance(offered, range):
        return f"a whole number from {offered[0]} to {offered[-1]}"
    return " or ".join(map(str, offered))


def _topics(text: str, remarks: list[str]) -> tuple[str, ...]:
    known = []
    for topic in filter(None, text.split(";")):
        if topic in TOPICS:
            known.append(topic)
        else:
            remarks.append(f"topics: {topic[:30]!r} was left out; no questions have that topic.")
    return tuple(dict.fromkeys(known))


#: what is asked where nothing is chosen
DEFAULT_SET = QuestionSet(level=14)
