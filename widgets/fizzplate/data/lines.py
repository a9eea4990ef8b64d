"""Read the lines of a table; a bad cell is refused with its file, its line and its column."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from importlib import resources
from types import MappingProxyType
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from collections.abc import Mapping

T = TypeVar("T")


class BadRowError(ValueError):
    """A cell of a table holds something that cannot stand there; the message names file, line and column.

    Examples
    --------
    >>> line = Line("data/melts.csv", 3, {"temperature": "hot"})
    >>> line.numbers("temperature")
    Traceback (most recent call last):
        ...
    fizzplate.data.lines.BadRowError: data/melts.csv, line 3, temperature: 'hot' is not a number
    """


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a table, with where it stands.

    Parameters
    ----------
    file
        The table, from the package's folder on.
    number
        Of the line in its file, the heading being line 1.
    cells
        What stands in each column.
    """

    file: str
    number: int
    cells: Mapping[str, str]

    def __getitem__(self, column: str) -> str:
        return self.cells[column]

    def refusal(self, column: str, problem: str) -> BadRowError:
        """Return what to raise about a cell."""
        return BadRowError(f"{self.file}, line {self.number}, {column}: {problem}")

    def text(self, column: str) -> str:
        """Return the words of a cell that may not be empty."""
        if not self[column].strip():
            raise self.refusal(column, "this cell is empty")
        return self[column]

    def numbers(self, column: str) -> tuple[float, ...]:
        """Return the numbers of a cell, which have spaces between them."""
        return tuple(self._number(column, word) for word in self.text(column).split())

    def one_of(self, column: str, known: Mapping[str, T]) -> T:
        """Return what the name in a cell stands for."""
        if self[column] not in known:
            names = ", ".join(name or "nothing" for name in known)
            raise self.refusal(column, f"{self[column]!r} is none of {names}")
        return known[self[column]]

    def some_of(self, column: str, known: Mapping[str, T]) -> tuple[T, ...]:
        """Return what the names in a cell stand for; they have spaces between them."""
        words = self.text(column).split()
        return tuple(
            Line(self.file, self.number, {column: word}).one_of(column, known) for word in words
        )

    def _number(self, column: str, word: str) -> float:
        try:
            return float(word)
        except ValueError:
            raise self.refusal(column, f"{word!r} is not a number") from None


def read_lines(package: str, table: str) -> tuple[Line, ...]:
    """Read a CSV file of the package.

    Parameters
    ----------
    package
        The package that the file lies in.
    table
        The name of the file, without its ending.

    Raises
    ------
    FileNotFoundError
        If there is no such file.
    BadRowError
        If a line has more or fewer cells than the heading.
    """
    text = resources.files(package).joinpath(f"{table}.csv").read_text(encoding="utf-8")
    file = "/".join([*package.split(".")[1:], f"{table}.csv"])
    read = csv.reader(text.splitlines(), strict=True)
    heading = next(read)
    lines = []
    for cells in read:
        if len(cells) != len(heading):
            problem = f"{len(cells)} cells under {len(heading)} headings"
            raise BadRowError(f"{file}, line {read.line_num}: {problem}")
        lines.append(
            Line(file, read.line_num, MappingProxyType(dict(zip(heading, cells, strict=True))))
        )
    return tuple(lines)
