"""The charts of a run as SVG drawings whose text stays text.

A chart names its series on the lines, carries its unit in the title and tells its figures in words
for those who do not see it. The page moves the ruler's cursor over the drawing: ``box`` says where
the axes lie, in the drawing's own units.
"""

from __future__ import annotations

import io
import re
from dataclasses import dataclass, replace
from html import escape
from typing import TYPE_CHECKING, Any

import matplotlib as mpl
import numpy as np
from matplotlib.figure import Figure
from matplotlib.ticker import MaxNLocator

from fizzplate.chemistry import electrode_equation, molar_mass_g_mol, pretty, species_name
from fizzplate.chemistry.constants import FARADAY_C_MOL
from fizzplate.views.bench.payload import kind_of
from fizzplate.views.web.theme import chart_style, tokens, with_properties
from fizzplate.words.say import begin

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.axes import Axes

    from fizzplate.cell.run import ElectrodeRecord, Run

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

WIDTH_IN, HEIGHT_IN = 4.3, 2.4
POINTS_PER_INCH = 72.0
AXES = (0.1, 0.13, 0.63, 0.62)  # left, bottom, width, height, as fractions of the figure
LINE_ROOM = 0.125  # height of a line of text beside the axes, as a fraction of their height
PLATED = ("Cu", "Ag", "Zn", "Pb", "Ni", "Fe")
TRACE = 0.05  # of an electrode's gas: less is not named on the chart
HARDLY = 0.02  # of the gas at the other electrode: less is as good as none
LEAST_TO_ONE = 0.95  # a ratio below it has its 1 at the cathode: 0.0 : 1 says nothing
PROFILES = 3  # lines along the cell: more cannot be told apart without colour
FILM_SHARE = 0.16  # of the drawn gap, each, as in the scene
SEEN_GAS_CM3 = 0.005  # a bubble of 2 mm across: less gas has no chart
TOLD_APART = 0.02  # of the highest volume: a collected volume nearer to the made one has no line
LEAST_GAS_CM3 = 0.04  # height of the axis at least: less gas than that is not seen


@dataclass(frozen=True, slots=True)
class Chart:
    """A drawing and where its axes lie.

    Parameters
    ----------
    name
        Short name; every id in the drawing begins with it.
    svg
        The drawing.
    box
        Edges of the axes in the drawing's units: ``left`` (time 0), ``right`` (the end of the
        run), ``top`` and ``bottom``.
    csv
        The figures that are drawn, as a table with a heading.
    further
        Whether it is shown only on request.
    profile
        For a drawing along the cell, whose lines the page moves: the species and the highest
        concentration of the axis, mol/dm3.
    """

    name: str
    svg: str
    box: dict[str, float]
    csv: str
    further: bool = False
    profile: dict[str, Any] | None = None


@dataclass(frozen=True, slots=True)
class Series:
    """A line of a chart: its values, what it is called, and how it is drawn."""

    values: Array
    label: str
    colour: str = "ink"
    dashes: str = "-"
    width: float = 2.2


def charts(run: Run) -> tuple[Chart, ...]:
    """Draw the charts that say something about a run.

    Gas and metal where there are any, acidity; on request current and concentrations along the cell.
    """
    records = (run.cathode, run.anode)
    has_gas = max(float(_gas_cm3(record)[-1]) for record in records) > SEEN_GAS_CM3
    drawn = [gas_chart(run)] if has_gas else []
    metal = _main_metal(run)
    if metal:
        drawn.append(metal_chart(run, metal))
    return (*drawn, acidity_chart(run), current_chart(run), profile_chart(run))


def gas_chart(run: Run) -> Chart:
    """Draw the gas made at each electrode, with the ratio of the two, and what is collected of it."""
    volumes = [_gas_cm3(record) for record in (run.cathode, run.anode)]
    most = max(float(volume[-1]) for volume in volumes)
    names = [_gas_names(record, HARDLY * most) for record in (run.cathode, run.anode)]
    series = [
        Series(volumes[0], "\n+ ".join(("cathode\n" + names[0][0], *names[0][1:]))),
        Series(volumes[1], "\n+ ".join(("anode\n" + names[1][0], *names[1][1:])), dashes="--"),
    ]
    collected = [_gas_cm3(record, collected=True) for record in (run.cathode, run.anode)]
    for made, caught in zip(volumes, collected, strict=True):
        if float((made - caught).max()) > TOLD_APART * most:
            series.append(Series(caught, "collected", dashes=":", width=1.2))
    freed = [caught[-1] for caught in collected]
    ratio = _ratio(volumes[0][-1], volumes[1][-1])
    return _draw(
        "gas",
        "Gas made, cm³",
        ratio,
        run.time_s,
        series,
        (
            f"Gas made by the end, {_minutes(run)}: {_figure(volumes[0][-1])} cm³ at the cathode "
            f"({' and '.join(names[0])}), {_figure(volumes[1][-1])} cm³ at the anode "
            f"({' and '.join(names[1])}). {begin(ratio)}. Collected, as it has not dissolved: "
            f"{_figure(freed[0])} cm³ and {_figure(freed[1])} cm³."
        ),
        least=LEAST_GAS_CM3,
    )


def metal_chart(run: Run, metal: str) -> Chart:
    """Draw the metal gained by the cathode beside what the whole charge would give."""
    name = species_name(metal)
    electrons = electrode_equation(metal, "cathode").electrons
    gained_mg = 1e3 * run.cathode.mass_g(metal)
    allowed_mg = 1e3 * run.charge_C * molar_mass_g_mol(metal) / (electrons * FARADAY_C_MOL)
    lost_mg = -1e3 * run.anode.mass_g(metal)
    series = [
        Series(gained_mg, "this run", colour=name, width=3.0),
        Series(allowed_mg, "what the\ncharge allows", dashes=":", width=1.8),
    ]
    said = (
        f"{begin(name)} on the cathode by the end, {_minutes(run)}: {_figure(gained_mg[-1])} mg; "
        f"the charge allows {_figure(allowed_mg[-1])} mg."
    )
    if lost_mg[-1] > 0:
        series.append(Series(lost_mg, "lost by\nthe anode", colour=name, dashes="--"))
        said += f" The anode lost {_figure(lost_mg[-1])} mg."
    title = f"{begin(name)} on the cathode, mg"
    return _draw("metal", title, "", run.time_s, series, said)


def acidity_chart(run: Run) -> Chart:
    """Draw the pH at the face of each electrode."""
    series = [
        Series(run.cathode.pH, "cathode"),
        Series(run.anode.pH, "anode", dashes="--"),
    ]
    return _draw(
        "acidity",
        "pH at each electrode’s face",
        "",
        run.time_s,
        series,
        (
            f"pH by the end, {_minutes(run)}: {run.cathode.pH[-1]:.1f} at the cathode's face, "
            f"{run.anode.pH[-1]:.1f} at the anode's face; {run.cathode.pH[0]:.1f} before."
        ),
        limits=(0.0, 14.0),
        ticks=(0, 7, 14),
    )


def current_chart(run: Run) -> Chart:
    """Draw the current."""
    current_mA = 1e3 * run.current_A
    drawn = _draw(
        "current",
        "Current, mA",
        "",
        run.time_s,
        [Series(current_mA, "this run")],
        (
            f"Current: {_figure(current_mA[0])} mA when switched on, {_figure(current_mA[-1])} mA by "
            f"the end, {_minutes(run)}; in all {_figure(run.charge_C[-1])} C."
        ),
    )
    return replace(drawn, further=True)


def profile_chart(run: Run) -> Chart:
    """Draw concentrations along the cell; the page moves the lines with the ruler."""
    strongest = sorted(
        (name for name in (*run.ions, *run.dissolved) if name not in {"H+", "OH-"}),
        key=lambda name: -float(run.concentration(name).max()),
    )[:PROFILES]
    ends = {name: 1e-3 * run.concentration(name)[-1] for name in strongest}
    highest = max(1e-3 * float(run.concentration(name).max()) for name in strongest)
    film = f"{run.cell.vessel.film_mm:g} mm"
    has_film = run.cell.vessel.film_mm > 0
    ticks = [0.0, FILM_SHARE, 1 - FILM_SHARE, 1.0] if has_film else [0.0, 1.0]
    names = ["", film, film, ""] if has_film else ["", ""]
    said = "; ".join(
        f"{species_name(name)} {_figure(c[0])} at the cathode's face, {_figure(c[-1])} at the anode's"
        for name, c in ends.items()
    )
    drawn = _draw(
        "profile",
        "Along the cell, mol/dm³",
        "from cathode to anode, at the time of the ruler",
        np.linspace(0.0, 60.0, 2),
        [
            Series(np.full(2, c.mean()), pretty(name), dashes=dashes)
            for (name, c), dashes in zip(ends.items(), ("-", "--", ":"), strict=False)
        ],
        f"Concentrations by the end, {_minutes(run)}, mol/dm³: {said}.",
        limits=(0.0, 1.05 * highest),
        places=(ticks, names),
    )
    table = ["place in mm," + ",".join(f"c({name}) in mol/dm3" for name in strongest)]
    table += [
        ",".join(f"{value:.6g}" for value in (1e3 * place, *(c[k] for c in ends.values())))
        for k, place in enumerate(run.position_m)
    ]
    return replace(
        drawn,
        csv="\n".join(table) + "\n",
        further=True,
        profile={"species": strongest, "highest": 1.05 * highest},
    )


def _draw(
    name: str,
    title: str,
    beside: str,
    time_s: Array,
    series: Sequence[Series],
    description: str,
    *,
    least: float = 0.0,
    limits: tuple[float, float] | None = None,
    ticks: Sequence[float] | None = None,
    places: tuple[Sequence[float], Sequence[str]] | None = None,
) -> Chart:
    minutes = time_s / 60
    colours = tokens().light
    with mpl.rc_context(chart_style()):  # type: ignore[arg-type]  # its stubs list every key
        figure = Figure(figsize=(WIDTH_IN, HEIGHT_IN), dpi=POINTS_PER_INCH)
        axes = figure.add_axes(AXES)
        for place, line in enumerate(series):
            axes.plot(
                minutes,
                line.values,
                color=colours[line.colour],
                linestyle=line.dashes,
                linewidth=line.width,
                gid=f"curve-{place}",
                clip_on=False,
            )
        highest = max(float(line.values.max()) for line in series)
        low, high = limits or (0.0, max(1.08 * highest, least) if highest > 1e-6 else 1.0)
        axes.set_xlim(0, minutes[-1])
        axes.set_ylim(low, high)
        if ticks is not None or highest <= 1e-6:
            axes.set_yticks(ticks or (0, 1))
        else:
            axes.yaxis.set_major_locator(MaxNLocator(4))
        if places is None:
            _label_minutes(axes, float(minutes[-1]))
        else:
            axes.set_xticks(*places)
        ends = [(float(line.values[-1]) - low) / (high - low) for line in series]
        for line, height in zip(series, _apart(ends, [line.label for line in series]), strict=True):
            axes.text(
                1.03, height, line.label, transform=axes.transAxes, va="center", linespacing=1.25
            )
        figure.text(0.02, 0.965, title, va="top", weight="bold", size=11.5)
        figure.text(0.02, 0.865, beside, va="top", color=colours["quiet"], size=10)
        buffer = io.StringIO()
        figure.savefig(buffer, format="svg", metadata={"Date": None, "Creator": None})
    return Chart(
        name,
        for_the_page(buffer.getvalue(), name, title, description),
        _box(),
        csv=_table(title, minutes, series),
    )


def _table(title: str, minutes: Array, series: Sequence[Series]) -> str:
    """Write what is drawn as comma-separated values with a heading."""
    names = [" ".join(line.label.split()) for line in series]
    head = ",".join(["minutes", *(f'"{name}: {title}"' for name in names)])
    columns = np.column_stack([minutes, *(line.values for line in series)])
    return "\n".join([head, *(",".join(f"{v:.6g}" for v in row) for row in columns)]) + "\n"


def _label_minutes(axes: Axes, last: float) -> None:
    """Mark round minutes; the end of the run carries the unit."""
    ticks = [tick for tick in MaxNLocator(5).tick_values(0, last) if tick <= last * 1.0001]
    labels = [f"{tick:g}" for tick in ticks]
    labels[-1] += " min"
    axes.set_xticks(ticks, labels)


def _box() -> dict[str, float]:
    left, bottom, width, height = AXES
    wide, high = WIDTH_IN * POINTS_PER_INCH, HEIGHT_IN * POINTS_PER_INCH
    return {
        "left": left * wide,
        "right": (left + width) * wide,
        "top": (1 - bottom - height) * high,
        "bottom": (1 - bottom) * high,
    }


def for_the_page(svg: str, name: str, title: str, description: str) -> str:
    """Make a drawing part of a page: own ids, the page's colours, words for who does not see it."""
    svg = svg[svg.index("<svg") :]
    svg = re.sub(r"\s*<metadata>.*?</metadata>", "", svg, flags=re.DOTALL)
    svg = re.sub(r'(\bid="|href="#|url\(#)', rf"\g<1>{name}-", svg)
    svg = re.sub(r'<svg [^>]*?(viewBox="[^"]*")[^>]*>', rf"<svg \1 {_spoken(name)}>", svg, count=1)
    words = (
        f'<title id="{name}-title">{escape(title)}</title>'
        f'<desc id="{name}-desc">{escape(description)}</desc>'
    )
    at = svg.index(">") + 1
    return with_properties(f"{svg[:at]}{words}{svg[at:]}")


def _spoken(name: str) -> str:
    return (
        'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
        f'role="img" aria-labelledby="{name}-title" aria-describedby="{name}-desc"'
    )


def _apart(heights: Sequence[float], names: Sequence[str]) -> list[float]:
    """Spread names along the right edge so that none covers another, each as near as can be."""
    order = sorted(range(len(heights)), key=lambda i: heights[i])
    half = [0.5 * LINE_ROOM * (names[i].count("\n") + 1.3) for i in order]
    placed = [max(heights[i], half[k]) for k, i in enumerate(order)]
    for k in range(1, len(placed)):
        placed[k] = max(placed[k], placed[k - 1] + half[k - 1] + half[k])
    highest = 1.1 - half[-1]
    for k in reversed(range(len(placed))):
        placed[k] = min(placed[k], highest)
        if k:
            highest = placed[k] - half[k] - half[k - 1]
    result = [0.0] * len(heights)
    for i, height in zip(order, placed, strict=True):
        result[i] = height
    return result


def _gases(record: ElectrodeRecord) -> list[str]:
    return [product for product in record.products if kind_of(product) == "gas"]


def _gas_cm3(record: ElectrodeRecord, *, collected: bool = False) -> Array:
    volumes = [record.gas_cm3(gas, collected=collected) for gas in _gases(record)]
    return np.asarray(np.sum(volumes, axis=0)) if volumes else np.zeros_like(record.pH)


def _gas_names(record: ElectrodeRecord, least_cm3: float) -> list[str]:
    whole = float(_gas_cm3(record)[-1])
    named = [
        species_name(gas)
        for gas in _gases(record)
        if whole > least_cm3 and float(record.gas_cm3(gas)[-1]) > TRACE * whole
    ]
    return named or ["no gas"]


def _ratio(cathode_cm3: float, anode_cm3: float) -> str:
    if cathode_cm3 < HARDLY * anode_cm3 or anode_cm3 < HARDLY * cathode_cm3 or not anode_cm3:
        return "no ratio: gas at one electrode only" if cathode_cm3 or anode_cm3 else "no gas"
    times = cathode_cm3 / anode_cm3
    if times < LEAST_TO_ONE:
        return f"cathode : anode = 1 : {_figure(1 / times)}"
    return f"cathode : anode = {times:.1f} : 1"


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
    return f"{float(run.time_s[-1]) / 60:g} minutes"


def _figure(value: Any) -> str:
    """Write a number with two figures that mean something."""
    return f"{float(f'{float(value):.2g}'):g}"
