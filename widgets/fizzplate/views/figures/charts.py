"""The charts of a run: gas, metal, acidity, current, and concentrations along the cell."""

from __future__ import annotations

from dataclasses import replace
from textwrap import wrap
from typing import TYPE_CHECKING, Any

import numpy as np

from fizzplate.chemistry import (
    FARADAY_C_MOL,
    electrode_equation,
    molar_mass_g_mol,
    pretty,
    species_name,
)
from fizzplate.chemistry.substances import kind_of
from fizzplate.views.figures.line_chart import Chart, Scale, Series, line_chart
from fizzplate.words import DEFAULT_WORDING, page_quantity, say

if TYPE_CHECKING:
    from fizzplate.cell import ElectrodeRecord, Run
    from fizzplate.words import Wording

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

PLATED = ("Cu", "Ag", "Zn", "Pb", "Ni", "Fe")
TRACE = 0.05  # of an electrode's gas: less is not named on the chart
HARDLY = 0.02  # of the gas at the other electrode: less is as good as none
MIN_RATIO = 0.95  # below this, write 1 : x, because x : 1 would round to 0.0
PROFILES = 3  # lines along the cell: more than these look alike without colour
FILM_SHARE = 0.16  # of the drawn gap, each; a test holds it equal to the scene's
SEEN_GAS_CM3 = 0.005  # a bubble of 2 mm across: less gas has no chart
NOTABLE_LOSS = 0.02  # of the highest volume: a collected volume nearer to the made one has no line
LABEL_LETTERS = 12  # in a line of a label beside the axes
MIN_GAS_CM3 = 0.04  # height of the axis at least: less gas than that is not seen


def charts(run: Run, wording: Wording = DEFAULT_WORDING) -> tuple[Chart, ...]:
    """Draw the charts that say something about a run, in a board's wording.

    Gas and metal where there are any, acidity; on request current and concentrations along the cell.
    """
    records = (run.cathode, run.anode)
    has_gas = max(float(_gas_cm3(record)[-1]) for record in records) > SEEN_GAS_CM3
    first = [gas_chart(run, wording)] if has_gas else []
    metal = _main_metal(run)
    if metal:
        first.append(metal_chart(run, metal, wording))
    return (
        *first,
        acidity_chart(run, wording),
        current_chart(run),
        profile_chart(run, wording),
    )


def gas_chart(run: Run, wording: Wording = DEFAULT_WORDING) -> Chart:
    """Draw the gas made at each electrode and the part that is collected, with the ratio of the two."""
    volumes = [_gas_cm3(record) for record in (run.cathode, run.anode)]
    most = max(float(volume[-1]) for volume in volumes)
    gases = [_gas_names(record, HARDLY * most) for record in (run.cathode, run.anode)]
    labels = [
        "\n+ ".join((f"{electrode}\n{first}", *others))
        for electrode, (first, *others) in zip(_electrodes(run, wording), gases, strict=True)
    ]
    series = [Series(volumes[0], labels[0]), Series(volumes[1], labels[1], dashes="--")]
    collected = [_gas_cm3(record, collected=True) for record in (run.cathode, run.anode)]
    for made, caught in zip(volumes, collected, strict=True):
        if float((made - caught).max()) > NOTABLE_LOSS * most:
            series.append(Series(caught, "collected", dashes=":", width=1.2))
    ratio = _ratio(volumes[0][-1], volumes[1][-1], wording)
    description = say(
        "Gas made after {minutes}: {cathode_cm3} cm³ at {the_cathode} ({cathode_gases}), "
        "{anode_cm3} cm³ at {the_anode} ({anode_gases}). {Ratio}. Of this, "
        "{cathode_collected_cm3} cm³ and {anode_collected_cm3} cm³ did not dissolve and were collected.",
        wording,
        minutes=_minutes(run),
        cathode_cm3=_figure(volumes[0][-1]),
        cathode_gases=" and ".join(gases[0]),
        anode_cm3=_figure(volumes[1][-1]),
        anode_gases=" and ".join(gases[1]),
        ratio=ratio,
        cathode_collected_cm3=_figure(collected[0][-1]),
        anode_collected_cm3=_figure(collected[1][-1]),
    )
    scale = Scale(minimum=MIN_GAS_CM3)
    return line_chart("gas", ("Gas made, cm³", ratio), run.time_s, series, description, scale)


def metal_chart(run: Run, metal: str, wording: Wording = DEFAULT_WORDING) -> Chart:
    """Draw the metal gained by the cathode, and what the whole charge would give."""
    name = species_name(metal)
    electrons = electrode_equation(metal, "cathode").electrons
    gained_mg = 1e3 * run.cathode.mass_g(metal)
    allowed_mg = 1e3 * run.charge_C * molar_mass_g_mol(metal) / (electrons * FARADAY_C_MOL)
    lost_mg = -1e3 * run.anode.mass_g(metal)
    series = [
        Series(gained_mg, "this run", colour=name, width=3.0),
        Series(allowed_mg, "what the\ncharge allows", dashes=":", width=1.8),
    ]
    description = say(
        "{Metal} on {the_cathode} after {minutes}: {gained_mg} mg; the charge allows "
        "{allowed_mg} mg.",
        wording,
        metal=name,
        minutes=_minutes(run),
        gained_mg=_figure(gained_mg[-1]),
        allowed_mg=_figure(allowed_mg[-1]),
    )
    if lost_mg[-1] > 0:
        by_anode = wrap(say("{the_anode}", wording), LABEL_LETTERS)
        series.append(Series(lost_mg, "\n".join(("lost by", *by_anode)), colour=name, dashes="--"))
        description += say(" {The_anode} lost {lost_mg} mg.", wording, lost_mg=_figure(lost_mg[-1]))
    on = "{Metal} on {the_cathode}{at_first}, mg"
    at_first = " (at first)" if run.swapped.any() else ""
    title = say(on, wording, metal=name, at_first=at_first)
    return line_chart("metal", (title, ""), run.time_s, series, description)


def acidity_chart(run: Run, wording: Wording = DEFAULT_WORDING) -> Chart:
    """Draw the pH at the face of each electrode."""
    cathode, anode = _electrodes(run, wording)
    description = say(
        "pH after {minutes}: {cathode_pH:.1f} at {the_cathode}'s face, {anode_pH:.1f} at "
        "{the_anode}'s face; {first_pH:.1f} at the start.",
        wording,
        minutes=_minutes(run),
        cathode_pH=run.cathode.pH[-1],
        anode_pH=run.anode.pH[-1],
        first_pH=run.cathode.pH[0],
    )
    return line_chart(
        "acidity",
        ("pH at each electrode’s face", ""),
        run.time_s,
        [Series(run.cathode.pH, cathode), Series(run.anode.pH, anode, dashes="--")],
        description,
        Scale(limits=(0.0, 14.0), ticks=(0, 7, 14)),
    )


def current_chart(run: Run) -> Chart:
    """Draw the current."""
    current_mA = 1e3 * run.current_A
    chart = line_chart(
        "current",
        ("Current, mA", ""),
        run.time_s,
        [Series(current_mA, "this run")],
        (
            f"Current: {_figure(current_mA[0])} mA when switched on, {_figure(current_mA[-1])} mA "
            f"after {_minutes(run)}; total charge {_figure(run.charge_C[-1])} C."
        ),
    )
    return replace(chart, further=True)


def profile_chart(run: Run, wording: Wording = DEFAULT_WORDING) -> Chart:
    """Draw concentrations along the cell; the page moves the lines with the ruler."""
    strongest = sorted(
        (name for name in (*run.ions, *run.dissolved) if name not in {"H+", "OH-"}),
        key=lambda name: -float(run.concentration(name).max()),
    )[:PROFILES]
    ends = {name: 1e-3 * run.concentration(name)[-1] for name in strongest}
    highest = 1.05 * max(1e-3 * float(run.concentration(name).max()) for name in strongest)
    at_faces = "; ".join(
        say(
            "{species} {cathode_c} at {the_cathode}'s face, {anode_c} at {the_anode}'s",
            wording,
            species=species_name(name),
            cathode_c=_figure(c[0]),
            anode_c=_figure(c[-1]),
        )
        for name, c in ends.items()
    )
    chart = line_chart(
        "profile",
        (
            "Along the cell, mol/dm³",
            say("from {cathode} to {anode}, at the time on the ruler", wording),
        ),
        np.linspace(0.0, 60.0, 2),
        [
            Series(np.full(2, c.mean()), pretty(name), dashes=dashes)
            for (name, c), dashes in zip(ends.items(), ("-", "--", ":"), strict=False)
        ],
        f"Concentrations after {_minutes(run)}, mol/dm³: {at_faces}.",
        Scale(limits=(0.0, highest), places=_films(run)),
    )
    return replace(
        chart,
        csv=_profile_table(run, ends),
        further=True,
        profile={"species": strongest, "highest": highest},
    )


def _films(run: Run) -> tuple[list[float], list[str]]:
    """Mark the unstirred films along the cell, and how wide they are."""
    if run.cell.vessel.film_mm <= 0:
        return [0.0, 1.0], ["", ""]
    film = f"{run.cell.vessel.film_mm:g} mm"
    return [0.0, FILM_SHARE, 1 - FILM_SHARE, 1.0], ["", film, film, ""]


def _profile_table(run: Run, concentrations: dict[str, Array]) -> str:
    """Write concentrations along the cell as comma-separated values with a heading."""
    lines = ["place in mm," + ",".join(f"c({name}) in mol/dm3" for name in concentrations)]
    lines += [
        ",".join(
            f"{value:.6g}" for value in (1e3 * place, *(c[k] for c in concentrations.values()))
        )
        for k, place in enumerate(run.position_m)
    ]
    return "\n".join(lines) + "\n"


def _electrodes(run: Run, wording: Wording) -> tuple[str, str]:
    """Return what the lines of the electrodes are called: with the wires swapped, by what they were."""
    cathode, anode = wording.short_names
    if not run.swapped.any():
        return cathode, anode
    return f"{cathode}\nat first", f"{anode}\nat first"


def _gases(record: ElectrodeRecord) -> list[str]:
    return [product for product in record.products if kind_of(product) == "gas"]


def _gas_cm3(record: ElectrodeRecord, *, collected: bool = False) -> Array:
    volumes = [record.gas_cm3(gas, collected=collected) for gas in _gases(record)]
    return np.asarray(np.sum(volumes, axis=0)) if volumes else np.zeros_like(record.pH)


def _gas_names(record: ElectrodeRecord, min_cm3: float) -> list[str]:
    whole = float(_gas_cm3(record)[-1])
    named = [
        species_name(gas)
        for gas in _gases(record)
        if whole > min_cm3 and float(record.gas_cm3(gas)[-1]) > TRACE * whole
    ]
    return named or ["no gas"]


def _ratio(cathode_cm3: float, anode_cm3: float, wording: Wording) -> str:
    if cathode_cm3 < HARDLY * anode_cm3 or anode_cm3 < HARDLY * cathode_cm3 or not anode_cm3:
        return "no ratio: gas at one electrode only" if cathode_cm3 or anode_cm3 else "no gas"
    times = cathode_cm3 / anode_cm3
    ratio = f"1 : {_figure(1 / times)}" if times < MIN_RATIO else f"{times:.1f} : 1"
    return f"{' : '.join(wording.short_names)} = {ratio}"


def _main_metal(run: Run) -> str:
    """Return the metal of which most was gained or lost, or an empty text."""
    metals = [s for s in run.cathode.solids + run.anode.solids if s in PLATED]
    moved = {
        metal: max(float(np.abs(r.mass_g(metal)).max()) for r in (run.cathode, run.anode))
        for metal in metals
    }
    most = max(moved, key=lambda metal: moved[metal], default="")
    return most if most and moved[most] > 0 else ""


def _minutes(run: Run) -> str:
    return page_quantity(float(run.time_s[-1]) / 60, "minutes")


def _figure(value: Any) -> str:
    """Write a number with two figures that mean something."""
    return f"{float(f'{float(value):.2g}'):g}"
