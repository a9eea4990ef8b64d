"""The levels of a longer answer as a cell, a line for each."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.questions.exchange.spreadsheet.cell_text import (
    escape_cell,
    read_lines,
    unescape_cell,
    write_lines,
)

if TYPE_CHECKING:
    from collections.abc import Sequence


def write_levels(levels: Sequence[str]) -> str:
    r"""Write levels, the lowest first.

    Examples
    --------
    >>> write_levels(["Names one.", "Explains both."])
    'says: Names one.\nsays: Explains both.'
    """
    return write_lines([("says", escape_cell(level))] for level in levels)


def read_levels(cell: str) -> tuple[str, ...]:
    """Read levels, the lowest first.

    Raises
    ------
    InputError
        If a line has a field that is not known.

    Examples
    --------
    >>> read_levels(write_levels(["Names one.", "Explains | both."]))
    ('Names one.', 'Explains | both.')
    """
    return tuple(unescape_cell(line["says"]) for line in read_lines("levels", cell, ("says",)))
