"""One quantity against another, over a batch of cells that differ in one thing."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data
from fizzplate.cell import MAX_SUPPLY_V, run_many, sweep_voltage
from fizzplate.chemistry import solutions, species_name
from fizzplate.chemistry.substances import GASES
from fizzplate.lesson.rule import charge_share
from fizzplate.words import DEFAULT_WORDING, InputError, choice, page_quantity, say

if TYPE_CHECKING:
    from collections.abc import Callable

    from fizzplate.cell import Run, VoltageSweep
    from fizzplate.lesson.state import CellSetup
    from fizzplate.words import Wording

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

POINTS = 16
MIN_POINTS = 3  # of a line
EQUAL_WITHIN = 0.03  # relative: volumes that differ by less are read as equal
MIN_SHARE = 0.005  # of the charge, somewhere in the sweep: less is not drawn
MORE_PERCENT = 5  # of the charge, from which a share is said to grow with dilution
MIN_GAS_CM3 = 0.01  # at the end: less is not drawn
NO_ONSET_V = 0.05  # a lower decomposition voltage is none


@dataclass(frozen=True, slots=True)
class Sweep:
    """What was found.

    Parameters
    ----------
    title, x_label, y_label
        In words, with units.
    x
        What was varied, (points,).
    lines
        By name, what was found, (points,).
    here
        Where the present cell lies on x.
    logarithmic
        Whether x is spread over powers of ten.
    sentence
        What the picture shows, as a sentence.
    onset_V
        The decomposition voltage, if x is a voltage and there is one.
    enlarged
        How many times larger the lines are drawn once more, so that their foot is seen; 1: not at all.
    """

    title: str
    x_label: str
    y_label: str
    x: Array
    lines: dict[str, Array]
    here: float
    logarithmic: bool
    sentence: str
    onset_V: float | None = None
    enlarged: int = 1


def sweep(kind: str, setup: CellSetup, wording: Wording = DEFAULT_WORDING) -> Sweep:
    """Vary one quantity of a cell and find another.

    Parameters
    ----------
    kind
        A name in :data:`SWEEPS`.
    setup
        The cell; all but what is varied stays as it is.
    wording
        The board's.

    Raises
    ------
    InputError
        If there is no such sweep, or no supply drives the constant current.

    Examples
    --------
    >>> from fizzplate.lesson import CellSetup
    >>> found = sweep("metal against charge", CellSetup("CuSO4", minutes=2))
    >>> found.y_label
    'Metal on the cathode, mg'
    """
    return SWEEPS[choice("kind", kind, SWEEPS)](setup, wording)


def _runs(setups: list[CellSetup], samples: int = 5) -> list[Run]:
    return run_many([each.cell() for each in setups], minutes=setups[0].minutes, samples=samples)


def _drivable(setups: list[CellSetup]) -> list[CellSetup]:
    """Return the set-ups of a sweep in which a supply can drive the constant current.

    Raises
    ------
    InputError
        If there are too few for a line.
    """
    found: list[CellSetup] = []
    too_much: InputError | None = None
    for each in setups:
        try:
            each.cell()
        except InputError as refusal:
            if refusal.argument != "current_A":
                raise
            too_much = refusal
        else:
            found.append(each)
    if too_much is not None and len(found) < MIN_POINTS:
        raise too_much
    return found


def _shares(setup: CellSetup, wording: Wording) -> Sweep:
    soluble = (
        solutions()[setup.solution].solubility_mol_dm3 if setup.solution in solutions() else 1.0
    )
    highest = min(1.0, soluble)
    spread = np.geomspace(0.01, highest, POINTS)
    setups = _drivable([replace(setup, concentration_mol_dm3=float(c)) for c in spread])
    x = np.array([each.concentration_mol_dm3 for each in setups])
    runs = _runs(setups)
    lines, growing = _share_lines(runs, wording)
    sentence = (
        f"The more dilute the solution, the more {', and the more '.join(growing)}."
        if growing
        else "The shares hardly depend on the concentration here."
    )
    if len(x) < POINTS and setup.current_A is not None:
        sentence += (
            f" Below {page_quantity(x[0], 'mol/dm3', '.2g')} a current of "
            f"{page_quantity(setup.current_A, 'A')} would need more than {page_quantity(MAX_SUPPLY_V, 'V')}, "
            "so the lines begin there."
        )
    return Sweep(
        "Share of the charge against concentration",
        "Concentration, mol/dm³",
        "Share of the charge, %",
        x,
        lines,
        setup.concentration_mol_dm3,
        logarithmic=True,
        sentence=sentence,
    )


def _share_lines(runs: list[Run], wording: Wording) -> tuple[dict[str, Array], list[str]]:
    """Return the share of each product as a line, and what grows as the solution is more dilute."""
    lines: dict[str, Array] = {}
    growing = []
    for role, name_of_role in zip(("cathode", "anode"), wording.short_names, strict=True):
        products = dict.fromkeys(p for run in runs for p in getattr(run, role).products)
        for product in products:
            share = np.array([100 * charge_share(getattr(run, role), product) for run in runs])
            if share.max() > 100 * MIN_SHARE:
                name, happens = _line_names(product)
                lines[f"{name}, {name_of_role}"] = share
                if share[0] > share[-1] + MORE_PERCENT:
                    growing.append(
                        say("{happens} at {the_electrode}", wording, happens=happens, role=role)
                    )
    return lines, growing


def _line_names(product: str) -> tuple[str, str]:
    """Name a product in a legend and in a sentence; a halide is halogen that was reduced again."""
    for row in data.rows("halogens"):
        if row["ion"] == product:
            halogen = species_name(row["product"])
            return f"{halogen} reduced again", f"{halogen} is reduced again"
    return species_name(product), f"{species_name(product)} forms"


def _mass(setup: CellSetup, wording: Wording) -> Sweep:
    run = setup.cell().run(minutes=setup.minutes, samples=POINTS)
    lines = {
        species_name(solid): 1e3 * run.cathode.mass_g(solid)
        for solid in run.cathode.solids
        if float(run.cathode.mass_g(solid)[-1]) > 0
    }
    sentence = (
        "The mass is proportional to the charge: each atom needs the same number of electrons."
        if lines
        else "No metal is deposited in this cell."
    )
    return Sweep(
        "Metal against charge",
        "Charge, C",
        say("Metal on {the_cathode}, mg", wording),
        run.charge_C,
        lines,
        float(run.charge_C[-1]),
        logarithmic=False,
        sentence=sentence,
    )


def _gas(setup: CellSetup, wording: Wording) -> Sweep:
    run = setup.cell().run(minutes=setup.minutes, samples=POINTS)
    lines: dict[str, Array] = {}
    ends_cm3 = {"cathode": 0.0, "anode": 0.0}
    for role, name_of_role in zip(ends_cm3, wording.short_names, strict=True):
        record = getattr(run, role)
        for gas in record.products:
            if gas in GASES and (end := float(record.gas_cm3(gas)[-1])) > MIN_GAS_CM3:
                lines[f"{species_name(gas)}, {name_of_role}"] = record.gas_cm3(gas)
                ends_cm3[role] += end
    return Sweep(
        "Gas against time",
        "Time, minutes",
        "Gas made, cm³",
        run.time_s / 60,
        lines,
        setup.minutes,
        logarithmic=False,
        sentence=_compare_volumes(ends_cm3, wording),
    )


def _compare_volumes(ends_cm3: dict[str, float], wording: Wording) -> str:
    """Compare the volumes made at both electrodes."""
    less, more = sorted(ends_cm3, key=lambda role: ends_cm3[role])
    if ends_cm3[more] <= 0:
        return "Hardly any gas forms."
    if ends_cm3[less] <= 0:
        return "Gas forms at one electrode only."
    ratio = ends_cm3[more] / ends_cm3[less]
    if ratio < 1 + EQUAL_WITHIN:
        return "At the end the volumes made at both electrodes are equal."
    return say(
        "At the end the volume made at {the_electrode} is {ratio} times that at {the_other_electrode}.",
        wording,
        role=more,
        ratio=f"{ratio:.2g}",
    )


def _current(setup: CellSetup, wording: Wording) -> Sweep:
    curve = sweep_voltage(replace(setup, current_A=None, lamp="none").cell())
    has_onset = curve.onset_V is not None and curve.onset_V >= NO_ONSET_V
    return Sweep(
        "Current against voltage, without the lamp",
        "Voltage between the electrodes, V",
        "Current after one minute, mA",
        curve.voltage_V,
        {"current": 1e3 * curve.current_A},
        setup.supply_V if setup.supply_V is not None else float("nan"),
        logarithmic=False,
        sentence=_onset_sentence(curve, wording),
        onset_V=curve.onset_V if has_onset else None,
        enlarged=_times_larger(curve) if has_onset else 1,
    )


def _onset_sentence(curve: VoltageSweep, wording: Wording) -> str:
    """Say where the current begins, and where the supply ends the curve."""
    end = page_quantity(curve.voltage_V[-1], "V", ".2g")
    if curve.onset_V is None:
        sentence = f"Hardly any current flows up to {end}."
    elif curve.onset_V < NO_ONSET_V:
        sentence = (
            "Current flows from the lowest voltage on: this cell has no decomposition voltage."
        )
    else:
        residual_A = np.interp(curve.onset_V, curve.voltage_V, curve.residual_current_A)
        sentence = say(
            "The decomposition voltage (onset) is {onset}. Below it only a residual current flows, here "
            "{residual}: oxygen of the air, dissolved in the liquid, reacts at {the_cathode}. Above it the "
            "current rises. The onset is read where the current is {more} above the residual current, "
            "without the voltage across the liquid.",
            wording,
            onset=page_quantity(curve.onset_V, "V", ".2g"),
            residual=page_quantity(1e3 * residual_A, "mA", ".2g"),
            more=page_quantity(1e3 * curve.onset_current_A, "mA", ".2g"),
        )
    if curve.supply_limited:
        limit = page_quantity(curve.cell.supply_limit_A, "A")
        sentence += (
            f" The curve ends at {end}, where the supply gives its largest current, {limit}."
        )
    return sentence


def _times_larger(curve: VoltageSweep) -> int:
    """Return the power of ten that lifts the foot of the curve from the axis."""
    foot_A = curve.onset_current_A + float(curve.residual_current_A.max())
    return int(10 ** max(0, math.floor(math.log10(float(curve.current_A.max()) / foot_A))))


SWEEPS: dict[str, Callable[[CellSetup, Wording], Sweep]] = {
    "shares against concentration": _shares,
    "metal against charge": _mass,
    "gas against time": _gas,
    "current against voltage": _current,
}
