"""Tables that a class types, pastes or loads: whatever the spreadsheet made of them."""

from __future__ import annotations

import csv
import io
import re

from fizzplate.words import InputError

MAX_FILE_BYTES = 5_000_000
DELIMITERS = ("\t", ";", "|", ",")
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


def read_table(text: str) -> list[list[str]]:
    r"""Read rows of cells from pasted text or a file: tabs, semicolons, bars or commas, with quotes or not.

    Raises
    ------
    InputError
        If it is empty, too large, or not text.

    Examples
    --------
    >>> read_table("group;current/A\n1;0,25\n")
    [['group', 'current/A'], ['1', '0,25']]
    """
    if len(text) > MAX_FILE_BYTES:
        raise InputError("file", f"{len(text)} characters", f"at most {MAX_FILE_BYTES} characters")
    plain = text.lstrip("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    if not plain.strip():
        raise InputError("file", plain[:20], "a table with at least one row")
    if "\0" in plain:
        raise InputError("file", plain[:20], "text with values between tabs, semicolons or commas")
    delimiter = delimiter_of(plain)
    rows = csv.reader(io.StringIO(plain), delimiter=delimiter)
    return [[cell.strip() for cell in row] for row in rows if any(cell.strip() for cell in row)]


def delimiter_of(text: str) -> str:
    """Return what separates cells: the first of tab, semicolon, bar and comma that every row has."""
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
