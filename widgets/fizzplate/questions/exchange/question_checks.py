"""What every question that comes from a file must hold before it is asked."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import singledispatch
from typing import TYPE_CHECKING

from fizzplate.lesson.equations import known_species
from fizzplate.lesson.state import read_cell
from fizzplate.questions.marking import UNITS, plain_answer
from fizzplate.questions.question_types import (
    LINES_OF_A_PLOT,
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
from fizzplate.questions.sets import LEVELS
from fizzplate.words import InputError, list_choices

if TYPE_CHECKING:
    from fizzplate.questions.content import Chart, Part, Point

IMPORTED = "imported"  # maker and topic of a question that names none
IMPORTED_LEVEL = 14
MAX_MARKS = 30
MAX_OPTIONS = 20
MAX_PARTS = 8  # they are called (a) to (h)
MAX_LEVELS = 5
MAX_FORMULA = 100  # characters
MAX_MISCONCEPTIONS = 33  # the misconceptions are numbered 1 to 33
MAX_CHART_VALUE = 1e12  # in a chart; far beyond it no axis can be divided


def check_question(question: Question) -> Question:
    """Return a question if it can be asked and marked.

    Raises
    ------
    InputError
        If it cannot; the sentence names what is wrong and what is allowed.

    Examples
    --------
    >>> from fizzplate.questions.content import Option
    >>> options = (Option("Cl⁻", True, "Yes."), Option("Cl⁻ ", False, "No."))
    >>> check_question(ChoiceQuestion("", "ions", 14, "Which?", "", options=options))
    Traceback (most recent call last):
        ...
    fizzplate.words.refusals.InputError: options: 'Cl⁻ ' cannot be used. Use options that differ.
    """
    if question.level not in LEVELS:
        raise InputError("level", question.level, list_choices(map(str, LEVELS)))
    if not question.text.strip():
        raise InputError("question", question.text, "a question in words")
    check_content(question)
    if not 1 <= question.marks <= MAX_MARKS:
        raise InputError("marks", question.marks, f"a whole number from 1 to {MAX_MARKS}")
    if question.chart is not None:
        _check_chart(question.chart)
    check_watch(question.watch)
    return question


def check_own_answer(question: Question) -> Question:
    """Return a question if its own answer earns all of its marks.

    Raises
    ------
    InputError
        If it does not, for then no learner could earn them either.

    Examples
    --------
    >>> from fizzplate.questions.content import Point
    >>> points = (Point("it fizzes", ("fizz",)),)
    >>> check_own_answer(TextQuestion("", "", 14, "What is seen?", "", points=points, answer="a solid"))
    Traceback (most recent call last):
        ...
    fizzplate.words.refusals.InputError: answer: 'a solid' cannot be used. Use an answer that \
earns every mark (of 1 it earns 0).
    """
    earned = question.mark(question.answer).earned
    if earned != question.marks:
        allowed = f"an answer that earns every mark (of {question.marks} it earns {earned})"
        raise InputError("answer", question.answer, allowed)
    return question


def search_form(word: str) -> str:
    """Return a word in the form in which answers are searched; spaces at its ends stay, as they end words.

    Examples
    --------
    >>> search_form(" H₂ "), search_form("SO₄²⁻")
    (' h2 ', 'so4^2-')
    """
    plain = plain_answer(word).lower()
    head, tail = (" " if end == " " else "" for end in (word[:1], word[-1:]))
    return f"{head}{plain}{tail}" if plain else ""


def check_watch(watch: str) -> None:
    """Refuse cells to watch that no link can hold.

    Examples
    --------
    >>> check_watch("CuSO4;CuSO4,anode=copper")
    """
    for cell in filter(None, watch.split(";")):
        try:
            remarks = read_cell(cell)[1]
        except InputError:
            remarks = ["unknown"]
        if remarks:
            raise InputError("watch", cell, "cells as links write them, such as CuSO4,anode=copper")


def without_bad_watch(question: Question) -> Question:
    """Return a question without cells to watch where they cannot be shown.

    Examples
    --------
    >>> without_bad_watch(ChecklistQuestion("", "", 14, "?", "", points=(), watch="Unobtainium")).watch
    ''
    """
    try:
        check_watch(question.watch)
    except InputError:
        return replace(question, watch="")
    return question


@singledispatch
def check_content(question: Question) -> None:
    """Refuse a question that lacks what its type needs; each type says what that is.

    Raises
    ------
    InputError
        If something is missing or cannot be used; the sentence names it.
    """
    raise missing_for(question, "rule for what it must hold", "check_content")


@check_content.register
def _(question: ChoiceQuestion) -> None:
    plain = [plain_answer(option.text) for option in question.options]
    if not 2 <= len(plain) <= MAX_OPTIONS:
        raise InputError("options", f"{len(plain)} options", f"2 to {MAX_OPTIONS} options")
    if not all(plain):
        raise InputError("options", "", "options in words")
    for k, option in enumerate(question.options):
        if plain[k] in plain[:k]:
            raise InputError("options", option.text, "options that differ")
        _check_idea(option.misconception)
    right = sum(option.right for option in question.options)
    if right != 1:
        raise InputError("options", f"{right} right options", "one right option")


@check_content.register
def _(question: NumberQuestion) -> None:
    if not 1 <= len(question.parts) <= MAX_PARTS:
        raise InputError("numbers", f"{len(question.parts)} answers", f"1 to {MAX_PARTS} answers")
    for part in question.parts:
        _check_part(part)


def _check_idea(number: int) -> None:
    if not 0 <= number <= MAX_MISCONCEPTIONS:
        raise InputError("idea", number, f"a number from 0 to {MAX_MISCONCEPTIONS}")


def _check_part(part: Part) -> None:
    if part.unit and part.unit not in UNITS:
        raise InputError("unit", part.unit, f"one of {list_choices(UNITS)}, or none")
    numbers = (part.value, part.factor, *(miss.value for miss in part.near_misses))
    if not all(map(math.isfinite, numbers)):
        raise InputError("numbers", next(n for n in numbers if not math.isfinite(n)), "numbers")
    if not part.steps:
        raise InputError("steps", "", "a step of the working for each mark")
    if not 0 <= part.tolerance <= 0.5:
        raise InputError("tolerance", f"{part.tolerance * 100:g} %", "0 % to 50 %")
    if not 1 <= part.figures <= 8:
        raise InputError("figures", part.figures, "1 to 8 significant figures")
    for miss in part.near_misses:
        if any(not 0 <= k < len(part.steps) for k in miss.lost):
            steps = [k + 1 for k in miss.lost]
            raise InputError("loses", steps, f"steps from 1 to {len(part.steps)}")
        _check_idea(miss.misconception)
    _check_what_follows(part)


def _check_what_follows(part: Part) -> None:
    if len(part.formula) > MAX_FORMULA:
        raise InputError("formula", f"{len(part.formula)} letters", f"at most {MAX_FORMULA}")
    for each in part.afterwards:
        if not 0 <= each.part < MAX_PARTS or not math.isfinite(each.given * each.value):
            raise InputError(
                "afterwards", each.part, f"numbers, and a part from 0 to {MAX_PARTS - 1}"
            )


@check_content.register
def _(question: EquationQuestion) -> None:
    if not question.task.accepted:
        raise InputError("equation", "", "at least one form of the equation that is accepted")
    for form in question.task.accepted:
        unknown = next((species for species in form if species not in known_species()), None)
        if unknown is not None or not form:
            raise InputError("equation", unknown or "", "formulae that are known here")


@check_content.register
def _(question: TextQuestion) -> None:
    for point in question.points:
        _check_point(point)
        if not point.words:
            raise InputError("words", "", "at least one way to say it")


@check_content.register
def _(question: ChecklistQuestion) -> None:
    for point in question.points:
        _check_point(point)


@check_content.register
def _(question: PlotQuestion) -> None:
    count = len(question.chart.lines) if question.chart else 0
    if count != LINES_OF_A_PLOT:
        raise InputError(
            "chart", f"{count} lines", "two lines: the readings, and the line of best fit"
        )
    for point in question.points:
        _check_point(point)


@check_content.register
def _(question: LevelsQuestion) -> None:
    if not 1 <= len(question.levels) <= MAX_LEVELS or not all(map(str.strip, question.levels)):
        raise InputError("levels", question.levels, f"1 to {MAX_LEVELS} levels in words")
    for point in question.points:
        _check_point(point)


@check_content.register
def _(question: StructuredQuestion) -> None:
    if not 1 <= len(question.sections) <= MAX_PARTS:
        raise InputError("sections", len(question.sections), f"1 to {MAX_PARTS} parts")
    for each in question.sections:
        if isinstance(each, (StructuredQuestion, ChecklistQuestion, LevelsQuestion)):
            raise InputError(
                "sections", each.kind, "parts that are a choice, number, equation or text"
            )
        if not each.text.strip():
            raise InputError("sections", each.text, "parts that ask something")
        check_content(each)


def _check_point(point: Point) -> None:
    if not point.statement.strip():
        raise InputError("points", point.statement, "the point that the answer must make, in words")
    entries = (*point.words, *point.contradictions, *point.too_little)
    if not all((*entries, *point.within, *point.besides)):
        raise InputError("words", "", "words that are not empty")


def _check_chart(chart: Chart) -> None:
    for line in chart.lines:
        if not line.x or len(line.x) != len(line.y):
            raise InputError("chart", line.name, "as many x values as y values, and at least one")
        if not all(abs(number) <= MAX_CHART_VALUE for number in (*line.x, *line.y)):
            raise InputError("chart", line.name, f"numbers of at most {MAX_CHART_VALUE:g}")
