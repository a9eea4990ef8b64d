"""Fields of plain data that no column's own names cover, written in a line by the names of the fields."""

from __future__ import annotations

import json
from dataclasses import asdict, fields
from typing import TYPE_CHECKING, Any, get_type_hints

from fizzplate.questions.exchange.plain_data import value_of
from fizzplate.questions.exchange.spreadsheet.cell_text import (
    escape_cell,
    read_words,
    unescape_cell,
    write_words,
)
from fizzplate.words import InputError

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping


def further_names(kind: type, known: Collection[str]) -> dict[str, str]:
    """Return the fields of plain data beyond those known, as a cell names them.

    Examples
    --------
    >>> from fizzplate.questions.content import ChartLine
    >>> further_names(ChartLine, ("name",))
    {'x': 'x', 'y': 'y'}
    """
    names = [each.name for each in fields(kind) if each.name not in known]
    return {name: name.replace("_", " ") for name in names}


def further_cells(data: Any, known: Collection[str]) -> list[tuple[str, str]]:
    """Write what plain data holds beyond the fields known, where it is not as usual.

    Examples
    --------
    >>> from fizzplate.questions.content import Point
    >>> further_cells(Point("it fizzes", ("fizz",), ("solid", "ash")), ("statement", "words"))
    [('contradictions', 'solid; ash')]
    """
    usual = {each.name: each.default for each in fields(data)}
    return [
        (label, _cell(data, name))
        for name, label in further_names(type(data), known).items()
        if getattr(data, name) != usual[name]
    ]


def read_further(
    kind: type, known: Collection[str], column: str, line: Mapping[str, str]
) -> dict[str, Any]:
    """Read what :func:`further_cells` wrote, by the name of the field.

    Raises
    ------
    InputError
        If a value is of another kind.

    Examples
    --------
    >>> from fizzplate.questions.content import Point
    >>> read_further(Point, ("statement", "words"), "points", {"contradictions": "solid; ash"})
    {'contradictions': ('solid', 'ash')}
    """
    hints = get_type_hints(kind)
    return {
        name: _read_cell(hints[name], f"{column}, {label}", line[label])
        for name, label in further_names(kind, known).items()
        if label in line
    }


def _cell(data: Any, name: str) -> str:
    value, kind = getattr(data, name), get_type_hints(type(data))[name]
    if kind is bool:
        return "yes" if value else "no"
    if kind is str:
        return escape_cell(value)
    if kind == tuple[str, ...]:
        return write_words(value)
    return escape_cell(json.dumps(asdict(data)[name], allow_nan=False))


def _read_cell(kind: Any, column: str, cell: str) -> Any:
    if kind is bool:
        plain = cell.strip().lower()
        if plain not in {"yes", "no"}:
            raise InputError(column, cell, "yes or no")
        return plain == "yes"
    if kind is str:
        return unescape_cell(cell)
    if kind == tuple[str, ...]:
        return read_words(cell)
    try:
        return value_of(kind, json.loads(unescape_cell(cell)))
    except (ValueError, TypeError, KeyError, RecursionError, OverflowError):
        raise InputError(column, cell, "the text that a saved table has there") from None
