"""A sweep as a figure: its chart, what it shows in a sentence, and its figures as a table."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.views.figures.graphs import Line, Mark, graph
from fizzplate.views.web import render, trusted_html
from fizzplate.words import Rendering, number_text, page_quantity

if TYPE_CHECKING:
    from markupsafe import Markup

    from fizzplate.lesson.classroom import Sweep


def sweep_figure(found: Sweep) -> Markup:
    """Draw a sweep.

    Parameters
    ----------
    found
        What was found; one without lines is a sentence alone.
    """
    lines = _lines(found)
    onset = found.onset_V
    chart = graph(
        "sweep",
        found.title,
        (found.x_label, found.y_label),
        lines,
        mark=None if onset is None else Mark(f"onset {page_quantity(onset, 'V', '.2g')}", onset),
        here=found.here,
        logarithmic=found.logarithmic,
    )
    return render(
        "pages/templates/sweep.html.j2",
        chart=trusted_html(chart) if lines else "",
        sentence=found.sentence,
        heads=(found.x_label, *found.lines),
        rows=[
            [number_text(value, Rendering.PAGE, spec=".4g") for value in row]
            for row in zip(found.x, *found.lines.values(), strict=True)
        ],
        caption=found.y_label,
    )


def _lines(found: Sweep) -> list[Line]:
    """Give the lines of a sweep, and once more, enlarged, what of them then fits."""
    lines = [Line(name, found.x, y) for name, y in found.lines.items()]
    if found.enlarged > 1:
        for name, y in found.lines.items():
            fits = found.enlarged * y <= y.max()
            larger = f"{name}, {found.enlarged} times larger"
            lines.append(Line(larger, found.x[fits], found.enlarged * y[fits]))
    return lines
