"""What a class found: its measurements beside what theory expects."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.chemistry import FARADAY_C_MOL, half_equation, molar_mass_g_mol, species_name
from fizzplate.chemistry.substances import gas_volume_cm3
from fizzplate.lesson.measure.class_table import write_csv
from fizzplate.lesson.measure.fitting import (
    FittedConstant,
    constants_from_masses,
    constants_from_volumes,
    free_line,
    middle_slope,
    off_the_middle,
    through_origin,
)
from fizzplate.words import DEFAULT_WORDING, InputError, Sentence, board_slots, choice, number

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from fizzplate.lesson.measure.class_entries import Groups
    from fizzplate.lesson.measure.fitting import Fit
    from fizzplate.words import Wording

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

DEFAULT_TEMPERATURE_C, DEFAULT_PRESSURE_KPA = 25.0, 101.325


@dataclass(frozen=True, slots=True)
class Quantity:
    """Something that can be fitted against charge.

    Parameters
    ----------
    name, unit
        What it is: a name that the board's wording fills, and its unit.
    product
        Formula of what is made or dissolves.
    electrons
        For each atom or molecule of it.
    is_gas
        Whether it is a volume.
    """

    name: Sentence
    unit: str
    product: str
    electrons: int
    is_gas: bool = False

    def name_in(self, wording: Wording = DEFAULT_WORDING) -> str:
        """Name the quantity as the board names the electrodes.

        Examples
        --------
        >>> from fizzplate.words.wording import Wording
        >>> quantities("Cu")["anode loss"].name_in(Wording(electrode_names="both"))
        'copper lost at the anode (positive electrode)'
        """
        return self.name.fill(board_slots(wording))


def quantities(metal: str, anode_gas: str = "O2") -> dict[str, Quantity]:
    """Return what can be fitted for a metal and a gas.

    Examples
    --------
    >>> quantities("Cu")["cathode gain"].electrons
    2
    """
    electrons = half_equation(metal).electrons
    # as many by every board's wording, whatever the gas comes from
    per_gas = {gas: half_equation(gas).electrons for gas in ("H2", "O2", "Cl2")}
    choice("anode_gas", anode_gas, ("O2", "Cl2"))
    names = {"metal": species_name(metal), "gas": species_name(anode_gas)}
    return {
        "cathode gain": Quantity(
            Sentence("{metal} gained at the {cathode_in_full}", names), "g", metal, electrons
        ),
        "anode loss": Quantity(
            Sentence("{metal} lost at the {anode_in_full}", names), "g", metal, electrons
        ),
        "cathode gas": Quantity(
            Sentence("hydrogen at the {cathode_in_full}"), "cm³", "H2", per_gas["H2"], is_gas=True
        ),
        "anode gas": Quantity(
            Sentence("{gas} at the {anode_in_full}", names),
            "cm³",
            anode_gas,
            per_gas[anode_gas],
            is_gas=True,
        ),
    }


@dataclass(frozen=True, slots=True)
class TheoryComparison:
    """A measured quantity beside theory.

    Parameters
    ----------
    quantity
        What was measured.
    names, rows
        Of the groups that have it and count: their names, and their places in the table.
    charge_C, measured, theory, error
        (N,), in C and in the quantity's unit; error from the balance's or the tube's resolution.
    origin, free
        Straight lines through the points; none where there are too few.
    far_off
        Names of groups that lie far off; they are kept in the fit.
    constants
        Constants with their uncertainties.
    everyone
        The same with the groups that the class leaves out; none where it leaves out nobody who has it.
    """

    quantity: Quantity
    names: tuple[str, ...]
    rows: tuple[int, ...]
    charge_C: Array
    measured: Array
    theory: Array
    error: float
    origin: Fit | None
    free: Fit | None
    far_off: tuple[str, ...]
    constants: Mapping[str, FittedConstant]
    everyone: TheoryComparison | None = None

    @property
    def left_out(self) -> tuple[str, ...]:
        """Names of the groups that have the quantity and are left out."""
        everyone = self.everyone or self
        pairs = zip(everyone.names, everyone.rows, strict=True)
        return tuple(name for name, row in pairs if row not in self.rows)

    @property
    def middle_slope(self) -> float:
        """Median of the groups' own slopes, which a group that is far off does not pull."""
        return middle_slope(self.charge_C, self.measured)

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
) -> TheoryComparison:
    """Compare what a class measured with Faraday's law; groups that it leaves out do not count in the fits.

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
            "table", "no group", f"at least one group with current, time and {quantity.name_in()}"
        )
    theory = _theory(groups, quantity, over_water=over_water)
    error = math.sqrt(2) * resolution

    def of(chosen: np.ndarray[tuple[int, ...], np.dtype[np.bool_]]) -> TheoryComparison:
        rows = tuple(int(k) for k in np.flatnonzero(chosen))
        names = tuple(groups.names[k] for k in rows)
        points = charge[chosen], measured[chosen], theory[chosen]
        return _compared(quantity, names, rows, points, error)

    counted = there & groups.kept
    return of(there) if (counted == there).all() else replace(of(counted), everyone=of(there))


def _compared(
    quantity: Quantity,
    names: tuple[str, ...],
    rows: tuple[int, ...],
    points: tuple[Array, Array, Array],
    error: float,
) -> TheoryComparison:
    """Fit lines through points: charge, what was measured, and theory."""
    x, y, theory = points
    origin = through_origin(x, y, resolution=error) if x.size > 1 else None
    free = free_line(x, y, resolution=error) if x.size > 2 and np.ptp(x) > 0 else None
    far = off_the_middle(x, y) if origin else ()
    constants: Mapping[str, FittedConstant] = {}
    if origin is not None and origin.slope > 0:
        constants = (
            constants_from_volumes(origin, through_origin(x, theory).slope, quantity.electrons)
            if quantity.is_gas
            else constants_from_masses(
                origin, molar_mass_g_mol(quantity.product), quantity.electrons
            )
        )
    return TheoryComparison(
        quantity,
        names,
        rows,
        x,
        y,
        theory,
        error,
        origin,
        free,
        tuple(names[k] for k in far),
        constants,
    )


def _theory(groups: Groups, quantity: Quantity, *, over_water: bool) -> Array:
    moles = groups.charge_C / (quantity.electrons * FARADAY_C_MOL)
    if not quantity.is_gas:
        return np.asarray(moles * molar_mass_g_mol(quantity.product))
    temperature = np.where(
        np.isfinite(groups.values["temperature"]),
        groups.values["temperature"],
        DEFAULT_TEMPERATURE_C,
    )
    pressure = np.where(
        np.isfinite(groups.values["pressure"]), groups.values["pressure"], DEFAULT_PRESSURE_KPA
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
    comparisons: Sequence[TheoryComparison],
    *,
    note: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> str:
    """Write what follows from what was entered as CSV, in the board's words; a note goes with every row."""
    head = ["group", "charge / C"]
    rows = [[name, _figures(q)] for name, q in zip(groups.names, groups.charge_C, strict=True)]
    for comparison in comparisons:
        unit = comparison.quantity.unit
        name = comparison.quantity.name_in(wording)
        head += [f"{name} / {unit}", f"expected / {unit}"]
        everyone = comparison.everyone or comparison
        pairs = zip(everyone.measured, everyone.theory, strict=True)
        by_row = dict(zip(everyone.rows, pairs, strict=True))
        for k, row in enumerate(rows):
            row += [_figures(float(value)) for value in by_row.get(k, (math.nan, math.nan))]
    if not groups.kept.all():
        head.append("left out")
        for row, is_kept in zip(rows, groups.kept, strict=True):
            row.append("" if is_kept else "yes")
    if note:
        head.append("note")
        for row in rows:
            row.append(note)
    return write_csv([head, *rows])


def _figures(value: float) -> str:
    return f"{value:.5g}" if math.isfinite(value) else ""
