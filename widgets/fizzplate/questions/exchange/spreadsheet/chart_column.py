"""The chart of a question as a cell: its title and axes, then a line for each of its lines."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.questions.content import Chart, ChartLine
from fizzplate.questions.exchange.spreadsheet.cell_text import (
    escape_cell,
    read_lines,
    read_number_and_unit,
    read_words,
    unescape_cell,
    write_lines,
)
from fizzplate.words import InputError

if TYPE_CHECKING:
    from collections.abc import Iterator


def write_chart(chart: Chart) -> str:
    """Write a chart with the figures of its lines.

    Examples
    --------
    >>> write_chart(Chart("Mass", "min", "g", (ChartLine("copper", (0.0,), (0.2,)),))).splitlines()
    ['title: Mass | x: min | y: g', 'line: copper | x: 0.0 | y: 0.2']
    """
    return write_lines(_chart_fields(chart))


def _chart_fields(chart: Chart) -> Iterator[list[tuple[str, str]]]:
    yield [
        ("title", escape_cell(chart.title)),
        ("x", escape_cell(chart.x_label)),
        ("y", escape_cell(chart.y_label)),
    ]
    for line in chart.lines:
        x, y = ("; ".join(map(repr, values)) for values in (line.x, line.y))
        yield [("line", escape_cell(line.name)), ("x", x), ("y", y)]


def read_chart(cell: str) -> Chart | None:
    """Read a chart; there is none in an empty cell.

    Raises
    ------
    InputError
        If it does not begin with a title, or a number cannot be read.

    Examples
    --------
    >>> read_chart("title: Mass | x: min | y: g").title
    'Mass'
    """
    lines = read_lines("chart", cell, ("title", "line", "x", "y"))
    if not lines:
        return None
    if "title" not in lines[0]:
        raise InputError("chart", next(iter(lines[0].values())), "title: on the first line")
    title, x, y = (unescape_cell(lines[0].get(name, "")) for name in ("title", "x", "y"))
    drawn = tuple(
        ChartLine(
            unescape_cell(line.get("line", "")), *(_figures(line.get(axis, "")) for axis in "xy")
        )
        for line in lines[1:]
    )
    return Chart(title, x, y, drawn)


def _figures(text: str) -> tuple[float, ...]:
    return tuple(read_number_and_unit("chart", word)[0] for word in read_words(text))
