"""A logger's file: the columns of time and current found by name or chosen, their units, the readings."""

from __future__ import annotations

import csv
import io
import math
import re
from dataclasses import dataclass

import numpy as np

from fizzplate.lesson.measure.class_table import MAX_FILE_BYTES, delimiter_of, read_or_none
from fizzplate.words import InputError

Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]


@dataclass(frozen=True, slots=True)
class Readings:
    """A logger's readings.

    Parameters
    ----------
    time_s, current_A
        When, and what the meter showed, (N,).
    """

    time_s: Array
    current_A: Array

    @property
    def charge_C(self) -> float:
        """The charge that passed, by trapezia, C."""
        return float(np.trapezoid(self.current_A, self.time_s))

    @property
    def mean_A(self) -> float:
        """The current that would have passed the same charge steadily, A."""
        return self.charge_C / float(self.time_s[-1] - self.time_s[0])

    @property
    def drift(self) -> float:
        """How much the current changed from the first tenth to the last, relative; infinite from zero."""
        tenth = max(1, self.current_A.size // 10)
        first, last = self.current_A[:tenth].mean(), self.current_A[-tenth:].mean()
        return float(last / first - 1) if first else math.inf


TIME_NAMES = ("time", "t", "zeit", "temps", "tiempo")
CURRENT_NAMES = ("current", "i", "amps", "ampere", "strom", "courant", "intensity")
TIME_UNITS_S = {"ms": 1e-3, "s": 1.0, "min": 60.0, "h": 3600.0}
CURRENT_UNITS_A = {"A": 1.0, "mA": 1e-3, "µA": 1e-6}
_SPELLED = {
    "sec": "s",
    "secs": "s",
    "second": "s",
    "seconds": "s",
    "millisecond": "ms",
    "milliseconds": "ms",
    "mins": "min",
    "minute": "min",
    "minutes": "min",
    "hr": "h",
    "hrs": "h",
    "hour": "h",
    "hours": "h",
    "a": "A",
    "amp": "A",
    "amps": "A",
    "ampere": "A",
    "amperes": "A",
    "ma": "mA",
    "milliamps": "mA",
    "ua": "µA",
    "μa": "µA",
    "µa": "µA",
}
_UNIT = re.compile(r"[/(\[]\s*([^)\]/(\[]+?)\s*[)\]]?\s*$|[,_]\s*([A-Za-zµμ]+)\s*$")


def logger_columns(text: str) -> list[str]:
    r"""Return the headings of a logger's file; none where it has no rows.

    Examples
    --------
    >>> logger_columns("clock/min;meter/A\n0;0,5\n")
    ['clock/min', 'meter/A']
    """
    plain = _plain(text)
    if not plain:
        return []
    return _headings(plain, delimiter_of(plain))


def read_logger(text: str, time: str | None = None, current: str | None = None) -> Readings:
    r"""Read a logger's file: the columns of time and current are found by name, or chosen.

    Parameters
    ----------
    text
        The file.
    time, current
        Headings of the columns, where their names do not show which they are. A unit is read from the
        heading; without one it is s and A.

    Raises
    ------
    InputError
        If the columns or the numbers cannot be found, or no charge passed; the sentence says where.

    Examples
    --------
    >>> read_logger("time/s,current/mA\n0,200\n60,200\n").charge_C
    12.0
    >>> read_logger("Time (h),Current (A)\n0,0.2\n1,0.2\n").charge_C
    720.0
    """
    if len(text) > MAX_FILE_BYTES:
        raise InputError("file", f"{len(text)} characters", f"at most {MAX_FILE_BYTES} characters")
    plain = _plain(text)
    head, _, body = plain.partition("\n")
    if not body.strip():
        raise InputError("file", head[:40], "a heading and at least two rows of readings")
    if "\0" in plain or "\ufffd" in head:
        raise InputError("file", head[:20], "text with values between tabs, semicolons or commas")
    delimiter = delimiter_of(plain)
    names = _headings(plain, delimiter)
    at = _column(names, time, TIME_NAMES, "time"), _column(names, current, CURRENT_NAMES, "current")
    in_s = _unit_of(names[at[0]], TIME_UNITS_S, "s", "unit of time")
    in_A = _unit_of(names[at[1]], CURRENT_UNITS_A, "A", "unit of current")
    times, amps = _columns(body if delimiter == "," else body.replace(",", "."), delimiter, at)
    times, amps = times * in_s, amps * in_A
    _check(times, amps)
    return Readings(times, amps)


def with_heading(text: str, time_unit: str, current_unit: str) -> str:
    r"""Return readings that were typed with the heading that they lack; one that they have is kept.

    Examples
    --------
    >>> with_heading("0, 0.20\n5, 0.24\n", "min", "A")
    'time/min,current/A\n0, 0.20\n5, 0.24'
    """
    plain = _plain(text)
    if not plain:
        return ""
    delimiter = delimiter_of(plain)
    first = _headings(plain, delimiter)
    if any(read_or_none(cell) is None for cell in first):
        return plain
    return f"time/{time_unit}{delimiter}current/{current_unit}\n{plain}"


def _plain(text: str) -> str:
    return text.lstrip("\ufeff").replace("\r\n", "\n").replace("\r", "\n").strip("\n \t")


def _headings(plain: str, delimiter: str) -> list[str]:
    head = plain.partition("\n")[0]
    return [name.strip() for name in next(csv.reader([head], delimiter=delimiter))]


def _unit_of(heading: str, known: dict[str, float], usual: str, what: str) -> float:
    """Return the size of the unit that a heading names, of the usual one where it names none."""
    found = _UNIT.search(heading)
    if not found:
        return known[usual]
    unit = (found[1] or found[2]).strip()
    unit = unit if unit in known else _SPELLED.get(unit.lower(), unit)
    if unit not in known:
        raise InputError(what, unit, f"{', '.join(known)}, in the heading {heading[:40]!r}")
    return known[unit]


def _check(times: Array, amps: Array) -> None:
    if times.size < 2:
        raise InputError("file", f"{times.size} reading", "at least two rows of readings")
    for name, values in (("time", times), ("current", amps)):
        strange = np.flatnonzero(~np.isfinite(values))
        if strange.size:
            raise InputError(name, f"row {int(strange[0]) + 2}", "a number in every row")
    backwards = np.flatnonzero(np.diff(times) < 0)
    if backwards.size:
        raise InputError("time", f"row {int(backwards[0]) + 3}", "times that go up from row to row")
    if times[-1] == times[0]:
        raise InputError(
            "time", "the same time in every row", "times that go up from the first row to the last"
        )
    if not np.any(amps):
        raise InputError("current", "0 in every row", "readings of a current that flows")
    if np.trapezoid(amps, times) <= 0:
        raise InputError(
            "current",
            "mostly negative readings",
            "a positive current: swap the leads of the meter, or the signs in the file",
        )


def _column(names: list[str], chosen: str | None, known: tuple[str, ...], what: str) -> int:
    if chosen is not None and chosen in names:
        return names.index(chosen)
    stems = [re.split(r"[/(\[ ,_]", name.lower())[0] for name in names]
    found = [k for k, stem in enumerate(stems) if stem in known]
    if len(found) != 1:
        raise InputError(
            f"column of {what}",
            ", ".join(names)[:60],
            f"one heading such as {known[0]!r}, or choose a column",
        )
    return found[0]


def _columns(body: str, delimiter: str, at: tuple[int, int]) -> tuple[Array, Array]:
    """Read two columns fast; where that fails, as people write numbers; else say which row is wrong."""
    try:
        read = np.loadtxt(
            io.StringIO(body), delimiter=delimiter, usecols=at, ndmin=2, quotechar='"'
        )
    except (ValueError, IndexError):
        pairs = [
            _pair(cells, at, row)
            for row, cells in enumerate(csv.reader(io.StringIO(body), delimiter=delimiter), start=2)
            if any(cell.strip() for cell in cells)
        ]
        read = np.array(pairs)
    return read[:, 0], read[:, 1]


def _pair(cells: list[str], at: tuple[int, int], row: int) -> tuple[float, ...]:
    read = []
    for k in at:
        cell = cells[k] if k < len(cells) else ""
        value = read_or_none(cell)
        if value is None:
            raise InputError(f"row {row}", cell[:40], "a number")
        read.append(value)
    return tuple(read)
