"""Runs of the model that questions read charts from: stored, so that a set needs no run.

``python tests/questions/store_question_runs.py`` writes ``data/question_runs.csv`` again; an ordinary test
compares the table with the engine.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data
from fizzplate.chemistry import FARADAY_C_MOL, half_equation, molar_mass_g_mol
from fizzplate.lesson.state import read_cell

if TYPE_CHECKING:
    from fizzplate.cell import Run

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

FIGURES = 5  # the same on every processor
MIN_VALUE = 1e-4  # of a unit: less is rounding and counts as nothing

Quantity = Callable[["Run"], "Array"]


def _mass(role: str, metal: str, sign: int = 1) -> Quantity:
    return lambda run: sign * 1e3 * getattr(run, role).mass_g(metal)


def _gas(role: str, gas: str, *, collected: bool = False) -> Quantity:
    return lambda run: np.asarray(getattr(run, role).gas_cm3(gas, collected=collected))


def _charge(run: Run) -> Array:
    return run.charge_C


@dataclass(frozen=True, slots=True)
class Recipe:
    """How a run is made: the cell as links write it, minutes between samples, how many, what is kept."""

    cell: str
    step_min: int
    samples: int
    keeps: Mapping[str, Quantity]

    @property
    def minutes(self) -> tuple[int, ...]:
        """Times of the samples, min."""
        return tuple(range(0, self.step_min * self.samples, self.step_min))

    def work_out(self) -> dict[str, tuple[float, ...]]:
        """Run the cell; return what is kept, rounded."""
        run = read_cell(self.cell)[0].cell().run(minutes=self.minutes[-1], samples=self.samples)
        return {
            name: tuple(
                float(f"{value:.{FIGURES}g}") if abs(value) >= MIN_VALUE else 0.0
                for value in quantity(run)
            )
            for name, quantity in self.keeps.items()
        }


CHARGE = "charge, C"
COPPER = "copper on {the_cathode}, mg"
SILVER = "silver on {the_cathode}, mg"
ZINC = "zinc on {the_cathode}, mg"
HYDROGEN = "hydrogen made, cm³"
OXYGEN = "oxygen made, cm³"
CHLORINE = "chlorine made, cm³"
COLLECTED = "chlorine collected, cm³"
GAINED = "change of {the_cathode}'s mass, mg"
LOST = "change of {the_anode}'s mass, mg"
#: what a deposit of each metal is kept under
DEPOSITS = {"Cu": COPPER, "Ag": SILVER, "Zn": ZINC}
RUNNING_LOW: Mapping[str, Quantity] = {
    CHARGE: _charge,
    COPPER: _mass("cathode", "Cu"),
    HYDROGEN: _gas("cathode", "H2"),
}
#: the runs by name
RECIPES: Mapping[str, Recipe] = {
    "copper": Recipe(
        "CuSO4,A=0.2,lamp=none",
        1,
        21,
        {CHARGE: _charge, COPPER: _mass("cathode", "Cu"), OXYGEN: _gas("anode", "O2")},
    ),
    "water": Recipe(
        "Na2SO4,A=0.3,lamp=none",
        1,
        17,
        {CHARGE: _charge, HYDROGEN: _gas("cathode", "H2"), OXYGEN: _gas("anode", "O2")},
    ),
    "copper rods": Recipe(
        "CuSO4,A=0.2,anode=copper,cathode=copper,lamp=none",
        2,
        16,
        {
            CHARGE: _charge,
            GAINED: _mass("cathode", "Cu"),
            LOST: _mass("anode", "Cu"),
        },
    ),
    "running low": Recipe("CuSO4,c=0.2,cm3=25,A=0.08,lamp=none", 3, 21, RUNNING_LOW),
    "running low sooner": Recipe("CuSO4,c=0.2,cm3=20,A=0.09,lamp=none", 3, 21, RUNNING_LOW),
    "brine": Recipe(
        "NaCl,A=0.25,lamp=none",
        1,
        13,
        {
            CHARGE: _charge,
            HYDROGEN: _gas("cathode", "H2"),
            CHLORINE: _gas("anode", "Cl2"),
            COLLECTED: _gas("anode", "Cl2", collected=True),
        },
    ),
    "silver": Recipe(
        "AgNO3,c=0.1,A=0.05,lamp=none",
        2,
        16,
        {CHARGE: _charge, SILVER: _mass("cathode", "Ag")},
    ),
    "zinc": Recipe(
        "ZnSO4,A=0.3,lamp=none",
        1,
        21,
        {
            CHARGE: _charge,
            ZINC: _mass("cathode", "Zn"),
            HYDROGEN: _gas("cathode", "H2"),
        },
    ),
    "strong": Recipe("Na2SO4,V=6,lamp=none", 1, 13, {CHARGE: _charge}),
    "weak": Recipe("Na2SO4,c=0.1,V=6,lamp=none", 1, 13, {CHARGE: _charge}),
}


@dataclass(frozen=True, slots=True)
class StoredRun:
    """A run as the table holds it.

    Parameters
    ----------
    name, cell
        Its name, and the cell as links write it.
    minutes
        Times of the samples, min.
    quantities
        What is kept by name, with its unit at the end of the name; one value a sample.
    """

    name: str
    cell: str
    minutes: tuple[float, ...]
    quantities: Mapping[str, tuple[float, ...]]

    def quantity(self, name: str) -> tuple[float, ...]:
        """Return one of the quantities."""
        return self.quantities[name]

    def share_of_charge(self, metal: str) -> float:
        """Return which fraction of the whole charge deposited a metal.

        Examples
        --------
        >>> 0.999 < stored_run("copper").share_of_charge("Cu") <= 1.001
        True
        """
        moles = self.quantities[DEPOSITS[metal]][-1] / 1e3 / molar_mass_g_mol(metal)
        charge = moles * half_equation(metal).electrons * FARADAY_C_MOL
        return charge / self.quantities[CHARGE][-1]


@cache
def stored_run(name: str) -> StoredRun:
    """Return a stored run.

    Examples
    --------
    >>> run = stored_run("water")
    >>> run.cell, run.minutes[-1]
    ('Na2SO4,A=0.3,lamp=none', 16.0)
    """
    found = [row for row in data.rows("question_runs") if row["run"] == name]
    if not found:
        raise KeyError(name)
    times = tuple(dict.fromkeys(float(row["minutes"]) for row in found))
    names = dict.fromkeys(row["quantity"] for row in found)
    quantities = {
        each: tuple(row.value for row in found if row["quantity"] == each) for each in names
    }
    return StoredRun(name, found[0].conditions, times, quantities)
