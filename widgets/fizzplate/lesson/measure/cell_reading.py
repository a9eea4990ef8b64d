"""A cell as people fill it in: a plain number, a number with a unit ("250 mA"), or a time ("20:30")."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from fizzplate.lesson.measure.class_table import read_value
from fizzplate.words import NO_BREAK, InputError, Rendering, number_text, with_unit

if TYPE_CHECKING:
    from collections.abc import Mapping

#: each kind of unit with its size in the unit used inside, which stands first
UNIT_SIZES: tuple[Mapping[str, float], ...] = (
    {"g": 1.0, "mg": 1e-3, "kg": 1e3},
    {"A": 1.0, "mA": 1e-3},
    {"s": 1.0, "min": 60.0, "h": 3600.0},
    {"cm³": 1.0, "dm³": 1e3},
    {"°C": 1.0},
    {"kPa": 1.0, "mbar": 0.1, "hPa": 0.1, "bar": 100.0, "Pa": 1e-3},
)
_SPELLINGS = {
    "gram": "g", "grams": "g", "milligram": "mg", "milligrams": "mg",
    "amp": "A", "amps": "A", "ampere": "A", "amperes": "A",
    "milliamp": "mA", "milliamps": "mA", "milliampere": "mA", "milliamperes": "mA",
    "sec": "s", "secs": "s", "second": "s", "seconds": "s", "m": "min", "mins": "min", "minute": "min",
    "minutes": "min", "hr": "h", "hour": "h", "hours": "h", "cm3": "cm³", "ml": "cm³", "l": "dm³",
    "dm3": "dm³", "c": "°C", "degc": "°C", "deg": "°C",
}  # fmt: skip
_POWER = re.compile(r"[+\-−]?[\d.,]+[eE][+\-−]?\d+")  # as a spreadsheet writes a small number
_NUMBER_AND_UNIT = re.compile(r"([+\-−]?[\d.,\s\u00a0]*\d[.,]?(?:[eE][+\-−]?\d+)?)\s*([^\d\s.,].*)")
_CLOCK = re.compile(r"(?:(\d+):)?(\d+):([0-5]?\d)")
_IN_WORDS = re.compile(
    r"(?:(\d+)\s*(?:h|hr|hours?)\s*)?(\d+)\s*(?:m|mins?|minutes?)\s*(\d+)\s*(?:s|secs?|seconds?)?",
    re.IGNORECASE,
)
_PRIMES = re.compile(r"""()(\d+)\s*['′’]\s*([0-5]?\d)\s*(?:["″”]|'')?""")
_LIKE_A_CLOCK = re.compile(
    r"\d{1,3}[.,][0-5]\d"
)  # of minutes: as some write a time, but it is a decimal
_DECIMAL_COMMA = re.compile(r"\d,\d|^[+\-−]?,\d")


@dataclass(frozen=True, slots=True)
class CellReading:
    """What a cell holds.

    Parameters
    ----------
    value
        In the unit used inside: g, A, s, cm3, °C or kPa.
    read_as
        How it was read, with a unit; empty where a plain number was read as it stands.
    has_comma
        Whether a comma was read as a decimal point.
    """

    value: float
    read_as: str = ""
    has_comma: bool = False


def read_cell(name: str, text: str, sizes: Mapping[str, float], unit: str) -> CellReading | None:
    """Read a cell of a column that is in a unit; nothing for an empty cell.

    Parameters
    ----------
    name
        Of the column, for a refusal.
    text
        What was typed.
    sizes
        The units that the column offers, each with its size in the unit used inside.
    unit
        The one that is chosen; a unit typed in the cell counts before it.

    Raises
    ------
    InputError
        If it is not a number, or has a unit of another kind.

    Examples
    --------
    >>> current = {"A": 1.0, "mA": 1e-3}
    >>> print(read_cell("current", "250 mA", current, "A").read_as)
    0.25 A
    >>> read_cell("current", "0.25 A", current, "A")
    CellReading(value=0.25, read_as='', has_comma=False)
    >>> print(read_cell("minutes", "20:30", {"min": 60.0}, "min").read_as)
    20 min 30 s
    """
    plain = text.strip()
    of_its_kind = next(each for each in UNIT_SIZES if next(iter(sizes)) in each)
    if "s" in of_its_kind and (time := _time(plain)):
        return time
    typed = None if _POWER.fullmatch(plain) else _NUMBER_AND_UNIT.fullmatch(plain)
    if not typed:
        value = read_value(name, text)
        has_comma = bool(_DECIMAL_COMMA.search(plain))
        if value is None:
            return None
        is_clock = unit == "min" and _LIKE_A_CLOCK.fullmatch(plain)
        return CellReading(value * sizes[unit], _clock_text(value) if is_clock else "", has_comma)
    typed_unit = _unit(typed[2], of_its_kind)
    if not typed_unit:
        others = f"a number in {unit}, or with its unit: {', '.join(of_its_kind)}"
        raise InputError(
            name, text, f"{others}; or a time like 20:30" if "s" in of_its_kind else others
        )
    try:
        number = read_value(name, typed[1])
    except InputError as refusal:  # of the whole cell, not of the part before the unit
        raise InputError(name, text, refusal.allowed) from None
    value = (number or 0.0) * of_its_kind[typed_unit]
    shown = with_unit(number_text(value / sizes[unit], Rendering.PAGE, spec=".6g"), unit)
    has_comma = bool(_DECIMAL_COMMA.search(typed[1]))
    return CellReading(value, shown if typed_unit != unit else "", has_comma)


def _unit(text: str, sizes: Mapping[str, float]) -> str:
    """Find the unit that is meant; a millampere written in small letters is one too."""
    plain = text.strip().rstrip(".")
    if plain in sizes:
        return plain
    spelled = _SPELLINGS.get(plain.lower().replace("°", "deg"), "")
    if spelled in sizes:
        return spelled
    return next((each for each in sizes if each.lower() == plain.lower()), "")


def _clock_text(minutes: float) -> str:
    """Say decimal minutes in minutes and seconds."""
    whole, seconds = divmod(round(60 * minutes), 60)
    return f"{whole}{NO_BREAK}min {seconds}{NO_BREAK}s"


def _time(text: str) -> CellReading | None:
    """Read 20:30, 1:20:30, 20 min 30 s, or 20'30"."""
    found = _CLOCK.fullmatch(text) or _IN_WORDS.fullmatch(text) or _PRIMES.fullmatch(text)
    if not found:
        return None
    hours, minutes, seconds = (int(each or 0) for each in found.groups())
    parts = [f"{hours}{NO_BREAK}h"] if hours else []
    parts += [f"{minutes}{NO_BREAK}min", f"{seconds}{NO_BREAK}s"]
    return CellReading(3600.0 * hours + 60 * minutes + seconds, " ".join(parts))
