"""Plain data from values by name, such as JSON gives; no list of the fields is kept here."""

from __future__ import annotations

import math
from dataclasses import MISSING, fields, is_dataclass
from typing import TYPE_CHECKING, Any, TypeVar, get_args, get_origin, get_type_hints

from fizzplate.questions.exchange.limits import MAX_TEXT_LENGTH

if TYPE_CHECKING:
    from collections.abc import Mapping

MAX_ENTRIES = 5000  # in one list
#: what files of earlier versions call a field
EARLIER_NAMES = {"statement": "says", "prompt": "asks"}
Built = TypeVar("Built")


def build(kind: type[Built], given: Mapping[str, Any]) -> Built:
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
    >>> build(ChartLine, {"name": "copper", "x": [0, 1], "y": [0, 0.5]})
    ChartLine(name='copper', x=(0.0, 1.0), y=(0.0, 0.5))
    >>> build(Point, {"statement": "it fizzes", "words": ["fizz"]}).words
    ('fizz',)
    """
    if not isinstance(given, dict):
        raise TypeError("values by name")
    hints = get_type_hints(kind)
    held = {
        each.name: value_of(hints[each.name], given[name])
        for each in fields(kind)  # type: ignore[arg-type]  # a dataclass, which no type can say
        if (name := stored_name(each.name, given)) in given
        or (each.default is MISSING and each.default_factory is MISSING)
    }
    return kind(**held)


def stored_name(name: str, given: Mapping[str, Any]) -> str:
    """Return what a file calls a field: its name, or the one that it had in earlier versions.

    Examples
    --------
    >>> stored_name("statement", {"says": "it fizzes"}), stored_name("statement", {})
    ('says', 'statement')
    """
    earlier = EARLIER_NAMES.get(name, name)
    return earlier if earlier in given and name not in given else name


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
        if not isinstance(given, list) or len(given) > MAX_ENTRIES:
            raise TypeError("a list")
        return tuple(value_of(get_args(kind)[0], each) for each in given)
    if is_dataclass(kind):
        return build(kind, given)  # type: ignore[arg-type]  # it looks itself
    if kind is bool and isinstance(given, bool):
        return given
    if kind is str and isinstance(given, str) and len(given) <= MAX_TEXT_LENGTH:
        return given
    if isinstance(given, (int, float)) and not isinstance(given, bool):
        if kind is float and math.isfinite(given):
            return float(given)
        if kind is int and isinstance(given, int):
            return given
    raise TypeError(f"{given!r:.40} is of another kind")
