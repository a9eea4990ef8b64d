"""The Measure page: the class's own numbers, worked out, fitted and explained."""

from __future__ import annotations

import math
from dataclasses import asdict
from html import escape
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets
import numpy as np

from fizzplate.chemistry import species_name
from fizzplate.chemistry.checks import InputError
from fizzplate.lesson.causes import explain_difference
from fizzplate.lesson.class_table import read_logger
from fizzplate.lesson.measuring import (
    Comparison,
    compare_with_theory,
    quantities,
    read_groups,
    results_csv,
)
from fizzplate.lesson.working import PRODUCTS, backwards, forwards
from fizzplate.views.controls import field, menu
from fizzplate.views.graphs import Line, graph
from fizzplate.views.grid import Grid
from fizzplate.views.scrolling import scrolling
from fizzplate.views.setup import read_number
from fizzplate.views.taking import Taking
from fizzplate.views.title import title

if TYPE_CHECKING:
    from fizzplate.lesson.measuring import Groups

_FRAME = scrolling("", "Figures").removesuffix("</div>")
METALS = ("Cu", "Ag", "Zn")
WHICH = ("cathode gain", "anode loss", "cathode gas", "anode gas")
KIND = {"cathode gain": "gain", "anode loss": "loss", "cathode gas": "gas", "anode gas": "gas"}


class Measure:
    """The page's parts and what happens between them.

    Attributes
    ----------
    widget
        What a notebook displays.
    grid
        The class's table.
    """

    def __init__(self) -> None:
        self._ready = False
        self.grid = Grid(self.work_out)
        self._metal = menu("Metal", {species_name(metal): metal for metal in METALS})
        self._balance = field("Balance shows to, g", "0.001")
        self._tube = field("Gas tube shows to, cm³", "0.1")
        self._gas = menu("Gas collected", {"over water": "wet", "dry, in a syringe": "dry"})
        self._said = widgets.HTML()
        self._found = widgets.HTML()
        self._found.add_class("fp-comparison")
        self.taking = Taking()
        for control in (self._metal, self._balance, self._tube, self._gas):
            control.observe(lambda _: self.work_out(), names="value")
        settings = widgets.HBox([self._metal, self._balance, self._tube, self._gas])
        settings.add_class("fp-board")
        self._working = _Working()
        more = widgets.Box([self._said, self._found, self.taking, self._working.widget])
        more.add_class("fp-more")
        head = widgets.HBox([title("Measure")])
        head.add_class("fp-head")
        self.widget = widgets.Box([head, self.grid, settings, more])
        for name in ("fp-page", "fp-explore", "fp-measure"):
            self.widget.add_class(name)
        self._ready = True
        self.work_out()

    def work_out(self) -> None:
        """Read the table and show what follows; what is wrong is marked and left out."""
        if not self._ready:
            return
        try:
            groups = read_groups(self.grid.rows, self.grid.units)
            resolutions = self._resolutions()
        except InputError as refusal:
            self._said.value = f'<p role="alert">{escape(str(refusal))}</p>'
            return
        self.grid.marks = [asdict(mark) for mark in groups.marks]
        self._said.value = self._logger_text()
        over_water = self._gas.value == "wet"
        made = _comparisons(groups, self._metal.value, resolutions, over_water=over_water)
        self._found.value = _report(made)
        self.taking.offer(results_csv(groups, [comparison for _, comparison in made]))

    def _resolutions(self) -> tuple[float, float]:
        return (
            read_number("balance", self._balance.value, unit="g"),
            read_number("gas tube", self._tube.value, unit="cm3"),
        )

    def _logger_text(self) -> str:
        loaded = self.grid.logger
        if not loaded.get("text"):
            return ""
        name = escape(str(loaded.get("name", "file")))
        try:
            readings = read_logger(str(loaded["text"]))
        except InputError as refusal:
            return f'<p role="alert">{name}: {escape(str(refusal))}</p>'
        minutes = float(readings.time_s[-1] - readings.time_s[0]) / 60
        steady = (
            ", steady"
            if abs(readings.drift) < 0.03
            else f", drifting by {100 * readings.drift:+.0f} %"
        )
        return (
            f'<p role="status">{name}: {readings.time_s.size} readings over {minutes:.3g} minutes, '
            f"charge {readings.charge_C:.4g} C, mean current {readings.mean_A:.3g} A{steady}. "
            f"Enter {readings.mean_A:.3g} A for that group.</p>"
        )


def _comparisons(
    groups: Groups, metal: str, resolutions: tuple[float, float], *, over_water: bool
) -> list[tuple[str, Comparison]]:
    made = []
    for which in WHICH:
        quantity = quantities(metal)[which]
        resolution = resolutions[1] if quantity.is_gas else resolutions[0]
        try:
            found = compare_with_theory(
                groups, quantity, which, resolution=resolution, over_water=over_water
            )
        except InputError:
            continue  # nobody measured it
        made.append((which, found))
    return made


def _report(made: list[tuple[str, Comparison]]) -> str:
    if not made:
        return "<h2>Theory and measurement</h2><p>Enter current, time and masses of at least one group.</p>"
    parts = ["<h2>Theory and measurement</h2>"]
    parts += [_one(which, comparison) for which, comparison in made]
    parts.append(_why(made))
    return "".join(parts)


def _one(which: str, found: Comparison) -> str:
    q = found.quantity
    scale, unit = (1.0, q.unit) if q.is_gas else (1e3, "mg")
    order = np.argsort(found.charge_C)
    lines = [
        Line("expected", found.charge_C[order], scale * found.theory[order]),
        Line(
            "measured",
            found.charge_C[order],
            scale * found.measured[order],
            error=scale * found.error,
        ),
    ]
    if found.origin is not None:
        ends = np.array([0.0, float(found.charge_C.max())])
        lines.append(Line("line through the origin", ends, scale * found.origin.slope * ends))
    drawing = graph(
        f"measured-{which.replace(' ', '-')}",
        q.name[0].upper() + q.name[1:],
        ("Charge, C", f"{q.name[0].upper()}{q.name[1:]}, {unit}"),
        lines,
    )
    said = _sentences(found, scale, unit)
    table = "".join(
        f"<tr><th scope='row'>{escape(name)}</th><td>{charge:.3g}</td><td>{scale * theory:.3g}</td>"
        f"<td>{scale * value:.3g}</td><td>{100 * value / theory:.0f} %</td></tr>"
        for name, charge, theory, value in zip(
            found.names, found.charge_C, found.theory, found.measured, strict=True
        )
    )
    return (
        f"<section class='fp-found'><h3>{escape(q.name[0].upper() + q.name[1:])}</h3>"
        f'<div class="fp-graphs"><figure class="fp-graph">{drawing}</figure><div>'
        f"{''.join(f'<p>{escape(text)}</p>' for text in said)}"
        f"{_FRAME}<table><caption>Group by group</caption><thead><tr><th scope='col'>group</th>"
        f"<th scope='col'>charge, C</th><th scope='col'>expected, {unit}</th>"
        f"<th scope='col'>measured, {unit}</th><th scope='col'>yield</th></tr></thead>"
        f"<tbody>{table}</tbody></table></div></div></div></section>"
    )


def _sentences(found: Comparison, scale: float, unit: str) -> list[str]:
    said = [f"Error bars: ±{scale * found.error:.2g} {unit}, two readings of the resolution."]
    if found.origin is None:
        return [*said, "A line needs at least two groups."]
    said.append(
        f"Slope through the origin: {scale * found.origin.slope:.4g} ± "
        f"{scale * found.origin.slope_error:.2g} "
        f"{unit}/C; yield {found.yield_percent:.0f} %."
    )
    if found.free is not None:
        said.append(
            f"Free line: slope {scale * found.free.slope:.4g} ± {scale * found.free.slope_error:.2g} "
            f"{unit}/C, "
            f"intercept {scale * found.free.intercept:.2g} ± {scale * found.free.intercept_error:.2g} {unit}."
        )
    for name, value in found.found.items():
        digits = 1 - math.floor(math.log10(value.error)) if value.error > 0 else 2
        shown = max(digits, 0)
        said.append(
            f"The class's {name}: {round(value.value, digits):.{shown}f} ± "
            f"{round(value.error, digits):.{shown}f} "
            f"(accepted {value.accepted:.{shown}f}; {100 * value.off:+.1f} %)."
        )
    if found.far_off:
        said.append(f"Far off, but kept in the fit: group {', '.join(found.far_off)}.")
    return said


def _why(made: list[tuple[str, Comparison]]) -> str:
    off = {}
    for which, found in made:
        if found.origin is None:
            continue
        error = 100 * found.origin.relative_error
        off[KIND[which]] = (found.yield_percent - 100, error)
    if not off:
        return ""
    rows = "".join(
        f"<tr><th scope='row'>{escape(each.cause.name)}</th><td>{escape(each.cause.how)} "
        f"Up to about {each.cause.typical_percent:.0f} %.</td>"
        f"<td>{escape(each.says)}</td></tr>"
        for each in explain_difference(off)
    )
    measured = "; ".join(
        f"{what} {value:+.1f} ± {error:.1f} %" for what, (value, error) in off.items()
    )
    return (
        f"<h3>Why it differs</h3><p>Away from theory: {escape(measured)}.</p>"
        f"{_FRAME}<table><caption>Causes, and what the class's own data say (common practice)"
        "</caption><thead><tr><th scope='col'>cause</th><th scope='col'>how</th>"
        "<th scope='col'>here</th></tr></thead>"
        f"<tbody>{rows}</tbody></table></div>"
    )


class _Working:
    """Charge, moles, mass or volume: forwards and backwards, every step shown."""

    def __init__(self) -> None:
        self._product = menu("Product", {species_name(p): p for p in PRODUCTS})
        self._find = menu(
            "Find",
            {"how much forms": "amount", "how long it takes": "time", "which current": "current"},
        )
        self._current = field("Current, A", "0.2")
        self._minutes = field("Time, min", "20")
        self._mass = field("Mass, g", "0.079")
        self._figures = menu("Significant figures", {"2": "2", "3": "3", "4": "4"}, "3")
        self._steps = widgets.HTML()
        controls = (
            self._product,
            self._find,
            self._current,
            self._minutes,
            self._mass,
            self._figures,
        )
        for control in controls:
            control.observe(lambda _: self._show(), names="value")
        row = widgets.Box(list(controls))
        row.add_class("fp-board")
        self.widget = widgets.VBox([widgets.HTML("<h2>Work it out</h2>"), row, self._steps])
        self.widget.add_class("fp-working")
        self._show()

    def _show(self) -> None:
        find = self._find.value
        self._current.layout.display = "none" if find == "current" else None
        self._minutes.layout.display = "none" if find == "time" else None
        self._mass.layout.display = "none" if find == "amount" else None
        try:
            steps = self._work(find)
        except InputError as refusal:
            self._steps.value = f'<p role="alert">{escape(str(refusal))}</p>'
            return
        items = "".join(f"<li>{escape(step)}</li>" for step in steps)
        self._steps.value = f'<ol class="fp-arithmetic">{items}</ol>'

    def _work(self, find: str) -> list[str]:
        product, figures = self._product.value, int(self._figures.value)
        if find == "amount":
            return forwards(
                product,
                read_number("current", self._current.value, unit="A"),
                read_number("time", self._minutes.value, unit="minutes"),
                figures=figures,
            )
        mass_g = read_number("mass", self._mass.value, unit="g")
        if find == "time":
            current_A = read_number("current", self._current.value, unit="A")
            return backwards(product, mass_g, current_A=current_A, figures=figures)
        minutes = read_number("time", self._minutes.value, unit="minutes")
        return backwards(product, mass_g, minutes=minutes, figures=figures)


def page() -> Any:
    """Return the Measure page as one widget to display."""
    return Measure().widget
