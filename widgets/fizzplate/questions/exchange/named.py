"""Plain data by the names of its fields, whatever fields it has: no list of them is kept here."""

from __future__ import annotations

import json
import math
from dataclasses import MISSING, asdict, fields, is_dataclass
from typing import TYPE_CHECKING, Any, TypeVar, get_args, get_origin, get_type_hints

from fizzplate.questions.exchange.cells import escaped, read_words, unescaped, write_words
from fizzplate.questions.exchange.wellformed import LONGEST_TEXT
from fizzplate.words.refusals import InputError

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping

MOST_ENTRIES = 5000  # in one list
Made = TypeVar("Made")


def made(kind: type[Made], given: Mapping[str, Any]) -> Made:
    """Return plain data from values by name, which may be anyone's; what is usual may be missing.

    Parameters
    ----------
    kind
        A dataclass of texts, numbers, yes and no, rows of these, and dataclasses like it.
    given
        What JSON gives for it.

    Raises
    ------
    TypeError, KeyError
        If a value is of another kind, too long, or missing.

    Examples
    --------
    >>> from fizzplate.questions.content import ChartLine, Point
    >>> made(ChartLine, {"name": "copper", "x": [0, 1], "y": [0, 0.5]})
    ChartLine(name='copper', x=(0.0, 1.0), y=(0.0, 0.5))
    >>> made(Point, {"says": "it fizzes", "words": ["fizz"]}).words
    ('fizz',)
    """
    if not isinstance(given, dict):
        raise TypeError("values by name")
    hints = get_type_hints(kind)
    held = {
        each.name: value_of(hints[each.name], given[each.name])
        for each in fields(kind)  # type: ignore[arg-type]  # a dataclass, which no type can say
        if each.name in given or (each.default is MISSING and each.default_factory is MISSING)
    }
    return kind(**held)


def value_of(kind: Any, given: object) -> Any:
    """Return a value of a kind, or refuse it.

    Raises
    ------
    TypeError
        If it is of another kind or too long.

    Examples
    --------
    >>> value_of(tuple[str, ...], ["fizz", "bubble"]), value_of(float, 2)
    (('fizz', 'bubble'), 2.0)
    """
    if get_origin(kind) is tuple:
        if not isinstance(given, list) or len(given) > MOST_ENTRIES:
            raise TypeError("a list")
        return tuple(value_of(get_args(kind)[0], each) for each in given)
    if is_dataclass(kind):
        return made(kind, given)  # type: ignore[arg-type]  # it looks itself
    if kind is bool and isinstance(given, bool):
        return given
    if kind is str and isinstance(given, str) and len(given) <= LONGEST_TEXT:
        return given
    if isinstance(given, (int, float)) and not isinstance(given, bool):
        if kind is float and math.isfinite(given):
            return float(given)
        if kind is int and isinstance(given, int):
            return given
    raise TypeError(f"{given!r:.40} is of another kind")


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
    >>> further_cells(Point("it fizzes", ("fizz",), ("solid", "ash")), ("says", "words"))
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
    >>> read_further(Point, ("says", "words"), "points", {"contradictions": "solid; ash"})
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
        return escaped(value)
    if kind == tuple[str, ...]:
        return write_words(value)
    return escaped(json.dumps(asdict(data)[name], allow_nan=False))


def _read_cell(kind: Any, column: str, cell: str) -> Any:
    if kind is bool:
        plain = cell.strip().lower()
        if plain not in {"yes", "no"}:
            raise InputError(column, cell, "yes or no")
        return plain == "yes"
    if kind is str:
        return unescaped(cell)
    if kind == tuple[str, ...]:
        return read_words(cell)
    try:
        return value_of(kind, json.loads(unescaped(cell)))
    except (ValueError, TypeError, KeyError, RecursionError, OverflowError):
        raise InputError(column, cell, "what a stored table holds there") from None
