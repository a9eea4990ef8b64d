"""Lines over time, or along the cell, as a drawing with the place of its axes and its figures as a table.

A chart names its series on the lines, has its unit in the title and gives its figures in words
for those who do not see it. The page moves the ruler's cursor over the drawing: ``box`` says where
the axes lie, in the drawing's own units.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
from matplotlib.ticker import MaxNLocator

from fizzplate.views.figures.drawing import (
    POINTS_PER_INCH,
    drawing,
    figure_for_the_page,
    paint,
    paint_frame,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.axes import Axes

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

WIDTH_IN, HEIGHT_IN = 4.3, 2.4
AXES = (0.1, 0.13, 0.63, 0.62)  # left, bottom, width, height, as fractions of the figure
LINE_HEIGHT = 0.125  # height of a line of text beside the axes, as a fraction of their height
NO_CURVE = 1e-6  # highest value of a chart that has nothing to show


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


@dataclass(frozen=True, slots=True)
class Scale:
    """The axes of a chart, where its figures do not decide them.

    Parameters
    ----------
    minimum
        Height of the upright axis at least.
    limits, ticks
        Ends of the upright axis and its marks.
    places
        Marks of the level axis and their names, where it is not time.
    """

    minimum: float = 0.0
    limits: tuple[float, float] | None = None
    ticks: Sequence[float] | None = None
    places: tuple[Sequence[float], Sequence[str]] | None = None


def line_chart(
    name: str,
    heading: tuple[str, str],
    time_s: Array,
    series: Sequence[Series],
    description: str,
    scale: Scale | None = None,
) -> Chart:
    """Draw lines over time, each with its name at its end.

    Parameters
    ----------
    name
        Short name; every id in the drawing begins with it.
    heading
        Title with its unit, and a second line below it.
    time_s
        Times of the values, s.
    series
        The lines.
    description
        The figures in words.
    scale
        Of the axes.
    """
    title, second_line = heading
    minutes = time_s / 60
    with figure_for_the_page((WIDTH_IN, HEIGHT_IN)) as figure:
        axes = figure.add_axes(AXES)
        for place, line in enumerate(series):
            curve = axes.plot(
                minutes, line.values, linestyle=line.dashes, linewidth=line.width, clip_on=False
            )
            paint(line.colour, *curve, name=f"curve-{place}")
        low, high = _set_scale(axes, minutes, series, scale or Scale())
        ends = [(float(line.values[-1]) - low) / (high - low) for line in series]
        for line, height in zip(series, _apart(ends, [line.label for line in series]), strict=True):
            axes.text(
                1.03, height, line.label, transform=axes.transAxes, va="center", linespacing=1.25
            )
        figure.text(0.02, 0.965, title, va="top", weight="bold", size=11.5)
        paint("quiet", figure.text(0.02, 0.865, second_line, va="top", size=10))
        paint_frame(figure, axes)
        svg = drawing(figure, name, title, description)
    return Chart(name, svg, _box(), csv=_table(title, minutes, series))


def _set_scale(
    axes: Axes, minutes: Array, series: Sequence[Series], scale: Scale
) -> tuple[float, float]:
    """Set the limits and marks of both axes; return the limits of the upright one."""
    highest = max(float(line.values.max()) for line in series)
    nothing = highest <= NO_CURVE
    low, high = scale.limits or (0.0, 1.0 if nothing else max(1.08 * highest, scale.minimum))
    axes.set_xlim(0, minutes[-1])
    axes.set_ylim(low, high)
    if scale.ticks is not None or nothing:
        axes.set_yticks(scale.ticks or (0, 1))
    else:
        axes.yaxis.set_major_locator(MaxNLocator(4))
    if scale.places is None:
        _label_minutes(axes, float(minutes[-1]))
    else:
        axes.set_xticks(*scale.places)
    return low, high


def _table(title: str, minutes: Array, series: Sequence[Series]) -> str:
    """Write what is drawn as comma-separated values with a heading."""
    names = [" ".join(line.label.split()) for line in series]
    head = ",".join(["minutes", *(f'"{name}: {title}"' for name in names)])
    columns = np.column_stack([minutes, *(line.values for line in series)])
    return "\n".join([head, *(",".join(f"{v:.6g}" for v in row) for row in columns)]) + "\n"


def _label_minutes(axes: Axes, last: float) -> None:
    """Mark round minutes; the mark at the end of the run has the unit."""
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


def _apart(heights: Sequence[float], names: Sequence[str]) -> list[float]:
    """Spread names along the right edge so that none covers another, each as near as can be."""
    order = sorted(range(len(heights)), key=lambda i: heights[i])
    half = [0.5 * LINE_HEIGHT * (names[i].count("\n") + 1.3) for i in order]
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
