"""A question as the cells of one row, and back: each type has its own columns and the common ones."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import singledispatch
from typing import TYPE_CHECKING, Any

from fizzplate.questions.exchange.equation_forms import spell
from fizzplate.questions.exchange.limits import MAX_TEXT_LENGTH
from fizzplate.questions.exchange.question_checks import (
    IMPORTED,
    IMPORTED_LEVEL,
    MAX_MARKS,
    MAX_PARTS,
    check_own_answer,
    check_question,
)
from fizzplate.questions.exchange.spreadsheet.cell_text import read_whole
from fizzplate.questions.exchange.spreadsheet.chart_column import read_chart, write_chart
from fizzplate.questions.exchange.spreadsheet.equation_column import read_equation, write_equation
from fizzplate.questions.exchange.spreadsheet.levels_column import read_levels, write_levels
from fizzplate.questions.exchange.spreadsheet.numbers_column import read_numbers, write_numbers
from fizzplate.questions.exchange.spreadsheet.options_column import read_options, write_options
from fizzplate.questions.exchange.spreadsheet.points_column import read_points, write_points
from fizzplate.questions.question_types import (
    MARKS_A_LEVEL,
    ChecklistQuestion,
    ChoiceQuestion,
    EquationQuestion,
    LevelsQuestion,
    NumberQuestion,
    PlotQuestion,
    Question,
    StructuredQuestion,
    TextQuestion,
    missing_for,
)
from fizzplate.words import InputError, choice

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from fizzplate.questions.content import Part

COLUMNS = (
    *("topic", "level", "kind", "question", "marks", "options", "numbers", "points", "equation"),
    *("levels", "sections", "answer", "why", "watch", "strict", "chart", "maker"),
)
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


@own_cells.register
def _(question: LevelsQuestion) -> dict[str, str]:
    return {"points": write_points(question.points), "levels": write_levels(question.levels)}


@own_cells.register
def _(question: StructuredQuestion) -> dict[str, str]:
    numbers = [each for each in question.sections if isinstance(each, NumberQuestion)]
    return {
        "sections": json.dumps(write_sections(question), ensure_ascii=False, indent=1),
        "strict": "yes" if any(each.strict for each in numbers) else "no",
    }


#: what a part of a question has a cell for of its own; the rest is that of the whole
SECTION_CELLS = (
    *("kind", "question", "marks", "answer", "why"),
    *("options", "numbers", "points", "equation", "strict"),
)


def write_sections(question: StructuredQuestion) -> list[dict[str, str]]:
    """Write the parts of a question, each as cells by the name of the column; empty ones are left out."""
    rows = [write_row(each) for each in question.sections]
    return [{name: row[name] for name in SECTION_CELLS if row.get(name)} for row in rows]


def read_sections(given: object) -> tuple[Question, ...]:
    """Read the parts of a question from what JSON gives for them, which may be anyone's.

    Raises
    ------
    InputError
        If they are not as :func:`write_sections` writes them, or a part cannot be asked.
    """
    allowed = "a list of parts, each with its kind and its question"
    if not isinstance(given, list) or len(given) > MAX_PARTS:
        raise InputError("sections", str(given)[:40], allowed)
    found = []
    for each in given:
        if not isinstance(each, dict) or not {"kind", "question"} <= set(each) <= set(
            SECTION_CELLS
        ):
            raise InputError("sections", str(each)[:40], allowed)
        if not all(isinstance(cell, str) for cell in each.values()):
            raise InputError("sections", str(each)[:40], f"{allowed}, all of them texts")
        found.append(read_row(dict.fromkeys(COLUMNS, "") | each))
    return tuple(found)


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


def _read_plot(cells: Mapping[str, str]) -> Question:
    question = PlotQuestion(**_common(cells), points=read_points(cells["points"]))
    return _check_marks(question, cells, "one for each point")


def _read_levels(cells: Mapping[str, str]) -> Question:
    levels, points = read_levels(cells["levels"]), read_points(cells["points"])
    question = LevelsQuestion(**_common(cells), levels=levels, points=points)
    return _check_marks(question, cells, f"{MARKS_A_LEVEL} for each level")


def _read_structured(cells: Mapping[str, str]) -> Question:
    try:
        given = json.loads(cells["sections"])
    except (ValueError, RecursionError):
        given = None
    question = StructuredQuestion(**_common(cells), sections=read_sections(given))
    return _check_marks(question, cells, "those of its parts")


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
    PlotQuestion.kind: _read_plot,
    LevelsQuestion.kind: _read_levels,
    StructuredQuestion.kind: _read_structured,
}
