"""What can be broken in a table: every cell that is a number."""

from __future__ import annotations

import csv
import io
import re

from another_number import another

NUMBER = re.compile(r"-?\d+(?:\.\d+)?(?:e[+-]?\d+)?")


def table_breaks(text):
    """Give ``(start, end, replacement)`` for every number, by places in the text."""
    found, start = [], 0
    for number, line in enumerate(text.splitlines(keepends=True)):
        at = start
        for cell in _cells(line):
            if number and NUMBER.fullmatch(cell):
                found.append((at, at + len(cell), _other(cell)))
            at += len(cell) + 1
        start += len(line)
    return found


def _cells(line):
    """Split a row as it is written, quotes included; no cell of the tables holds a line's end."""
    (cells,) = csv.reader(io.StringIO(line))
    written, rest = [], line.rstrip("\n")
    for cell in cells:
        length = len(cell)
        if rest.startswith('"'):
            length += 2 + cell.count('"')
        written.append(rest[:length])
        rest = rest[length + 1 :]
    return written


def _other(number):
    return str(another(int(number) if number.isdigit() else float(number)))
