"""Two cells side by side: what differs, what is the same, and how the results differ."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from fizzplate.lesson.classroom import compare_cells, compared_curves
from fizzplate.views.figures import Line, graph
from fizzplate.views.web import render, trusted_html

if TYPE_CHECKING:
    from markupsafe import Markup

    from fizzplate.cell import Run
    from fizzplate.lesson import CellSetup, Wording

MIN_CURVE_PEAK = 0.01  # a curve that never comes so far is a line of noughts
TEMPLATE = "pages/templates/comparison.html.j2"


def comparison_to_come(wait: str) -> Markup:
    """Say what is missing before the cells can be compared."""
    return render(TEMPLATE, wait=wait)


def comparison(
    setups: tuple[CellSetup, CellSetup], runs: tuple[Run, Run], wording: Wording
) -> Markup:
    """Compare two cells by their set-ups and runs."""
    found = compare_cells(*setups, runs, wording)
    return render(
        TEMPLATE,
        wait="",
        differs=found.differences,
        same=found.same,
        outcome=found.outcome,
        charts=[trusted_html(each) for each in _charts(runs, wording)],
    )


def _charts(runs: tuple[Run, Run], wording: Wording) -> list[str]:
    curves = [compared_curves(run, wording) for run in runs]
    charts = []
    for k, name in enumerate(curves[0]):
        if max(float(np.abs(each[name]).max()) for each in curves) <= MIN_CURVE_PEAK:
            continue
        lines = [
            Line(which, run.time_s / 60, each[name])
            for which, run, each in zip(("first", "second"), runs, curves, strict=True)
        ]
        charts.append(graph(f"both-{k}", f"{name}, both cells", ("Time, minutes", name), lines))
    return charts
