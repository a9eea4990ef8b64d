"""Charts to be read, on paper or in the page: lines told apart by dashes, over a grid as on graph paper."""

from __future__ import annotations

import io
import unicodedata
from typing import TYPE_CHECKING

import matplotlib as mpl
from matplotlib.figure import Figure
from matplotlib.ticker import AutoMinorLocator

from fizzplate.views.figures.charts import for_the_page
from fizzplate.views.figures.graphs import STYLES
from fizzplate.views.web.theme import chart_style, tokens

if TYPE_CHECKING:
    from matplotlib.lines import Line2D

    from fizzplate.questions.question import Chart, ChartLine

SIZE_IN = (4.8, 3.0)
TOLD = 6  # points of a line that are told in words


def asked_chart(name: str, chart: Chart) -> str:
    """Draw a chart that is to be read with a ruler.

    Parameters
    ----------
    name
        Every id in the drawing begins with it.
    chart
        What is drawn.

    Returns
    -------
    str
        SVG whose text stays text.

    Examples
    --------
    >>> from fizzplate.questions.question import Chart, ChartLine
    >>> line = ChartLine("hydrogen made", (0.0, 10.0), (0.0, 6.0))
    >>> "Volume, cm³" in asked_chart("c", Chart("A run", "Time, minutes", "Volume, cm³", (line,)))
    True
    """
    colours = tokens().light
    style = {
        **chart_style(),
        "text.parse_math": False,
    }  # texts may be a stranger's: "$" is a dollar
    with mpl.rc_context(style):  # type: ignore[arg-type]  # its stubs list every key
        figure = Figure(figsize=SIZE_IN, layout="constrained")
        axes = figure.subplots()
        drawn: list[Line2D] = []
        for k, line in enumerate(chart.lines):
            dashes = STYLES[k % len(STYLES)]
            drawn += axes.plot(line.x, line.y, color=colours["ink"], linestyle=dashes)
        axes.margins(x=0)
        if all(y >= 0 for line in chart.lines for y in line.y):
            axes.set_ylim(bottom=0)
        for axis in (axes.xaxis, axes.yaxis):
            axis.set_minor_locator(AutoMinorLocator())
            axis.grid(visible=True, which="major", color=colours["edge"], linewidth=0.7)
            axis.grid(visible=True, which="minor", color=colours["line"], linewidth=0.5)
        axes.tick_params(which="minor", length=0)
        axes.set_xlabel(_drawable(chart.x_label))
        axes.set_ylabel(_drawable(chart.y_label))
        # names are given here, for matplotlib leaves out lines whose label begins with "_"
        names = [_drawable(line.name) for line in chart.lines]
        figure.legend(
            drawn,
            names,
            loc="outside upper left",
            ncols=2,
            frameon=False,
            handlelength=3.2,
        )
        out = io.StringIO()
        figure.savefig(out, format="svg", metadata={"Date": None, "Creator": None})
    told = f"{chart.y_label} against {chart.x_label}. {' '.join(map(_in_words, chart.lines))}"
    return for_the_page(out.getvalue(), name, _drawable(chart.title), _drawable(told))


def _drawable(text: str) -> str:
    """Put spaces for the signs that no drawing may hold, and for line ends."""
    unfit = {"Cc", "Cs", "Cn"}
    return "".join(" " if unicodedata.category(sign) in unfit else sign for sign in text)


def _in_words(line: ChartLine) -> str:
    """Tell points of a line, for those who do not see it."""
    step = max(1, (len(line.x) - 1) // (TOLD - 1))
    points = list(zip(line.x, line.y, strict=True))[::step]
    return f"{line.name}: {', '.join(f'{y:.3g} at {x:.3g}' for x, y in points)}."
