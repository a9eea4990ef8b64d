"""Charts as SVG drawings whose text stays text."""

from fizzplate.views.figures.charts import charts
from fizzplate.views.figures.graphs import Line, Mark, Points, Stretches, graph
from fizzplate.views.figures.question_charts import question_chart
from fizzplate.views.figures.sweep_figure import sweep_figure

__all__ = [
    "Line",
    "Mark",
    "Points",
    "Stretches",
    "charts",
    "graph",
    "question_chart",
    "sweep_figure",
]
