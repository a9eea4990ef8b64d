"""One quantity against another as an SVG drawing, for sweeps and for two runs laid over each other."""

from __future__ import annotations

import io
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import matplotlib as mpl
from matplotlib.figure import Figure

from fizzplate.views.figures.charts import for_the_page
from fizzplate.views.web.theme import chart_style, tokens

if TYPE_CHECKING:
    from collections.abc import Sequence

    import numpy as np

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

SIZE_IN = (6.4, 3.6)
#: lines told apart without colour
STYLES = ("-", "--", ":", "-.", (0, (6, 2, 1, 2)), (0, (1, 1)))
MARKS = ("o", "s", "^", "D", "v", "x")


@dataclass(frozen=True, slots=True)
class Line:
    """One line: its name, and where it goes; with dots on some points; with an error, as points with bars."""

    name: str
    x: Array
    y: Array
    error: float | None = None
    dots: bool = True


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
    stretches: Sequence[Stretches] = (),
    here: float | None = None,
    logarithmic: bool = False,
) -> str:
    """Draw lines over one pair of axes, with names beside them and words for those who do not see it.

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
    stretches
        Parts of the x axis to mark, told apart by their hatching.
    here
        Where the present cell lies, on the x axis.
    logarithmic
        Whether the x axis is.

    Returns
    -------
    str
        SVG whose text stays text.
    """
    drawn = [line for line in lines if line.x.size]
    colours = tokens().light
    with mpl.rc_context(chart_style()):  # type: ignore[arg-type]  # its stubs list every key
        figure = Figure(figsize=SIZE_IN, layout="constrained")
        axes = figure.subplots()
        for k, line in enumerate(drawn):
            if line.error is not None:
                axes.errorbar(
                    line.x,
                    line.y,
                    yerr=line.error,
                    color=colours["ink"],
                    linestyle="none",
                    marker=MARKS[k % len(MARKS)],
                    capsize=4,
                    label=line.name,
                )
                continue
            axes.plot(
                line.x,
                line.y,
                color=colours["ink"],
                linestyle=STYLES[k % len(STYLES)],
                marker=MARKS[k % len(MARKS)] if line.dots else "",
                markersize=4,
                markevery=max(1, line.x.size // 8),
                label=line.name,
            )
        marked = [each for each in stretches if each.spans]
        for each in marked:
            for k, (start, end) in enumerate(each.spans):
                axes.axvspan(
                    start,
                    end,
                    facecolor="none",
                    edgecolor=colours["quiet"],
                    linewidth=0.8,
                    hatch=each.hatch,
                    label="" if k else each.name,
                )
        if logarithmic:
            axes.set_xscale("log")
        if here is not None and math.isfinite(here):
            axes.axvline(here, color=colours["accent"], linewidth=1.6)
            axes.annotate(
                "your cell",
                (here, 1.0),
                xycoords=("data", "axes fraction"),
                xytext=(0, 4),
                textcoords="offset points",
                ha="center",
                color=colours["accent"],
            )
        axes.set_xlabel(axes_names[0])
        axes.set_ylabel(axes_names[1])
        axes.set_ylim(bottom=min(0.0, axes.get_ylim()[0]))
        if len(drawn) + len(marked) > 1:
            figure.legend(loc="outside right upper", frameon=False, fontsize=9.5, handlelength=3.2)
        out = io.StringIO()
        figure.savefig(out, format="svg")
    return for_the_page(out.getvalue(), name, title, _in_words(axes_names, drawn, marked))


def _in_words(
    axes_names: tuple[str, str], lines: Sequence[Line], stretches: Sequence[Stretches]
) -> str:
    """Tell the first and last figures of every line, and where each marked part lies."""
    told = [
        f"{line.name}: {line.y[0]:.3g} at {line.x[0]:.3g}, {line.y[-1]:.3g} at {line.x[-1]:.3g}"
        for line in lines
    ]
    told += [
        f"{each.name}: {', '.join(f'{start:.3g} to {end:.3g}' for start, end in each.spans)}"
        for each in stretches
    ]
    return f"{axes_names[1]} against {axes_names[0]}. {'; '.join(told) or 'nothing to draw'}."
