"""Charts to be read, on paper or in the page: lines with different dashes, over a grid as on graph paper."""

from __future__ import annotations

import unicodedata
from typing import TYPE_CHECKING

import matplotlib as mpl
from matplotlib.ticker import AutoMinorLocator, MaxNLocator

from fizzplate.views.figures.drawing import drawing, figure_for_the_page, paint_frame
from fizzplate.views.figures.graphs import LETTERS, STYLES
from fizzplate.words import Rendering, number_text

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.lines import Line2D

    from fizzplate.questions import Chart, ChartLine

#: of a drawing: as narrow as a question on a phone, where its letters are read as they are drawn
SIZE_IN = (4.0, 3.0)
POINTS_IN_WORDS = 6  # of a line


def question_chart(name: str, chart: Chart, *, crosses: bool = False) -> str:
    """Draw a chart that is to be read with a ruler.

    Parameters
    ----------
    name
        Every id in the drawing begins with it.
    chart
        What is drawn.
    crosses
        Whether the first line is readings, drawn as crosses.

    Returns
    -------
    str
        SVG whose text stays text.

    Examples
    --------
    >>> from fizzplate.questions.content import Chart, ChartLine
    >>> line = ChartLine("hydrogen made", (0.0, 10.0), (0.0, 6.0))
    >>> "Volume, cm³" in question_chart("c", Chart("A run", "Time, minutes", "Volume, cm³", (line,)))
    True
    """
    description = (
        f"{chart.y_label} against {chart.x_label}. {' '.join(map(_in_words, chart.lines))}"
    )
    # texts may be a stranger's: "$" is a dollar
    with (
        figure_for_the_page(SIZE_IN, math=False, layout="constrained") as figure,
        mpl.rc_context({"font.size": LETTERS}),
    ):
        axes = figure.subplots()
        lines: list[Line2D] = []
        for k, line in enumerate(chart.lines):
            if crosses and k == 0:
                lines += axes.plot(line.x, line.y, linestyle="none", marker="x", clip_on=False)
            else:
                lines += axes.plot(line.x, line.y, linestyle=STYLES[(k - crosses) % len(STYLES)])
                if crosses:
                    lines[-1].set_linewidth(1.2)  # so that a cross shows on the line
        axes.margins(x=0)
        if all(y >= 0 for line in chart.lines for y in line.y):
            axes.set_ylim(bottom=0)
        if crosses:
            _scale_as_by_hand(axes)
        _add_grid(axes, squares=5 if crosses else None)
        axes.set_xlabel(_drawable(chart.x_label))
        axes.set_ylabel(_drawable(chart.y_label))
        # names are given here, for matplotlib leaves out lines whose label begins with "_"
        names = [_drawable(line.name) for line in chart.lines]
        figure.legend(
            lines,
            names,
            loc="outside upper left",
            ncols=2,
            frameon=False,
            handlelength=3.2,
        )
        paint_frame(figure, axes, grid="edge")
        return drawing(figure, name, _drawable(chart.title), _drawable(description))


def _scale_as_by_hand(axes: Axes) -> None:
    """Give both axes scales that are easily used on graph paper: in ones, twos or fives, to a bold line."""
    for axis, most, extend in (
        (axes.xaxis, 8, axes.set_xlim),
        (axes.yaxis, 6, axes.set_ylim),
    ):
        low, high = axis.get_view_interval()
        ticks = MaxNLocator(most, steps=[1, 2, 5, 10]).tick_values(low, high)
        axis.set_ticks(ticks)
        extend(low, float(ticks[-1]))


def _add_grid(axes: Axes, *, squares: int | None) -> None:
    """Lay a grid as of graph paper over the axes, with so many squares from one bold line to the next."""
    for axis in (axes.xaxis, axes.yaxis):
        axis.set_minor_locator(AutoMinorLocator(squares))
        axis.grid(visible=True, which="major", linewidth=0.7)
        axis.grid(visible=True, which="minor", linewidth=0.5)
    axes.tick_params(which="minor", length=0)


def _drawable(text: str) -> str:
    """Put spaces for the signs that no drawing may hold, and for line ends."""
    unfit = {"Cc", "Cs", "Cn"}
    return "".join(" " if unicodedata.category(sign) in unfit else sign for sign in text)


def _in_words(line: ChartLine) -> str:
    """Give points of a line, for those who do not see it."""
    step = max(1, (len(line.x) - 1) // (POINTS_IN_WORDS - 1))
    points = list(zip(line.x, line.y, strict=True))[::step]
    return f"{line.name}: {', '.join(f'{_three_figures(y)} at {_three_figures(x)}' for x, y in points)}."


def _three_figures(value: float) -> str:
    return number_text(value, Rendering.PAGE, spec=".3g")
