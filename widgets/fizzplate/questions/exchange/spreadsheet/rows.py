"""A question as the cells of one row, and back."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from fizzplate.lesson.equations.equation_tasks import EquationTask
from fizzplate.questions.exchange.cells import (
    escaped,
    read_lines,
    read_number,
    read_whole,
    read_words,
    unescaped,
    write_lines,
    write_words,
)
from fizzplate.questions.exchange.named import further_cells, further_names, read_further
from fizzplate.questions.exchange.qti.foreign import LEVEL, MAKER
from fizzplate.questions.exchange.spelling import read_form, spell
from fizzplate.questions.exchange.wellformed import (
    KINDS,
    LONGEST_TEXT,
    MOST_MARKS,
    answered,
    searched,
    well_formed,
)
from fizzplate.questions.marking.numbers import UNITS
from fizzplate.questions.question import Chart, ChartLine, NearMiss, Option, Part, Point, Question
from fizzplate.words.refusals import InputError, choice

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

LONGEST_CELL = 100_000  # characters; a chart with its figures has most
_PLAIN = ("topic", "question", "answer", "why", "watch", "maker")
_PART = ("value", "unit", "steps", "asks", "factor", "near_misses", "tolerance", "figures")
_POINT = ("says", "words", "contradictions", "too_little")
_YES, _NO = ("yes", "true", "1"), ("no", "false", "0")


def write_row(asked: Question) -> dict[str, str]:
    """Write a question as cells by the name of the column.

    Examples
    --------
    >>> from fizzplate.questions.sets import questions
    >>> asked = questions(seed=1, count=1, topics=["ions"], level=14)[0]
    >>> read_row(write_row(asked)) == asked
    True
    """
    return {
        "topic": asked.topic,
        "level": str(asked.level),
        "kind": asked.kind,
        "question": asked.text,
        "marks": str(asked.marks),
        "options": write_lines(_option_fields(option) for option in asked.options),
        "numbers": write_lines(_number_fields(asked.parts)),
        "points": write_lines(_point_fields(point) for point in asked.points),
        "equation": write_lines(_task_fields(asked.task)) if asked.task else "",
        "answer": asked.answer,
        "why": asked.why,
        "watch": asked.watch,
        "strict": "yes" if asked.strict else "no",
        "chart": write_lines(_chart_fields(asked.chart)) if asked.chart else "",
        "maker": asked.maker,
    }


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
        most = LONGEST_TEXT if name in _PLAIN else LONGEST_CELL
        if len(cell) > most:
            raise InputError(name, f"{len(cell)} characters", f"at most {most} characters")
    options = _read_options(cells["options"])
    parts = _read_numbers(cells["numbers"])
    points = _read_points(cells["points"])
    task = _read_task(cells["equation"])
    kind = choice("kind", cells["kind"].strip().lower(), KINDS)
    if kind == "number":
        given = read_whole("marks", cells["marks"], 1)
        parts = tuple(_with_steps(part, given if len(parts) == 1 else 1) for part in parts)
    steps = sum(len(part.steps) for part in parts)
    usual = {"choice": 1, "number": steps, "equation": 2}.get(kind, len(points))
    asked = Question(
        cells["maker"] or MAKER,
        cells["topic"] or MAKER,
        read_whole("level", cells["level"], LEVEL),
        cells["question"],
        kind,
        read_whole("marks", cells["marks"], usual),
        cells["answer"],
        cells["why"],
        options=options,
        parts=parts,
        points=points,
        task=task,
        chart=_read_chart(cells["chart"]),
        watch=cells["watch"].strip(),
        strict=choice("strict", cells["strict"].strip().lower() or "no", (*_YES, *_NO)) in _YES,
    )
    return answered(_with_answer(well_formed(asked)))


def _with_steps(part: Part, marks: int) -> Part:
    """Return a part whose marks are all for the answer, where no working is given."""
    if part.steps:
        return part
    return replace(part, steps=(f"The answer is {part.answer}.",) * min(marks, MOST_MARKS))


def _with_answer(asked: Question) -> Question:
    """Return a question with its answer, where that follows from the rest."""
    if asked.kind == "choice":
        right = next(option for option in asked.options if option.right)
        return replace(asked, answer=right.text, why=asked.why or right.reason)
    if asked.kind == "number":
        return replace(asked, answer="; ".join(part.answer for part in asked.parts))
    if asked.kind == "list":
        numbers = range(1, len(asked.points) + 1)
        return replace(asked, answer=" ".join(map(str, numbers)))
    if asked.kind == "equation" and asked.task and not asked.answer.strip():
        return replace(asked, answer=spell(asked.task.accepted[0]))
    return asked


def _option_fields(option: Option) -> list[tuple[str, str]]:
    name = "right" if option.right else "wrong"
    idea = str(option.misconception) if option.misconception else ""
    return [(name, escaped(option.text)), ("because", escaped(option.reason)), ("idea", idea)]


def _read_options(cell: str) -> tuple[Option, ...]:
    lines = read_lines("options", cell, ("right", "wrong", "because", "idea"))
    for line in lines:
        if ("right" in line) == ("wrong" in line):
            raise InputError("options", " | ".join(line.values()), "right: or wrong: on each line")
    answer = next((unescaped(line["right"]) for line in lines if "right" in line), "")
    usual = {True: "That is the right answer.", False: f"The right answer is: {answer}"}
    return tuple(
        Option(
            unescaped(line.get("right", line.get("wrong", ""))),
            right="right" in line,
            reason=unescaped(line["because"]) if "because" in line else usual["right" in line],
            misconception=read_whole("idea", line.get("idea", ""), 0),
        )
        for line in lines
    )


def _number_fields(parts: tuple[Part, ...]) -> Iterator[list[tuple[str, str]]]:
    for part in parts:
        yield [
            ("answer", f"{part.value!r} {part.unit}".rstrip()),
            ("tolerance", f"{_percent(part.tolerance)} %"),
            ("figures", str(part.figures)),
            ("times before", repr(part.factor) if part.factor else ""),
            ("asks", escaped(part.asks)),
            *further_cells(part, _PART),
        ]
        for step in part.steps:
            yield [("step", escaped(step))]
        for miss in part.near_misses:
            yield [
                ("near", repr(miss.value)),
                ("loses", "; ".join(str(k + 1) for k in miss.lost)),
                ("because", escaped(miss.reason)),
            ]


def _percent(fraction: float) -> str:
    """Write a fraction in per cent so that reading it gives the very same fraction."""
    short = f"{fraction * 100:.6g}"
    return short if float(short) / 100 == fraction else repr(fraction * 100)


def _read_numbers(cell: str) -> tuple[Part, ...]:
    names = ("answer", "tolerance", "figures", "times before", "asks", "step", "near", "loses")
    further = further_names(Part, _PART).values()
    parts: list[Part] = []
    for line in read_lines("numbers", cell, (*names, "because", *further)):
        if "answer" in line:
            parts.append(_read_part(line))
        elif not parts:
            raise InputError("numbers", next(iter(line.values())), "answer: on the first line")
        elif "step" in line:
            parts[-1] = replace(parts[-1], steps=(*parts[-1].steps, unescaped(line["step"])))
        elif "near" in line:
            value, _ = read_number("near", line["near"])
            lost = tuple(read_whole("loses", k, 1) - 1 for k in read_words(line.get("loses", "")))
            miss = NearMiss(value, lost, unescaped(line.get("because", "")))
            parts[-1] = replace(parts[-1], near_misses=(*parts[-1].near_misses, miss))
        else:
            given = next(iter(line.values()))
            raise InputError("numbers", given, "answer:, step: or near: on each line")
    return tuple(parts)


def _read_part(line: Mapping[str, str]) -> Part:
    value, unit = read_number("answer", line["answer"])
    by_plain = {name.replace("³", "3"): name for name in UNITS}
    unit = by_plain.get(unit.replace("³", "3").replace(" ", ""), unit)
    further = read_further(Part, _PART, "numbers", line)
    part = Part(value, unit, (), unescaped(line.get("asks", "")), **further)
    if "tolerance" in line:
        size, sign = read_number("tolerance", line["tolerance"])
        if sign not in {"%", "per cent", "percent"}:
            raise InputError("tolerance", line["tolerance"], "per cent, such as 1.2 %")
        part = replace(part, tolerance=size / 100)
    factor, _ = read_number("times before", line.get("times before", "0"))
    return replace(part, factor=factor, figures=read_whole("figures", line.get("figures", ""), 3))


def _point_fields(point: Point) -> list[tuple[str, str]]:
    return [
        ("says", escaped(point.says)),
        ("words", write_words(point.words)),
        ("not with", write_words(point.contradictions)),
        ("too little", write_words(point.too_little)),
        *further_cells(point, _POINT),
    ]


def _read_points(cell: str) -> tuple[Point, ...]:
    names = ("says", "words", "not with", "too little", *further_names(Point, _POINT).values())
    return tuple(
        Point(
            unescaped(line.get("says", "")),
            *(_looked_for(line.get(name, "")) for name in names[1:4]),
            **read_further(Point, _POINT, "points", line),
        )
        for line in read_lines("points", cell, names)
    )


def _looked_for(words: str) -> tuple[str, ...]:
    """Return words as an answer is searched for them, which is in small letters: H2 as h2."""
    return tuple(word if word == word.lower() else searched(word) for word in read_words(words))


def _task_fields(task: EquationTask) -> Iterator[list[tuple[str, str]]]:
    for form in task.accepted:
        yield [("accept", escaped(spell(form)))]
    yield [("asks", escaped(task.asks))]
    yield [("goal", escaped(task.goal))]
    for hint in task.hints:
        yield [("hint", escaped(hint))]
    yield [("tiles", write_words(task.tiles))]


def _read_task(cell: str) -> EquationTask | None:
    lines = read_lines("equation", cell, ("accept", "asks", "goal", "hint", "tiles"))
    if not lines:
        return None
    accepted = tuple(read_form(unescaped(line["accept"])) for line in lines if "accept" in line)
    found = {name: says for line in lines for name, says in line.items()}
    species = sorted({species for form in accepted for species in form})
    return EquationTask(
        asks=unescaped(found.get("asks", "Write the equation.")),
        accepted=accepted,
        goal=unescaped(found.get("goal", "give what is asked for")),
        hints=tuple(unescaped(line["hint"]) for line in lines if "hint" in line)
        or tuple(map(spell, accepted[:1])),
        tiles=read_words(found["tiles"]) if "tiles" in found else tuple(species),
    )


def _chart_fields(chart: Chart) -> Iterator[list[tuple[str, str]]]:
    yield [
        ("title", escaped(chart.title)),
        ("x", escaped(chart.x_label)),
        ("y", escaped(chart.y_label)),
    ]
    for line in chart.lines:
        x, y = ("; ".join(map(repr, values)) for values in (line.x, line.y))
        yield [("line", escaped(line.name)), ("x", x), ("y", y)]


def _read_chart(cell: str) -> Chart | None:
    lines = read_lines("chart", cell, ("title", "line", "x", "y"))
    if not lines:
        return None
    if "title" not in lines[0]:
        raise InputError("chart", next(iter(lines[0].values())), "title: on the first line")
    title, x, y = (unescaped(lines[0].get(name, "")) for name in ("title", "x", "y"))
    drawn = tuple(
        ChartLine(unescaped(line.get("line", "")), *(_figures(line.get(axis, "")) for axis in "xy"))
        for line in lines[1:]
    )
    return Chart(title, x, y, drawn)


def _figures(text: str) -> tuple[float, ...]:
    return tuple(read_number("chart", word)[0] for word in read_words(text))
