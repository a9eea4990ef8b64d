"""Equation tasks, and the parts of a question in parts, as plain data that travel inside an item."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from fizzplate.lesson.equations import EquationTask
from fizzplate.questions.content import Option, Part, Point
from fizzplate.questions.exchange.plain_data import MAX_ENTRIES, stored_name, value_of
from fizzplate.questions.exchange.question_checks import IMPORTED_LEVEL
from fizzplate.questions.question_types import (
    ChoiceQuestion,
    EquationQuestion,
    NumberQuestion,
    Question,
    TextQuestion,
)

if TYPE_CHECKING:
    from collections.abc import Callable


def plain_task(task: EquationTask) -> dict[str, Any]:
    """Give an equation task as plain data."""
    return {
        "prompt": task.prompt,
        "accepted": [dict(form) for form in task.accepted],
        "goal": task.goal,
        "hints": task.hints,
        "tiles": task.tiles,
    }


def read_task(given: dict[str, Any]) -> EquationTask:
    """Read an equation task from plain data, which may be anyone's."""
    if len(given["accepted"]) > MAX_ENTRIES:
        raise TypeError("fewer forms")
    return EquationTask(
        prompt=value_of(str, given[stored_name("prompt", given)]),
        accepted=tuple(
            {value_of(str, species): value_of(int, count) for species, count in form.items()}
            for form in given["accepted"]
        ),
        goal=value_of(str, given["goal"]),
        hints=value_of(tuple[str, ...], given["hints"]),
        tiles=value_of(tuple[str, ...], given["tiles"]),
    )


def plain_section(question: Question) -> dict[str, Any]:
    """Give a part as plain data: a choice, numbers, an equation or a text.

    Examples
    --------
    >>> options = (Option("Na⁺", True, "A cation."), Option("Cl⁻", False, "An anion."))
    >>> question = ChoiceQuestion("", "", 14, "Which?", "", options=options)
    >>> read_section(plain_section(question)) == question
    True
    """
    return {
        "kind": question.kind,
        "text": question.text,
        "why": question.why,
        "answer": question.answer,
        "marks": question.marks,
        "strict": isinstance(question, NumberQuestion) and question.strict,
        "options": [asdict(option) for option in question.options],
        "parts": [asdict(part) for part in question.parts],
        "points": [asdict(point) for point in question.points],
        "task": plain_task(question.task) if isinstance(question, EquationQuestion) else None,
    }


def read_section(given: dict[str, Any]) -> Question:
    """Read a part from plain data, which may be anyone's.

    Raises
    ------
    KeyError, TypeError
        If something is missing or of another kind.
    """
    text, why = value_of(str, given["text"]), value_of(str, given["why"])
    common = ("", "", IMPORTED_LEVEL, text, why)
    return _READERS[value_of(str, given["kind"])](common, given)


def _choice(common: Any, given: dict[str, Any]) -> Question:
    options = value_of(tuple[Option, ...], given["options"])
    return ChoiceQuestion(*common, options=options, marks=value_of(int, given["marks"]))


def _numbers(common: Any, given: dict[str, Any]) -> Question:
    parts = value_of(tuple[Part, ...], given["parts"])
    return NumberQuestion(*common, parts=parts, strict=given["strict"] is True)


def _equation(common: Any, given: dict[str, Any]) -> Question:
    answer, marks = value_of(str, given["answer"]), value_of(int, given["marks"])
    return EquationQuestion(*common, task=read_task(given["task"]), answer=answer, marks=marks)


def _text(common: Any, given: dict[str, Any]) -> Question:
    points = value_of(tuple[Point, ...], given["points"])
    return TextQuestion(*common, points=points, answer=value_of(str, given["answer"]))


_READERS: dict[str, Callable[[Any, dict[str, Any]], Question]] = {
    ChoiceQuestion.kind: _choice,
    NumberQuestion.kind: _numbers,
    EquationQuestion.kind: _equation,
    TextQuestion.kind: _text,
}
