"""Tables that a class types, pastes or loads: whatever the spreadsheet made of them."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import dataclass

import numpy as np

from fizzplate.chemistry.checks import InputError

Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

LARGEST_BYTES = 5_000_000
DELIMITERS = ("\t", ";", ",")
_FORMULA = re.compile(r"^[=+\-@\t\r]")
_NUMBER = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)([eE][+-]?\d+)?")


def read_value(name: str, text: str) -> float | None:
    """Read a number as people type it; nothing for an empty cell.

    Raises
    ------
    InputError
        If it is not a number.

    Examples
    --------
    >>> read_value("current", " 0,25 "), read_value("current", "")
    (0.25, None)
    """
    plain = text.strip().replace("−", "-").replace("\u00a0", "").replace(" ", "")
    if not plain:
        return None
    if not _NUMBER.fullmatch(plain):
        raise InputError(name, text, "a number, or an empty cell")
    return float(plain.replace(",", "."))


def read_table(text: str) -> list[list[str]]:
    r"""Read rows of cells from pasted text or a file: tabs, semicolons or commas, with or without quotes.

    Raises
    ------
    InputError
        If it is empty, too large, or not text.

    Examples
    --------
    >>> read_table("group;current/A\n1;0,25\n")
    [['group', 'current/A'], ['1', '0,25']]
    """
    if len(text) > LARGEST_BYTES:
        raise InputError("file", f"{len(text)} characters", f"at most {LARGEST_BYTES} characters")
    plain = text.lstrip("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    if not plain.strip():
        raise InputError("file", plain[:20], "a table with at least one row")
    if "\0" in plain:
        raise InputError("file", plain[:20], "text with values between tabs, semicolons or commas")
    delimiter = _delimiter(plain)
    rows = csv.reader(io.StringIO(plain), delimiter=delimiter)
    return [[cell.strip() for cell in row] for row in rows if any(cell.strip() for cell in row)]


def _delimiter(text: str) -> str:
    """Return what separates cells: the first of tab, semicolon and comma that every row has."""
    lines = [line for line in text.split("\n", 40)[:40] if line.strip()]
    for delimiter in DELIMITERS:
        counts = [line.count(delimiter) for line in lines]
        if min(counts) > 0:
            return delimiter
    return max(DELIMITERS, key=lambda each: sum(line.count(each) for line in lines))


def safe_cell(text: str) -> str:
    """Return a cell that no spreadsheet reads as a formula.

    Examples
    --------
    >>> safe_cell("=cmd()"), safe_cell("-0.5"), safe_cell("12")
    ("'=cmd()", '-0.5', '12')
    """
    risky = _FORMULA.match(text) and not _NUMBER.fullmatch(text.strip())
    return f"'{text}" if risky else text


def write_csv(rows: list[list[str]]) -> str:
    r"""Write rows as CSV, safely.

    Examples
    --------
    >>> write_csv([["group", "note"], ["1", "=1+1"]])
    "group,note\r\n1,'=1+1\r\n"
    """
    out = io.StringIO()
    csv.writer(out).writerows([[safe_cell(cell) for cell in row] for row in rows])
    return out.getvalue()


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
        """How much the current changed from the first tenth to the last, relative."""
        tenth = max(1, self.current_A.size // 10)
        first, last = self.current_A[:tenth].mean(), self.current_A[-tenth:].mean()
        return float(last / first - 1)


TIME_NAMES = ("time", "t", "zeit", "temps", "tiempo")
CURRENT_NAMES = ("current", "i", "amps", "ampere", "strom", "courant", "intensity")


def read_logger(text: str, time: str | None = None, current: str | None = None) -> Readings:
    r"""Read a logger's file: the columns of time and current are found by name, or chosen.

    Parameters
    ----------
    text
        The file.
    time, current
        Headings of the columns, where they cannot be told by name.

    Raises
    ------
    InputError
        If the columns or the numbers cannot be found; the sentence says where.

    Examples
    --------
    >>> read_logger("time/s,current/mA\n0,200\n60,200\n").charge_C
    12.0
    """
    if len(text) > LARGEST_BYTES:
        raise InputError("file", f"{len(text)} characters", f"at most {LARGEST_BYTES} characters")
    plain = text.lstrip("\ufeff").replace("\r\n", "\n").replace("\r", "\n").strip("\n")
    head, _, body = plain.partition("\n")
    if not body.strip():
        raise InputError("file", head[:40], "a heading and at least two rows of readings")
    delimiter = _delimiter(plain)
    names = [name.strip().strip('"') for name in head.split(delimiter)]
    at = _column(names, time, TIME_NAMES, "time"), _column(names, current, CURRENT_NAMES, "current")
    if delimiter != ",":
        body = body.replace(",", ".")
    columns = _columns(body, delimiter, at)
    times = columns[0] * (60.0 if "min" in names[at[0]].lower() else 1.0)
    in_mA = re.search(r"[/(\[ ]ma\b", names[at[1]].lower())
    amps = columns[1] * (1e-3 if in_mA else 1.0)
    if np.any(np.diff(times) < 0):
        row = int(np.flatnonzero(np.diff(times) < 0)[0]) + 3
        raise InputError("time", f"row {row}", "times that go up from row to row")
    if times.size < 2:
        raise InputError("file", f"{times.size} reading", "at least two rows of readings")
    return Readings(times, amps)


def _column(names: list[str], chosen: str | None, known: tuple[str, ...], what: str) -> int:
    if chosen is not None and chosen in names:
        return names.index(chosen)
    stems = [re.split(r"[/(\[ ]", name.lower())[0] for name in names]
    found = [k for k, stem in enumerate(stems) if stem in known]
    if len(found) != 1:
        raise InputError(
            f"column of {what}",
            ", ".join(names)[:60],
            f"a heading such as {known[0]!r}, or one chosen",
        )
    return found[0]


def _columns(body: str, delimiter: str, at: tuple[int, int]) -> tuple[Array, Array]:
    """Read two columns fast; where that fails, find the row that is not numbers."""
    try:
        read = np.loadtxt(
            io.StringIO(body), delimiter=delimiter, usecols=at, ndmin=2, quotechar='"'
        )
    except (ValueError, IndexError):
        for number, line in enumerate(body.split("\n"), start=2):
            cells = line.split(delimiter)
            for k in at if line.strip() else ():
                cell = cells[k] if k < len(cells) else ""
                if read_or_none(cell) is None:
                    raise InputError(f"row {number}", cell[:40], "a number") from None
        raise InputError("file", body[:40], "rows of numbers") from None
    return read[:, 0], read[:, 1]


def read_or_none(text: str) -> float | None:
    """Read a number, or nothing.

    Examples
    --------
    >>> read_or_none("1.5"), read_or_none("off")
    (1.5, None)
    """
    try:
        return read_value("cell", text)
    except InputError:
        return None
