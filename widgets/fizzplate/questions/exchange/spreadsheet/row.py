"""A question as the cells of one row, and back: each type has its own columns and the common ones."""

from __future__ import annotations

from dataclasses import replace
from functools import singledispatch
from typing import TYPE_CHECKING, Any

from fizzplate.questions.exchange.equation_forms import spell
from fizzplate.questions.exchange.limits import MAX_TEXT_LENGTH
from fizzplate.questions.exchange.question_checks import (
    IMPORTED,
    IMPORTED_LEVEL,
    MAX_MARKS,
    check_own_answer,
    check_question,
)
from fizzplate.questions.exchange.spreadsheet.cell_text import read_whole
from fizzplate.questions.exchange.spreadsheet.chart_column import read_chart, write_chart
from fizzplate.questions.exchange.spreadsheet.equation_column import read_equation, write_equation
from fizzplate.questions.exchange.spreadsheet.numbers_column import read_numbers, write_numbers
from fizzplate.questions.exchange.spreadsheet.options_column import read_options, write_options
from fizzplate.questions.exchange.spreadsheet.points_column import read_points, write_points
from fizzplate.questions.question_types import (
    ChecklistQuestion,
    ChoiceQuestion,
    EquationQuestion,
    NumberQuestion,
    Question,
    TextQuestion,
    missing_for,
)
from fizzplate.words import InputError, choice

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from fizzplate.questions.content import Part

MAX_CELL_LENGTH = 100_000  # characters; a chart with its figures has most
_PLAIN = ("topic", "question", "answer", "why", "watch", "maker")
_YES, _NO = ("yes", "true", "1"), ("no", "false", "0")


def write_row(question: Question) -> dict[str, str]:
    """Write a question as cells by the name of the column; columns of other types are left out.

    Examples
    --------
    >>> from fizzplate.questions.sets import questions
    >>> question = questions(seed=1, count=1, topics=["ions"], level=14)[0]
    >>> empty = dict.fromkeys(("options", "numbers", "points", "equation"), "")
    >>> read_row(empty | write_row(question)) == question
    True
    """
    common = {
        "topic": question.topic,
        "level": str(question.level),
        "kind": question.kind,
        "question": question.text,
        "marks": str(question.marks),
        "answer": question.answer,
        "why": question.why,
        "watch": question.watch,
        "strict": "no",
        "chart": write_chart(question.chart) if question.chart else "",
        "maker": question.maker,
    }
    return common | own_cells(question)


@singledispatch
def own_cells(question: Question) -> dict[str, str]:
    """Write what only this type of question has, by the name of the column."""
    raise missing_for(question, "cells of a table", "own_cells")


@own_cells.register
def _(question: ChoiceQuestion) -> dict[str, str]:
    return {"options": write_options(question.options)}


@own_cells.register
def _(question: NumberQuestion) -> dict[str, str]:
    return {"numbers": write_numbers(question.parts), "strict": "yes" if question.strict else "no"}


@own_cells.register
def _(question: EquationQuestion) -> dict[str, str]:
    return {"equation": write_equation(question.task)}


@own_cells.register(TextQuestion)
@own_cells.register(ChecklistQuestion)
def _(question: TextQuestion | ChecklistQuestion) -> dict[str, str]:
    return {"points": write_points(question.points)}


def read_row(cells: Mapping[str, str]) -> Question:
    """Read a question from the cells of a row.

    Parameters
    ----------
    cells
        Every column's cell, by the name of the column.

    Raises
    ------
    InputError
        If a cell cannot be read, or they make no question; the sentence names the column.

    Examples
    --------
    >>> cells = {"kind": "list", "question": "Plan it.", "points": "says: weighs first"}
    >>> empty = "topic level marks options numbers equation answer why watch strict chart maker"
    >>> read_row(dict.fromkeys(empty.split(), "") | cells).marks
    1
    """
    for name, cell in cells.items():
        most = MAX_TEXT_LENGTH if name in _PLAIN else MAX_CELL_LENGTH
        if len(cell) > most:
            raise InputError(name, f"{len(cell)} characters", f"at most {most} characters")
    kind = choice("kind", cells["kind"].strip().lower(), tuple(_READERS))
    strict = choice("strict", cells["strict"].strip().lower() or "no", (*_YES, *_NO)) in _YES
    read = _READERS[kind]
    return check_own_answer(check_question(read(cells).with_strict_units(strict=strict)))


def _common(cells: Mapping[str, str]) -> dict[str, Any]:
    """Read what a row of any type holds, by the names of a question's fields."""
    return {
        "maker": cells["maker"] or IMPORTED,
        "topic": cells["topic"] or IMPORTED,
        "level": read_whole("level", cells["level"], IMPORTED_LEVEL),
        "text": cells["question"],
        "why": cells["why"],
        "chart": read_chart(cells["chart"]),
        "watch": cells["watch"].strip(),
    }


def _read_choice(cells: Mapping[str, str]) -> Question:
    marks = read_whole("marks", cells["marks"], 1)
    question = ChoiceQuestion(**_common(cells), options=read_options(cells["options"]), marks=marks)
    reason = next((option.reason for option in question.options if option.right), "")
    return replace(question, why=question.why or reason)


def _read_number(cells: Mapping[str, str]) -> Question:
    parts = read_numbers(cells["numbers"])
    marks = read_whole("marks", cells["marks"], 1) if len(parts) == 1 else 1
    parts = tuple(_with_steps(part, marks) for part in parts)
    question = NumberQuestion(**_common(cells), parts=parts)
    return _check_marks(question, cells, "one for each step of the working")


def _with_steps(part: Part, marks: int) -> Part:
    """Return a part whose marks are all for the answer, where no working is given."""
    if part.steps:
        return part
    return replace(part, steps=(f"The answer is {part.answer}.",) * min(marks, MAX_MARKS))


def _read_equation(cells: Mapping[str, str]) -> Question:
    task = read_equation(cells["equation"])
    answer = cells["answer"]
    if task.accepted and not answer.strip():
        answer = spell(task.accepted[0])
    marks = read_whole("marks", cells["marks"], 2)
    return EquationQuestion(**_common(cells), task=task, answer=answer, marks=marks)


def _read_text(cells: Mapping[str, str]) -> Question:
    points = read_points(cells["points"])
    question = TextQuestion(**_common(cells), points=points, answer=cells["answer"])
    return _check_marks(question, cells, "one for each point")


def _read_checklist(cells: Mapping[str, str]) -> Question:
    question = ChecklistQuestion(**_common(cells), points=read_points(cells["points"]))
    return _check_marks(question, cells, "one for each point")


def _check_marks(question: Question, cells: Mapping[str, str], why: str) -> Question:
    """Return a question whose marks are counted, unless the row gives another number of them."""
    marks = read_whole("marks", cells["marks"], question.marks)
    if marks != question.marks:
        raise InputError("marks", marks, f"{question.marks}, {why}")
    return question


_READERS: dict[str, Callable[[Mapping[str, str]], Question]] = {
    ChoiceQuestion.kind: _read_choice,
    NumberQuestion.kind: _read_number,
    EquationQuestion.kind: _read_equation,
    TextQuestion.kind: _read_text,
    ChecklistQuestion.kind: _read_checklist,
}
