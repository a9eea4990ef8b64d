"""What the standard has no place for, as one piece of text that travels inside the item.

The standard holds the question, options, right answers, numbers with tolerances, marks and reasons.
It has no place for: who made the question, topic and level, the idea behind a wrong option, one
reason for each mark of a calculation, errors carried forward, points with their words, forms of
an equation, the numbers of a chart, and cells to watch. These are written as JSON.
"""

from __future__ import annotations

import json
import math
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Any

from fizzplate.chemistry.checks import InputError
from fizzplate.lesson.equation_tasks import EquationTask
from fizzplate.lesson.exchange.wellformed import LONGEST_TEXT
from fizzplate.lesson.question import Chart, ChartLine, NearMiss, Part, Point

if TYPE_CHECKING:
    from fizzplate.lesson.question import Question

VERSION = 1
MOST_ENTRIES = 5000  # in one list


@dataclass(frozen=True, slots=True)
class Scheme:
    """What goes with an item beyond the standard; the fields are those of a question.

    Parameters
    ----------
    ideas
        The misconception behind each option, in order.
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


def write_scheme(asked: Question) -> str:
    """Write what the standard has no place for, in plain ASCII.

    Examples
    --------
    >>> from fizzplate.lesson.questions import questions
    >>> asked = questions(seed=1, count=1, topics=["ions"], level=14)[0]
    >>> read_scheme(write_scheme(asked)).topic
    'ions'
    """
    kept: dict[str, Any] = {
        "version": VERSION,
        "maker": asked.maker,
        "topic": asked.topic,
        "level": asked.level,
        "kind": asked.kind,
        "why": asked.why,
        "watch": asked.watch,
        "strict": asked.strict,
        "ideas": [option.misconception for option in asked.options],
        "parts": [asdict(part) for part in asked.parts],
        "points": [asdict(point) for point in asked.points],
        "chart": asdict(asked.chart) if asked.chart else None,
        "task": None,
    }
    if asked.task is not None:
        kept["task"] = {
            "asks": asked.task.asks,
            "accepted": [dict(form) for form in asked.task.accepted],
            "goal": asked.task.goal,
            "hints": asked.task.hints,
            "tiles": asked.task.tiles,
        }
    return json.dumps(kept, separators=(",", ":"), allow_nan=False)


def read_scheme(text: str) -> Scheme:
    """Read what goes with an item; it may have been written by anyone.

    Raises
    ------
    InputError
        If it is not what :func:`write_scheme` writes.

    Examples
    --------
    >>> read_scheme("[]")
    Traceback (most recent call last):
        ...
    fizzplate.chemistry.checks.InputError: data-fizzplate: '[]' cannot be used; allowed is version 1 of it.
    """
    try:
        given = json.loads(text)
    except (ValueError, RecursionError):
        given = None
    if not isinstance(given, dict) or given.get("version") != VERSION:
        raise InputError("data-fizzplate", text, f"version {VERSION} of it")
    try:
        return _scheme(given)
    except (KeyError, TypeError, AttributeError, OverflowError) as missing:
        raise InputError("data-fizzplate", str(missing), f"version {VERSION} of it") from None


def _scheme(given: dict[str, Any]) -> Scheme:
    chart, task = given["chart"], given["task"]
    return Scheme(
        maker=_text(given["maker"]),
        topic=_text(given["topic"]),
        level=_whole(given["level"]),
        kind=_text(given["kind"]),
        why=_text(given["why"]),
        watch=_text(given["watch"]),
        strict=given["strict"] is True,
        ideas=_wholes(given["ideas"]),
        parts=tuple(_part(each) for each in _many(given["parts"])),
        points=tuple(_point(each) for each in _many(given["points"])),
        task=None if task is None else _task(task),
        chart=None if chart is None else _chart(chart),
    )


def _part(given: dict[str, Any]) -> Part:
    return Part(
        value=_number(given["value"]),
        unit=_text(given["unit"]),
        steps=_texts(given["steps"]),
        asks=_text(given["asks"]),
        factor=_number(given["factor"]),
        near_misses=tuple(
            NearMiss(_number(each["value"]), _wholes(each["lost"]), _text(each["reason"]))
            for each in _many(given["near_misses"])
        ),
        tolerance=_number(given["tolerance"]),
        figures=_whole(given["figures"]),
    )


def _point(given: dict[str, Any]) -> Point:
    return Point(
        _text(given["says"]),
        _texts(given["words"]),
        _texts(given["contradictions"]),
        _texts(given["too_little"]),
    )


def _task(given: dict[str, Any]) -> EquationTask:
    return EquationTask(
        asks=_text(given["asks"]),
        accepted=tuple(
            {_text(species): _whole(count) for species, count in form.items()}
            for form in _many(given["accepted"])
        ),
        goal=_text(given["goal"]),
        hints=_texts(given["hints"]),
        tiles=_texts(given["tiles"]),
    )


def _chart(given: dict[str, Any]) -> Chart:
    lines = tuple(
        ChartLine(_text(line["name"]), _numbers(line["x"]), _numbers(line["y"]))
        for line in _many(given["lines"])
    )
    return Chart(_text(given["title"]), _text(given["x_label"]), _text(given["y_label"]), lines)


def _many(given: object) -> list[Any]:
    if not isinstance(given, list) or len(given) > MOST_ENTRIES:
        raise TypeError("a list")
    return given


def _text(given: object) -> str:
    if not isinstance(given, str) or len(given) > LONGEST_TEXT:
        raise TypeError("a text")
    return given


def _number(given: object) -> float:
    if isinstance(given, bool) or not isinstance(given, (int, float)) or not math.isfinite(given):
        raise TypeError("a number")
    return float(given)


def _whole(given: object) -> int:
    if isinstance(given, bool) or not isinstance(given, int):
        raise TypeError("a whole number")
    return given


def _texts(given: object) -> tuple[str, ...]:
    return tuple(_text(each) for each in _many(given))


def _numbers(given: object) -> tuple[float, ...]:
    return tuple(_number(each) for each in _many(given))


def _wholes(given: object) -> tuple[int, ...]:
    return tuple(_whole(each) for each in _many(given))
