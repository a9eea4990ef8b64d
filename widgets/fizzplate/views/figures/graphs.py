"""One quantity against another as an SVG drawing, for sweeps and for two runs laid over each other."""

from __future__ import annotations

import math
import textwrap
from dataclasses import dataclass
from typing import TYPE_CHECKING

import matplotlib as mpl
import numpy as np
from matplotlib.transforms import offset_copy

from fizzplate.views.figures.drawing import drawing, figure_for_the_page, paint, paint_frame
from fizzplate.views.web.theme import tokens

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

#: of a drawing: as narrow as a phone, where its letters are read as they are drawn
SIZE_IN = (4.2, 4.6)
LETTERS = 12  # points
LABEL_LETTERS = 22  # in one line beside the upright axis, which a legend of five lines makes short
#: dashes, so that lines differ without colour
STYLES = ("-", "--", ":", "-.", (0, (6, 2, 1, 2)), (0, (1, 1)))
NEAR = 0.25  # of the level axis: names of marks that are nearer would cover each other
PRESSED_SIZE = 24  # points across: what a finger finds
LETTER_AT = (8, -11)  # points from its point to the lower left of a letter
LETTER_MIDDLE = (13, -7)  # and to its middle
MARKS = ("o", "s", "^", "D", "v", "x")


@dataclass(frozen=True, slots=True)
class Line:
    """One line: its name, and where it goes; with dots on some points."""

    name: str
    x: Array
    y: Array
    dots: bool = True


@dataclass(frozen=True, slots=True)
class Points:
    """Points with error bars: their name, where they are, what is written at each, and its id in the drawing.

    A point with an id can be pressed: an unseen disc about it, as wide as a finger, bears the id. Another
    about its letter bears the id with "letter-" before it; where discs meet, those of the points are above.
    """

    name: str
    x: Array
    y: Array
    error: float
    labels: tuple[str, ...]
    ids: tuple[str, ...]
    hollow: bool = False


@dataclass(frozen=True, slots=True)
class Mark:
    """A place on the x axis that is marked by a line across the drawing, with its name above."""

    name: str
    x: float


@dataclass(frozen=True, slots=True)
class Stretches:
    """Parts of the x axis that are marked: their name, where each begins and ends, how they are hatched."""

    name: str
    spans: tuple[tuple[float, float], ...]
    hatch: str


def graph(
    name: str,
    title: str,
    axes_names: tuple[str, str],
    lines: Sequence[Line],
    *,
    points: Sequence[Points] = (),
    stretches: Sequence[Stretches] = (),
    mark: Mark | None = None,
    here: float | None = None,
    logarithmic: bool = False,
) -> str:
    """Draw lines over one pair of axes, with names below them and words for those who do not see it.

    Parameters
    ----------
    name
        Every id in the drawing begins with it.
    title
        What it shows.
    axes_names
        Labels of both axes, with units.
    lines
        What is drawn; one without points is left out.
    points
        Points that are drawn one by one, over the lines.
    stretches
        Parts of the x axis to mark, each with its own hatching.
    mark
        A place on the x axis, where there is one of its own.
    here
        The present cell's place on the x axis.
    logarithmic
        Whether the x axis is.

    Returns
    -------
    str
        SVG whose text stays text.
    """
    shown = [line for line in lines if line.x.size]
    marked = [each for each in stretches if each.spans]
    with (
        figure_for_the_page(SIZE_IN, layout="constrained") as figure,
        mpl.rc_context({"font.size": LETTERS, "legend.fontsize": LETTERS}),
    ):
        axes = figure.subplots()
        for place, line in enumerate(shown):
            _add_line(axes, line, place)
        scattered = [each for each in points if each.x.size]
        for each in scattered:
            _add_points(figure, axes, each)
        for stretch in marked:
            _add_stretches(axes, stretch)
        if logarithmic:
            axes.set_xscale("log")
            # a power of ten has an exponent that is too small for a phone
            axes.xaxis.set_major_formatter(lambda value, _: f"{value:g}")
        if here is not None and math.isfinite(here):
            _add_mark(axes, Mark("your cell", here), "accent")
        if mark is not None:
            is_near = here is not None and abs(mark.x - here) < NEAR * np.ptp(axes.get_xlim())
            _add_mark(axes, mark, "ink", line=2 if is_near else 1, linestyle="--")
        axes.set_xlabel(axes_names[0])
        axes.set_ylabel(textwrap.fill(axes_names[1], LABEL_LETTERS))
        axes.set_ylim(bottom=min(0.0, axes.get_ylim()[0]))
        if len(shown) + len(scattered) + len(marked) > 1:
            legend = figure.legend(
                loc="outside lower left", frameon=False, fontsize=LETTERS, handlelength=3.2
            )
            paint("quiet", *(each for each in legend.get_patches() if each.get_hatch()))
        paint_frame(figure, axes)
        return drawing(figure, name, title, _in_words(axes_names, shown, scattered, marked, mark))


def _add_line(axes: Axes, line: Line, place: int) -> None:
    """Add a line in the look of its place among the lines."""
    mark = MARKS[place % len(MARKS)]
    axes.plot(
        line.x,
        line.y,
        linestyle=STYLES[place % len(STYLES)],
        marker=mark if line.dots else "",
        markersize=4,
        markevery=max(1, line.x.size // 8),
        label=line.name,
    )


def _add_points(figure: Figure, axes: Axes, points: Points) -> None:
    """Add points with bars, each with its label beside it and a disc to press."""
    axes.errorbar(
        points.x,
        points.y,
        yerr=points.error,
        linestyle="none",
        marker="o",
        markersize=7,
        markerfacecolor="none" if points.hollow else tokens().light["ink"],
        capsize=4,
        label=points.name,
    )
    for x, y, label, name in zip(points.x, points.y, points.labels, points.ids, strict=True):
        if label:
            axes.annotate(label, (x, y), xytext=LETTER_AT, textcoords="offset points")
        if name and label:
            beside = offset_copy(axes.transData, figure, *LETTER_MIDDLE, units="points")
            disc = axes.plot(
                [x], [y], marker="o", markersize=PRESSED_SIZE, alpha=0.0, zorder=4, transform=beside
            )
            paint("accent", *disc, name=f"letter-{name}")
        if name:
            disc = axes.plot([x], [y], marker="o", markersize=PRESSED_SIZE, alpha=0.0, zorder=5)
            paint("accent", *disc, name=name)


def _add_stretches(axes: Axes, stretches: Stretches) -> None:
    for place, (start, end) in enumerate(stretches.spans):
        span = axes.axvspan(
            start,
            end,
            facecolor="none",
            edgecolor=tokens().light["quiet"],
            linewidth=0.8,
            hatch=stretches.hatch,
            label="" if place else stretches.name,
        )
        paint("quiet", span)


def _add_mark(axes: Axes, mark: Mark, colour: str, *, line: int = 1, linestyle: str = "-") -> None:
    """Mark a place on the x axis, its name in the first or the second line above the axes."""
    across = axes.axvline(mark.x, linewidth=1.6, linestyle=linestyle)
    name = axes.annotate(
        mark.name,
        (mark.x, 1.0),
        xycoords=("data", "axes fraction"),
        xytext=(0, 4 + 13 * (line - 1)),
        textcoords="offset points",
        ha="center",
    )
    paint(colour, across, name)


def _in_words(
    axes_names: tuple[str, str],
    lines: Sequence[Line],
    points: Sequence[Points],
    stretches: Sequence[Stretches],
    mark: Mark | None,
) -> str:
    """Give the first and last figures of every line, every point with its label, and what is marked."""
    parts = [
        f"{line.name}: {line.y[0]:.3g} at {line.x[0]:.3g}, {line.y[-1]:.3g} at {line.x[-1]:.3g}"
        for line in lines
    ]
    parts += [
        f"{each.name}: "
        + ", ".join(
            f"{label} {y:.3g} at {x:.3g}".lstrip()
            for label, x, y in zip(each.labels, each.x, each.y, strict=True)
        )
        for each in points
    ]
    parts += [
        f"{each.name}: {', '.join(f'{start:.3g} to {end:.3g}' for start, end in each.spans)}"
        for each in stretches
    ]
    if mark is not None:
        parts.append(f"marked: {mark.name}")
    return f"{axes_names[1]} against {axes_names[0]}. {'; '.join(parts) or 'nothing to draw'}."
