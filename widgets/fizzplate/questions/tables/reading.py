"""Read the tables that questions draw from.

A set of questions is named by its number and an *edition*. A set ignores rows that came after its edition,
so a new row changes no older set: its ``since`` is the next edition.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from fizzplate.data import read_lines

if TYPE_CHECKING:
    from fizzplate.data import Line

SINCE = "since"


@cache
def rows(table: str) -> tuple[Line, ...]:
    """Return the rows of a table, in the order of the file.

    Raises
    ------
    FileNotFoundError
        If there is no such table.
    BadRowError
        If a row has a cell too many or too few.
    """
    return read_lines("fizzplate.questions.tables", table)


def edition_rows(table: str, edition: int, **key: str) -> tuple[Line, ...]:
    """Return the rows of a table that an edition draws from and whose columns hold what is given.

    Examples
    --------
    >>> len(edition_rows("candidates", 0)), edition_rows("candidates", 1, kind="liquid")[0]["key"]
    (0, 'H2O')
    """
    return tuple(
        row
        for row in rows(table)
        if all(row[column] == value for column, value in key.items())
        and row.numbers(SINCE)[0] <= edition
    )


@cache
def candidates(kind: str, edition: int) -> tuple[str, ...]:
    """Name what an edition may ask about: solutions, melts, liquids, misconceptions or causes of error.

    Examples
    --------
    >>> candidates("melt", 1)[0]
    'NaCl(l)'
    """
    return tuple(row["key"] for row in edition_rows("candidates", edition, kind=kind))
