"""A chart as a picture of its own: SVG with the axes and lines that are read with a ruler.

The picture needs nothing but itself, so that any player shows it, on paper too; the same chart gives the same
bytes on every machine.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING
from xml.etree.ElementTree import Element

from fizzplate.questions.exchange.qti.markup import document, node
from fizzplate.words import Rendering, number_text

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.questions.content import Chart, ChartLine

WIDTH, HEIGHT = 640, 450
LEFT, RIGHT, TOP, BOTTOM = 80, 24, 56, 64  # margins round the axes, with room for the title
LEGEND = 24  # height of each name of a line
DASHES = ("", "10 6", "3 4", "12 5 3 5")
INK, GRID = "#1b1b1b", "#b8b8b8"
MAJOR = 5  # steps along an axis, about
MINOR = {1: 5, 2: 4, 5: 5, 10: 5}  # parts of a step, so that each is a number to count in
TOLD = 6  # points of a line that are told in words


def in_words(chart: Chart) -> str:
    """Tell what a chart shows, with some of its figures, for whoever does not see it.

    Examples
    --------
    >>> from fizzplate.questions.content import Chart, ChartLine
    >>> line = ChartLine("copper", (0.0, 10.0), (0.0, 39.5))
    >>> in_words(Chart("A run", "Time, minutes", "Mass, mg", (line,)))
    'Chart: A run. Mass, mg against Time, minutes. copper: 0 at 0, 39.5 at 10.'
    """
    lines = " ".join(f"{line.name}: {_told(line)}." for line in chart.lines)
    return f"Chart: {chart.title}. {chart.y_label} against {chart.x_label}. {lines}"


def _told(line: ChartLine) -> str:
    last = len(line.x) - 1
    count = min(TOLD, len(line.x))
    places = sorted({round(k * last / max(count - 1, 1)) for k in range(count)})
    return ", ".join(f"{line.y[k]:.3g} at {line.x[k]:.3g}" for k in places)


def draw_chart(chart: Chart) -> bytes:
    """Draw a chart.

    Returns
    -------
    bytes
        An SVG document.

    Examples
    --------
    >>> from fizzplate.questions.content import Chart, ChartLine
    >>> line = ChartLine("copper", (0.0, 10.0), (0.0, 39.5))
    >>> b"<polyline" in draw_chart(Chart("A run", "Time, minutes", "Mass, mg", (line,)))
    True
    """
    top = TOP + LEGEND * len(chart.lines)
    height = HEIGHT + top - TOP
    size = {"width": str(WIDTH), "height": str(height), "viewBox": f"0 0 {WIDTH} {height}"}
    picture = Element("svg", {"xmlns": "http://www.w3.org/2000/svg", **size, "role": "img"})
    node(picture, "title", text=chart.title)
    node(picture, "desc", text=in_words(chart))
    node(picture, "rect", {"width": str(WIDTH), "height": str(height), "fill": "#ffffff"})
    across = _Axis([x for line in chart.lines for x in line.x], LEFT, WIDTH - RIGHT)
    ys = [y for line in chart.lines for y in line.y]
    up = _Axis([*ys, *([0.0] if min(ys) >= 0 else [])], height - BOTTOM, top)
    letters = {"font-family": "sans-serif", "font-size": "16", "fill": INK}
    words = node(picture, "g", letters)
    _add_words(words, chart.title, WIDTH / 2, 22, "middle")
    _add_grid(picture, words, across, up)
    middle = (LEFT + WIDTH - RIGHT) / 2
    _add_words(words, chart.x_label, middle, height - 14, "middle")
    turned = f"rotate(-90 22 {(top + height - BOTTOM) / 2:g})"
    label = _add_words(words, chart.y_label, 22, (top + height - BOTTOM) / 2, "middle")
    label.set("transform", turned)
    for k, line in enumerate(chart.lines):
        style = {"fill": "none", "stroke": INK, "stroke-width": "2.5"}
        if DASHES[k % len(DASHES)]:
            style["stroke-dasharray"] = DASHES[k % len(DASHES)]
        points = (f"{across.at(x):.2f},{up.at(y):.2f}" for x, y in zip(line.x, line.y, strict=True))
        node(picture, "polyline", {"points": " ".join(points), **style})
        beside = TOP + LEGEND * k
        node(picture, "path", {"d": f"M{LEFT} {beside}h48", **style})
        _add_words(words, line.name, LEFT + 58, beside + 5, "start")
    return document(picture)


class _Axis:
    """An axis from one place of the picture to another, with steps of 1, 2 or 5 times a power of ten."""

    def __init__(self, values: Sequence[float], start: float, end: float) -> None:
        least, greatest = min(values), max(values)
        span = (greatest - least) or abs(greatest) or 1.0
        power = 10.0 ** math.floor(math.log10(span / MAJOR))
        size = next(n for n in MINOR if n * power * MAJOR >= span * 0.999)
        self.step, self._parts = power * size, MINOR[size]
        self._first = math.floor(least / self.step + 1e-9)
        self._last = max(math.ceil(greatest / self.step - 1e-9), self._first + 1)
        self._start, self._end = start, end

    def at(self, value: float) -> float:
        """Return the place of a value."""
        share = (value / self.step - self._first) / (self._last - self._first)
        return self._start + share * (self._end - self._start)

    def major(self) -> list[float]:
        """Return the values that are labelled."""
        return [k * self.step for k in range(self._first, self._last + 1)]

    def minor(self) -> list[float]:
        """Return the values that have a line of the grid."""
        steps = range(self._first * self._parts, self._last * self._parts + 1)
        return [k * self.step / self._parts for k in steps]


def _add_grid(picture: Element, words: Element, across: _Axis, up: _Axis) -> None:
    """Add the grid of graph paper, and the numbers along both axes."""
    left, right = (f"{across.at(across.major()[k]):.2f}" for k in (0, -1))
    bottom, top = (f"{up.at(up.major()[k]):.2f}" for k in (0, -1))
    for values, width in ((_Axis.minor, "0.5"), (_Axis.major, "1.2")):
        upright = "".join(f"M{across.at(x):.2f} {top}V{bottom}" for x in values(across))
        level = "".join(f"M{left} {up.at(y):.2f}H{right}" for y in values(up))
        look = {"stroke": GRID, "stroke-width": width, "fill": "none"}
        node(picture, "path", {"d": upright + level, **look})
    for x in across.major():
        _add_words(
            words,
            number_text(x, Rendering.PAGE, spec=".4g"),
            across.at(x),
            float(bottom) + 22,
            "middle",
        )
    for y in up.major():
        _add_words(words, number_text(y, Rendering.PAGE, spec=".4g"), LEFT - 8, up.at(y) + 5, "end")


def _add_words(words: Element, text: str, x: float, y: float, anchor: str) -> Element:
    return node(words, "text", {"x": f"{x:.2f}", "y": f"{y:.2f}", "text-anchor": anchor}, text)
