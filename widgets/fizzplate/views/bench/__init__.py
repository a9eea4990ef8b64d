"""The bench: the widget that holds the cell, its side cards, ruler, charts and lesson."""

from fizzplate.views.bench.certainty import certainty_of
from fizzplate.views.bench.in_notebook import NotebookBench
from fizzplate.views.bench.widget import About, Bench, bench_state, bench_state_at_rest, charts_of

__all__ = [
    "About",
    "Bench",
    "NotebookBench",
    "bench_state",
    "bench_state_at_rest",
    "certainty_of",
    "charts_of",
]
