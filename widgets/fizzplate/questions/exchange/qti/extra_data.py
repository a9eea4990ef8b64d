"""What the standard has no place for, as one piece of text that travels inside the item.

The standard holds the question, options, right answers, numbers with tolerances, marks and reasons.
It has no place for: who made the question, topic and level, the idea behind a wrong option, one
reason for each mark of a calculation, errors carried forward, points with their words, forms of
an equation, the numbers of a chart, and cells to watch. These are written as JSON.
"""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Any

from fizzplate.questions.content import Chart, Part, Point
from fizzplate.questions.exchange.plain_data import MAX_ENTRIES, build, value_of
from fizzplate.questions.exchange.qti.section_data import (
    plain_section,
    plain_task,
    read_section,
    read_task,
)
from fizzplate.questions.question_types import (
    EquationQuestion,
    LevelsQuestion,
    NumberQuestion,
)
from fizzplate.words import InputError

if TYPE_CHECKING:
    from fizzplate.lesson.equations import EquationTask
    from fizzplate.questions.question_types import Question

VERSION = 1
_NAME = "Fizz & Plate's own data"
_ALLOWED = f"the data of version {VERSION}, unchanged"


@dataclass(frozen=True, slots=True)
class ExtraData:
    """What goes with an item beyond the standard; the fields are those of a question.

    Parameters
    ----------
    ideas
        The misconception behind each option, in order.
    answer
        The equation that is the answer, as it is written here.
    levels
        Of a longer answer, the lowest first.
    sections
        The parts of a structured question.
    """

    maker: str
    topic: str
    level: int
    kind: str
    why: str
    watch: str
    strict: bool
    ideas: tuple[int, ...]
    parts: tuple[Part, ...]
    points: tuple[Point, ...]
    task: EquationTask | None
    chart: Chart | None
    answer: str = ""
    levels: tuple[str, ...] = ()
    sections: tuple[Question, ...] = ()


def write_extra_data(question: Question) -> str:
    """Write what the standard has no place for, in plain ASCII.

    Examples
    --------
    >>> from fizzplate.questions.sets import questions
    >>> question = questions(seed=1, count=1, topics=["ions"], level=14)[0]
    >>> read_extra_data(write_extra_data(question)).topic
    'ions'
    """
    kept: dict[str, Any] = {
        "version": VERSION,
        "maker": question.maker,
        "topic": question.topic,
        "level": question.level,
        "kind": question.kind,
        "why": question.why,
        "watch": question.watch,
        "strict": isinstance(question, NumberQuestion) and question.strict,
        "ideas": [option.misconception for option in question.options],
        "parts": [asdict(part) for part in question.parts],
        "points": [asdict(point) for point in question.points],
        "chart": asdict(question.chart) if question.chart else None,
        "task": plain_task(question.task) if isinstance(question, EquationQuestion) else None,
        "answer": question.answer if isinstance(question, EquationQuestion) else "",
        "levels": list(question.levels) if isinstance(question, LevelsQuestion) else [],
        "sections": [plain_section(each) for each in question.sections],
    }
    return json.dumps(kept, separators=(",", ":"), allow_nan=False)


def read_extra_data(text: str) -> ExtraData:
    """Read what goes with an item; it may have been written by anyone.

    Raises
    ------
    InputError
        If it is not what :func:`write_extra_data` writes.

    Examples
    --------
    >>> read_extra_data("[]")
    Traceback (most recent call last):
        ...
    fizzplate.words.refusals.InputError: Fizz & Plate's own data: '[]' cannot be used. Use \
the data of version 1, unchanged.
    """
    try:
        given = json.loads(text)
    except (ValueError, RecursionError):
        given = None
    if not isinstance(given, dict) or given.get("version") != VERSION:
        raise InputError(_NAME, text, _ALLOWED)
    try:
        return _extra_data(given)
    except (KeyError, TypeError, AttributeError, OverflowError):
        raise InputError(_NAME, text, _ALLOWED) from None


def _extra_data(given: dict[str, Any]) -> ExtraData:
    chart, task = given["chart"], given["task"]
    return ExtraData(
        maker=value_of(str, given["maker"]),
        topic=value_of(str, given["topic"]),
        level=value_of(int, given["level"]),
        kind=value_of(str, given["kind"]),
        why=value_of(str, given["why"]),
        watch=value_of(str, given["watch"]),
        strict=given["strict"] is True,
        ideas=value_of(tuple[int, ...], given["ideas"]),
        parts=value_of(tuple[Part, ...], given["parts"]),
        points=value_of(tuple[Point, ...], given["points"]),
        task=None if task is None else read_task(task),
        chart=None if chart is None else build(Chart, chart),
        answer=value_of(str, given.get("answer", "")),  # older packages hold it in the item alone
        levels=value_of(tuple[str, ...], given.get("levels", [])),
        sections=tuple(read_section(each) for each in given.get("sections", [])[:MAX_ENTRIES]),
    )
