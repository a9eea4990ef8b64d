"""A question whose answer is a graph that the learner draws on paper, and marks with a list of points."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from fizzplate.questions.question_types.checklist import ChecklistQuestion

if TYPE_CHECKING:
    from fizzplate.questions.content import Chart

#: lines of the chart: the readings, and the line of best fit
LINES_OF_A_PLOT = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class PlotQuestion(ChecklistQuestion):
    """A table of readings to plot, marked by whoever drew the graph.

    Its chart is the model answer, so it is shown after the answer: the first line holds the readings, which
    are drawn as crosses, and the second is the line of best fit.

    Examples
    --------
    >>> from fizzplate.questions.content import Chart, ChartLine, Point
    >>> lines = ChartLine("readings", (1.0, 2.0), (9.0, 21.0)), ChartLine("best fit", (0, 2), (0, 20))
    >>> chart = Chart("A class", "Time, minutes", "Mass, mg", lines)
    >>> points = (Point("both axes have a unit", ()),)
    >>> question = PlotQuestion("", "", 14, "Plot it.", "", points=points, chart=chart)
    >>> question.table
    (('Time, minutes', ('1', '2')), ('Mass, mg', ('9', '21')))
    """

    kind: ClassVar[str] = "plot"

    @property
    def shown_chart(self) -> Chart | None:
        """No chart: it would give the answer away."""
        return None

    @property
    def table(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """The readings as rows of a table: the name of each quantity with its unit, and its values."""
        if self.chart is None:
            return ()
        readings = self.chart.lines[0]
        columns = (self.chart.x_label, readings.x), (self.chart.y_label, readings.y)
        return tuple((name, _written(values)) for name, values in columns)


def _written(values: tuple[float, ...]) -> tuple[str, ...]:
    """Write the values of one quantity to as many decimal places each as the finest of them needs."""
    places = max(len(f"{value:g}".partition(".")[2]) for value in values)
    return tuple(f"{value:.{places}f}" for value in values)
