"""What a class entered: columns and units, what each group measured, what is wrong with a cell."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

import numpy as np

from fizzplate.lesson.measure.cell_reading import CellReading, read_cell
from fizzplate.words import (
    DEFAULT_WORDING,
    ELECTRODE_NAMES,
    InputError,
    Wording,
    choice,
    number,
    say,
)

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

MAX_GROUPS = 200
LEFT_OUT = "left_out"  # key in a row that the class leaves out of its results


@dataclass(frozen=True, slots=True)
class Column:
    """A column of the class's table.

    Parameters
    ----------
    key, title
        Its name in a file, and the heading that the board's wording fills.
    units
        What may be chosen, each with its size in the unit used inside; the first is usual.
    minimum, maximum
        Limits in the unit used inside.
    also
        What else a file may call it.
    """

    key: str
    title: str
    units: Mapping[str, float] = field(default_factory=dict)
    minimum: float = -math.inf
    maximum: float = math.inf
    also: tuple[str, ...] = ()

    def title_in(self, wording: Wording = DEFAULT_WORDING) -> str:
        """Name the column as the board names the electrodes.

        Examples
        --------
        >>> BY_KEY["cathode_before"].title_in(Wording(electrode_names="negative"))
        'Negative electrode before'
        """
        return say(self.title, wording)

    @property
    def headings(self) -> tuple[str, ...]:
        """What a file may call it, in small letters, without commas."""
        names = (self.key.replace("_", " "), *map(self.title_in, BOARDS), *self.also)
        return tuple(dict.fromkeys(name.lower().replace(",", "") for name in names))


BOARDS = tuple(Wording(electrode_names=names) for names in ELECTRODE_NAMES)
MASS = {"g": 1.0, "mg": 1e-3}
COLUMNS = (
    Column("group", "Group"),
    Column("cathode_before", "{Cathode_in_full} before", MASS, 0.0, 1000.0),
    Column("cathode_after", "{Cathode_in_full} after", MASS, 0.0, 1000.0),
    Column("anode_before", "{Anode_in_full} before", MASS, 0.0, 1000.0),
    Column("anode_after", "{Anode_in_full} after", MASS, 0.0, 1000.0),
    Column("current", "Current", {"A": 1.0, "mA": 1e-3}, 0.0, 20.0),
    Column("minutes", "Minutes", {"min": 60.0}, 0.0, 36_000.0, ("time", "minute")),
    Column("seconds", "Seconds", {"s": 1.0}, 0.0, 36_000.0, ("time", "second")),
    Column("gas_cathode", "Gas, {cathode_in_full}", {"cm³": 1.0}, 0.0, 2000.0),
    Column("gas_anode", "Gas, {anode_in_full}", {"cm³": 1.0}, 0.0, 2000.0),
    Column("temperature", "Room", {"°C": 1.0}, 0.0, 50.0, ("room temperature",)),
    Column("pressure", "Pressure", {"kPa": 1.0, "mbar": 0.1}, 50.0, 120.0),
)
BY_KEY = {column.key: column for column in COLUMNS}


@dataclass(frozen=True, slots=True)
class EntryRemark:
    """Something about one cell of the table.

    Parameters
    ----------
    row, key
        Which cell.
    sentence
        What is wrong, or asked, or how the cell was read.
    kind
        "wrong": the cell is left out until it is mended; "asked": it may be right; "read": how it was read.
    """

    row: int
    key: str
    sentence: str
    kind: Literal["wrong", "asked", "read"]


@dataclass(frozen=True, slots=True)
class Groups:
    """What the class entered, in g, A, s, cm3, °C and kPa; NaN where nothing was.

    Parameters
    ----------
    names
        Of the groups.
    values
        By key of the column, (N,).
    marks
        Cells that are wrong or asked about, or read in another way than they stand.
    left_out
        Of each group, whether the class leaves it out of its results; nobody is, if it is empty.
    remark
        How the whole table was read, where that needs saying.
    """

    names: tuple[str, ...]
    values: Mapping[str, Array]
    marks: tuple[EntryRemark, ...]
    left_out: tuple[bool, ...] = ()
    remark: str = ""

    @property
    def kept(self) -> np.ndarray[tuple[int, ...], np.dtype[np.bool_]]:
        """Which groups count in the results, (N,)."""
        return ~np.array(self.left_out or [False] * len(self.names), dtype=bool)

    @property
    def charge_C(self) -> Array:
        """Current by time, (N,), C; NaN where either is missing."""
        time_s = np.nan_to_num(self.values["minutes"]) + np.nan_to_num(self.values["seconds"])
        charge = self.values["current"] * np.where(time_s > 0, time_s, np.nan)
        return np.asarray(charge)

    @property
    def gained_g(self) -> Array:
        """What the cathode gained, (N,), g."""
        return np.asarray(self.values["cathode_after"] - self.values["cathode_before"])

    @property
    def lost_g(self) -> Array:
        """What the anode lost, (N,), g."""
        return np.asarray(self.values["anode_before"] - self.values["anode_after"])


def read_groups(
    rows: Sequence[Mapping[str, str]],
    units: Mapping[str, str],
    wording: Wording = DEFAULT_WORDING,
) -> Groups:
    """Read the class's table; a wrong cell is marked and left out, nothing else is lost.

    Parameters
    ----------
    rows
        The text of every cell by the key of its column.
    units
        The unit chosen for a column, where it is not the usual one.
    wording
        The board's.

    Examples
    --------
    >>> groups = read_groups([{"group": "A", "current": "0,2", "minutes": "20"}], {})
    >>> float(groups.charge_C[0])
    240.0
    """
    number("groups", len(rows), unit="groups", maximum=MAX_GROUPS)
    values = {c.key: np.full(len(rows), np.nan) for c in COLUMNS if c.units}
    titles = {key: BY_KEY[key].title_in(wording) for key in values}
    marks: list[EntryRemark] = []
    with_comma: list[tuple[int, str]] = []
    for k, row in enumerate(rows):
        for key, column_values in values.items():
            try:
                found = _read(BY_KEY[key], row.get(key, ""), units.get(key), titles[key])
            except InputError as refusal:
                marks.append(EntryRemark(k, key, str(refusal), "wrong"))
                continue
            if found is None:
                continue
            column_values[k] = found.value
            if found.read_as:
                marks.append(EntryRemark(k, key, f"read as {found.read_as}", "read"))
            elif found.has_comma:
                with_comma.append((k, key))
    names = tuple(row.get("group", "").strip() or str(k + 1) for k, row in enumerate(rows))
    groups = Groups(names, values, ())
    marks += [
        EntryRemark(int(k), "cathode_after", "lighter than before: is this right?", "asked")
        for k in np.flatnonzero(groups.gained_g < 0)
    ]
    marks += [
        EntryRemark(int(k), "anode_after", "heavier than before: is this right?", "asked")
        for k in np.flatnonzero(groups.lost_g < 0)
    ]
    has_points = any("." in row.get(key, "") for row in rows for key in values)
    if has_points:  # a comma may stand for thousands there
        marks += [_comma_remark(rows, k, key) for k, key in with_comma]
    remark = ""
    if with_comma and not has_points:
        first, key = with_comma[0]
        typed = rows[first][key].strip()
        remark = f"Commas are read as decimal points: {typed} as {typed.replace(',', '.')}."
    left_out = tuple(bool(row.get(LEFT_OUT)) for row in rows)
    return Groups(names, values, tuple(marks), left_out, remark)


def _comma_remark(rows: Sequence[Mapping[str, str]], row: int, key: str) -> EntryRemark:
    """Say that one comma in a table of decimal points was read as a point too."""
    return EntryRemark(row, key, f"read as {rows[row][key].strip().replace(',', '.')}", "read")


def _read(column: Column, text: str, unit: str | None, title: str) -> CellReading | None:
    chosen = unit if unit is not None else next(iter(column.units))
    size = column.units[choice(f"unit of {title}", chosen, column.units)]
    found = read_cell(title, text, column.units, chosen)
    if found is None:
        return None
    typed = float(f"{found.value / size:.12g}")
    number(  # in the unit that was typed, and as it was typed
        title,
        int(typed) if typed == int(typed) else typed,
        unit=chosen,
        minimum=column.minimum / size,
        maximum=column.maximum / size,
    )
    return found


#: an invented class set, to try the page with
INVENTED_NOTE = "Invented for trying the page: no class measured it."
INVENTED = [
    ("A", "8.214", "8.292", "9.105", "9.018", "0.20", "20", "0"),
    ("B", "7.906", "8.063", "8.871", "8.702", "0.40", "20", "0"),
    ("C", "8.551", "8.658", "9.340", "9.221", "0.27", "20", "30"),
    ("D", "8.120", "8.321", "8.995", "8.779", "0.50", "20", "15"),
    ("E", "7.884", "7.999", "9.210", "9.079", "0.30", "20", "0"),
    ("F", "8.333", "8.573", "9.018", "8.760", "0.60", "20", "0"),
    ("G", "8.047", "8.098", "8.760", "8.701", "0.45", "6", "10"),
    ("H", "8.402", "8.515", "9.122", "8.930", "0.45", "20", "0"),
]
INVENTED_KEYS = (
    "group",
    "cathode_before",
    "cathode_after",
    "anode_before",
    "anode_after",
    "current",
    "minutes",
    "seconds",
)


def invented_rows() -> list[dict[str, str]]:
    """Return the invented class set: copper electrodes in copper(II) sulfate, eight groups."""
    return [dict(zip(INVENTED_KEYS, row, strict=True)) for row in INVENTED]
