"""Read the text tables: one subject a file, one row a value, every row with its provenance.

Each table is a CSV file beside this module. Its last columns are always ``value``, ``unit``,
``conditions``, ``status``, ``source`` and ``caveat``; the columns before them say what the value
belongs to (a species, a reaction on a material, ...). ``sources.csv`` is the bibliography.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib import resources
from types import MappingProxyType
from typing import TYPE_CHECKING

from fizzplate.data.lines import Line, read_lines

if TYPE_CHECKING:
    from collections.abc import Mapping

PEDIGREE = ("value", "unit", "conditions", "status", "source", "caveat")
BIBLIOGRAPHY = "sources"


class MissingRowError(KeyError):
    """A table has no row for what is looked up, or more than one; the message names both.

    Examples
    --------
    >>> find("diffusion", species="Li+")
    Traceback (most recent call last):
        ...
    fizzplate.data.tables.MissingRowError: data/diffusion.csv has no row with species Li+
    """

    def __str__(self) -> str:
        return str(self.args[0])


class Status(StrEnum):
    """How a value came into its row."""

    READ = "read"  #: read in the source named
    COMPUTED = "computed"  #: computed from the source named, as the conditions say
    FITTED = "fitted"  #: fitted for this project to the source named
    REMEMBERED = "remembered"  #: from memory, not checked at a source
    PRACTICE = "practice"  #: common practice of the trade
    CHOSEN = "chosen"  #: a choice of the model, explained in the caveat


_STATUSES = {str(each): each for each in Status}
_PACKAGE = "fizzplate.data"


@dataclass(frozen=True, slots=True)
class Row:
    """One value of a table.

    Parameters
    ----------
    table
        Name of the table without its ending.
    key
        What the value belongs to: the table's own columns by name.
    text
        The value as written in the table.
    unit, conditions, caveat
        Unit (empty for a pure number or a word), what holds for the value, and what to beware of.
    status
        How the value came here.
    source
        Key of the bibliography.
    line_number
        Where it stands in its file.
    """

    table: str
    key: Mapping[str, str]
    text: str
    unit: str
    conditions: str
    status: Status
    source: str
    caveat: str
    line_number: int = 0

    @property
    def cells(self) -> Line:
        """The row's own columns, read by what must stand in each."""
        return Line(f"data/{self.table}.csv", self.line_number, self.key)

    @property
    def value(self) -> float:
        """The value as a number; ``ValueError`` where the table holds a word."""
        return float(self.text)

    def __getitem__(self, column: str) -> str:
        return self.key[column]


@dataclass(frozen=True, slots=True)
class Source:
    """One entry of the bibliography."""

    key: str
    citation: str
    note: str


@cache
def table_names() -> tuple[str, ...]:
    """Names of all tables of values, in alphabetical order."""
    files = (entry.name for entry in resources.files(__package__).iterdir())
    names = (name.removesuffix(".csv") for name in files if name.endswith(".csv"))
    return tuple(sorted(name for name in names if name != BIBLIOGRAPHY))


@cache
def rows(table: str) -> tuple[Row, ...]:
    """All rows of a table, in the order of the file.

    Raises
    ------
    FileNotFoundError
        If there is no such table.
    BadRowError
        If a row has a cell too many or too few, or an unknown status.
    """
    return tuple(
        Row(
            table=table,
            key=MappingProxyType({k: v for k, v in line.cells.items() if k not in PEDIGREE}),
            text=line["value"],
            unit=line["unit"],
            conditions=line["conditions"],
            status=line.one_of("status", _STATUSES),
            source=line["source"],
            caveat=line["caveat"],
            line_number=line.number,
        )
        for line in read_lines(_PACKAGE, table)
    )


@cache
def find(table: str, **key: str) -> Row:
    """Return the one row of a table whose own columns have the values given.

    Raises
    ------
    MissingRowError
        If no row or more than one row fits.

    Examples
    --------
    >>> find("diffusion", species="Cu2+").unit
    'm2/s'
    """
    found = [row for row in rows(table) if all(row.key[k] == v for k, v in key.items())]
    if len(found) != 1:
        wanted = " and ".join(f"{column} {value}" for column, value in key.items())
        many = f"{len(found)} rows, not one," if found else "no row"
        raise MissingRowError(f"data/{table}.csv has {many} with {wanted}")
    return found[0]


@cache
def sources() -> Mapping[str, Source]:
    """Return the bibliography by key."""
    entries = (
        Source(e["key"], e["citation"], e["note"]) for e in read_lines(_PACKAGE, BIBLIOGRAPHY)
    )
    return MappingProxyType({entry.key: entry for entry in entries})


def source(key: str) -> Source:
    """Return one entry of the bibliography; ``KeyError`` if there is none."""
    return sources()[key]
