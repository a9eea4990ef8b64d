"""A class's own measurements: what each group entered, what theory expects, what the class found."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.chemistry import half_equation, molar_mass_g_mol, species_name
from fizzplate.chemistry.checks import InputError, choice, number
from fizzplate.chemistry.constants import FARADAY_C_MOL
from fizzplate.chemistry.gases import gas_volume_cm3
from fizzplate.lesson.class_table import read_value, write_csv
from fizzplate.lesson.electrode_names import by_sign
from fizzplate.lesson.fitting import (
    Found,
    constants_found,
    constants_from_volumes,
    free_line,
    outliers,
    through_origin,
)
from fizzplate.lesson.wording import Wording

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from fizzplate.lesson.fitting import Fit

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

MOST_GROUPS = 200
USUAL_C, USUAL_KPA = 25.0, 101.325


@dataclass(frozen=True, slots=True)
class Column:
    """A column of the class's table.

    Parameters
    ----------
    key, title
        Its name in a file, and what stands over it.
    units
        What may be chosen, each with its size in the unit used inside; the first is usual.
    least, most
        Limits in the unit used inside.
    also
        What else a file may call it.
    """

    key: str
    title: str
    units: Mapping[str, float] = field(default_factory=dict)
    least: float = -math.inf
    most: float = math.inf
    also: tuple[str, ...] = ()

    def title_in(self, wording: Wording) -> str:
        """Name the column as the board names the electrodes.

        Examples
        --------
        >>> BY_KEY["cathode_before"].title_in(Wording(electrode_names="negative"))
        'Negative electrode before'
        """
        return named(self.title, wording)

    @property
    def headings(self) -> tuple[str, ...]:
        """What a file may call it, in small letters, without commas."""
        names = (self.key.replace("_", " "), self.title, *map(self.title_in, BOARDS), *self.also)
        return tuple(dict.fromkeys(name.lower().replace(",", "") for name in names))


def named(text: str, wording: Wording) -> str:
    """Name the electrodes in a text as the board does.

    Examples
    --------
    >>> named("copper gained at the cathode", Wording(electrode_names="both"))
    'copper gained at the cathode (negative electrode)'
    """
    if wording.electrode_names == "negative":
        return by_sign(text)
    if wording.electrode_names == "both":
        signs = {"cathode": "negative", "anode": "positive"}
        return _ROLE.sub(lambda found: f"{found[0]} ({signs[found[0].lower()]} electrode)", text)
    return text


_ROLE = re.compile(r"\b(cathode|anode)\b", re.IGNORECASE)
BOARDS = tuple(Wording(electrode_names=names) for names in ("negative", "both"))
MASS = {"g": 1.0, "mg": 1e-3}
COLUMNS = (
    Column("group", "Group"),
    Column("cathode_before", "Cathode before", MASS, 0.0, 1000.0),
    Column("cathode_after", "Cathode after", MASS, 0.0, 1000.0),
    Column("anode_before", "Anode before", MASS, 0.0, 1000.0),
    Column("anode_after", "Anode after", MASS, 0.0, 1000.0),
    Column("current", "Current", {"A": 1.0, "mA": 1e-3}, 0.0, 20.0),
    Column("minutes", "Minutes", {"min": 60.0}, 0.0, 36_000.0, ("time", "minute")),
    Column("seconds", "Seconds", {"s": 1.0}, 0.0, 36_000.0, ("time", "second")),
    Column("gas_cathode", "Gas, cathode", {"cm³": 1.0}, 0.0, 2000.0),
    Column("gas_anode", "Gas, anode", {"cm³": 1.0}, 0.0, 2000.0),
    Column("temperature", "Room", {"°C": 1.0}, 0.0, 50.0, ("room temperature",)),
    Column("pressure", "Pressure", {"kPa": 1.0, "mbar": 0.1}, 50.0, 120.0),
)
BY_KEY = {column.key: column for column in COLUMNS}


@dataclass(frozen=True, slots=True)
class Mark:
    """Something about one cell of the table.

    Parameters
    ----------
    row, key
        Which cell.
    says
        What is wrong, or asked.
    wrong
        Whether the cell is left out until it is mended.
    """

    row: int
    key: str
    says: str
    wrong: bool


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
        Cells that are wrong or asked about.
    """

    names: tuple[str, ...]
    values: Mapping[str, Array]
    marks: tuple[Mark, ...]

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


def read_groups(rows: Sequence[Mapping[str, str]], units: Mapping[str, str]) -> Groups:
    """Read the class's table; a wrong cell is marked and left out, nothing else is lost.

    Parameters
    ----------
    rows
        The text of every cell by the key of its column.
    units
        The unit chosen for a column, where it is not the usual one.

    Examples
    --------
    >>> groups = read_groups([{"group": "A", "current": "0,2", "minutes": "20"}], {})
    >>> float(groups.charge_C[0])
    240.0
    """
    number("groups", len(rows), unit="groups", at_most=MOST_GROUPS)
    values = {c.key: np.full(len(rows), np.nan) for c in COLUMNS if c.units}
    marks: list[Mark] = []
    for k, row in enumerate(rows):
        for key, column_values in values.items():
            try:
                column_values[k] = _value(BY_KEY[key], row.get(key, ""), units.get(key))
            except InputError as refusal:
                marks.append(Mark(k, key, str(refusal), wrong=True))
    names = tuple(row.get("group", "").strip() or str(k + 1) for k, row in enumerate(rows))
    groups = Groups(names, values, ())
    marks += [
        Mark(int(k), "cathode_after", "lighter than before: is it so?", wrong=False)
        for k in np.flatnonzero(groups.gained_g < 0)
    ]
    marks += [
        Mark(int(k), "anode_after", "heavier than before: is it so?", wrong=False)
        for k in np.flatnonzero(groups.lost_g < 0)
    ]
    return Groups(names, values, tuple(marks))


def _value(column: Column, text: str, unit: str | None) -> float:
    value = read_value(column.title, text)
    if value is None:
        return math.nan
    chosen = unit if unit is not None else next(iter(column.units))
    size = column.units[choice(f"unit of {column.title}", chosen, column.units)]
    number(  # in the unit that was typed, and as it was typed
        column.title,
        int(value) if value == int(value) else value,
        unit=chosen,
        at_least=column.least / size,
        at_most=column.most / size,
    )
    return value * size


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


@dataclass(frozen=True, slots=True)
class Quantity:
    """Something that can be fitted against charge.

    Parameters
    ----------
    name, unit
        What it is.
    product
        Formula of what is made or dissolves.
    electrons
        For each atom or molecule of it.
    is_gas
        Whether it is a volume.
    """

    name: str
    unit: str
    product: str
    electrons: int
    is_gas: bool = False


def quantities(metal: str, anode_gas: str = "O2") -> dict[str, Quantity]:
    """Return what can be fitted for a metal and a gas.

    Examples
    --------
    >>> quantities("Cu")["cathode gain"].electrons
    2
    """
    electrons = half_equation(metal).electrons
    per_gas = {
        gas: half_equation(gas, source=source).electrons
        for gas, source in (("H2", "H+"), ("O2", "OH-"), ("Cl2", "Cl-"))
    }
    choice("anode_gas", anode_gas, ("O2", "Cl2"))
    return {
        "cathode gain": Quantity(
            f"{species_name(metal)} gained at the cathode", "g", metal, electrons
        ),
        "anode loss": Quantity(f"{species_name(metal)} lost at the anode", "g", metal, electrons),
        "cathode gas": Quantity("hydrogen at the cathode", "cm³", "H2", per_gas["H2"], is_gas=True),
        "anode gas": Quantity(
            f"{species_name(anode_gas)} at the anode",
            "cm³",
            anode_gas,
            per_gas[anode_gas],
            is_gas=True,
        ),
    }


@dataclass(frozen=True, slots=True)
class Comparison:
    """A measured quantity beside theory.

    Parameters
    ----------
    quantity
        What was measured.
    names
        Of the groups that have it.
    charge_C, measured, theory, error
        (N,), in C and in the quantity's unit; error from the balance's or the tube's resolution.
    origin, free
        Straight lines through the points; none where there are too few.
    far_off
        Names of groups that lie far off; they are kept in the fit.
    found
        Constants with their uncertainties.
    """

    quantity: Quantity
    names: tuple[str, ...]
    charge_C: Array
    measured: Array
    theory: Array
    error: float
    origin: Fit | None
    free: Fit | None
    far_off: tuple[str, ...]
    found: Mapping[str, Found]

    @property
    def yield_percent(self) -> float:
        """Measured over expected, by the slope through the origin, %."""
        if self.origin is None:
            return math.nan
        expected = through_origin(self.charge_C, self.theory).slope
        return 100 * self.origin.slope / expected

    @property
    def off_percent(self) -> tuple[float, float]:
        """How far the slope is from theory, and its uncertainty, both in % of the expected slope."""
        return self.yield_percent - 100, self._percent(
            self.origin.slope_error if self.origin else 0
        )

    @property
    def resolution_percent(self) -> float:
        """What the resolution alone does to the slope, % of the expected slope."""
        return self._percent(self.error / math.sqrt(float(self.charge_C @ self.charge_C)))

    @property
    def percent_per_unit(self) -> float:
        """What 1 g or 1 cm3 more in every group does to the slope, % of the expected slope."""
        charge = self.charge_C
        return self._percent(float(charge.sum()) / float(charge @ charge))

    def _percent(self, slope: float) -> float:
        return 100 * slope / through_origin(self.charge_C, self.theory).slope


def compare_with_theory(
    groups: Groups,
    quantity: Quantity,
    which: str,
    *,
    resolution: float,
    over_water: bool = False,
) -> Comparison:
    """Compare what a class measured with Faraday's law.

    Parameters
    ----------
    groups
        The class's table.
    quantity, which
        What is compared, and its key: "cathode gain", "anode loss", "cathode gas" or "anode gas".
    resolution
        Of the balance, g, or of the gas tube, cm3: two readings make one result.
    over_water
        Whether gas was collected over water, whose vapour it then carries.

    Raises
    ------
    InputError
        If no group has both a charge and the quantity.
    """
    number("resolution", resolution, unit=quantity.unit, above=0)
    measured = {
        "cathode gain": groups.gained_g,
        "anode loss": groups.lost_g,
        "cathode gas": groups.values["gas_cathode"],
        "anode gas": groups.values["gas_anode"],
    }[choice("which", which, ("cathode gain", "anode loss", "cathode gas", "anode gas"))]
    charge = groups.charge_C
    there = np.isfinite(measured) & np.isfinite(charge) & (charge > 0)
    if not there.any():
        raise InputError(
            "table", "no group", f"at least one with current, time and {quantity.name}"
        )
    theory = _theory(groups, quantity, over_water=over_water)[there]
    x, y = charge[there], measured[there]
    names = tuple(name for name, kept in zip(groups.names, there, strict=True) if kept)
    error = math.sqrt(2) * resolution
    origin = through_origin(x, y, resolution=error) if x.size > 1 else None
    free = free_line(x, y, resolution=error) if x.size > 2 and np.ptp(x) > 0 else None
    far = outliers(origin) if origin else ()
    found: Mapping[str, Found] = {}
    if origin is not None and origin.slope > 0:
        found = (
            constants_from_volumes(origin, through_origin(x, theory).slope, quantity.electrons)
            if quantity.is_gas
            else constants_found(origin, molar_mass_g_mol(quantity.product), quantity.electrons)
        )
    return Comparison(
        quantity,
        names,
        x,
        y,
        theory,
        error,
        origin,
        free,
        tuple(names[k] for k in far),
        found,
    )


def _theory(groups: Groups, quantity: Quantity, *, over_water: bool) -> Array:
    moles = groups.charge_C / (quantity.electrons * FARADAY_C_MOL)
    if not quantity.is_gas:
        return np.asarray(moles * molar_mass_g_mol(quantity.product))
    temperature = np.where(
        np.isfinite(groups.values["temperature"]), groups.values["temperature"], USUAL_C
    )
    pressure = np.where(
        np.isfinite(groups.values["pressure"]), groups.values["pressure"], USUAL_KPA
    )
    volumes = [
        float(gas_volume_cm3(n, temperature_C=t, pressure_kPa=p, over_water=over_water))
        if math.isfinite(n)
        else math.nan
        for n, t, p in zip(moles, temperature, pressure, strict=True)
    ]
    return np.asarray(volumes)


def results_csv(
    groups: Groups,
    comparisons: Sequence[Comparison],
    *,
    note: str = "",
    wording: Wording | None = None,
) -> str:
    """Write what follows from what was entered as CSV, in the board's words; a note goes with every row."""
    board = wording or Wording()
    head = ["group", "charge / C"]
    rows = [[name, _figures(q)] for name, q in zip(groups.names, groups.charge_C, strict=True)]
    for comparison in comparisons:
        unit = comparison.quantity.unit
        name = named(comparison.quantity.name, board)
        head += [f"{name} / {unit}", f"expected / {unit}"]
        by_name = dict(
            zip(
                comparison.names,
                zip(comparison.measured, comparison.theory, strict=True),
                strict=True,
            )
        )
        for row in rows:
            pair = by_name.get(row[0], (math.nan, math.nan))
            row += [_figures(float(value)) for value in pair]
    if note:
        head.append("note")
        for row in rows:
            row.append(note)
    return write_csv([head, *rows])


def _figures(value: float) -> str:
    return f"{value:.5g}" if math.isfinite(value) else ""
