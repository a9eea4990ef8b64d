"""A current that drifted: a logger's file or typed readings, integrated and put into a group."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

from fizzplate.lesson.measure import (
    MAX_FILE_BYTES,
    MAX_GROUPS,
    current_curve,
    gaps,
    interruption_sentences,
    logger_columns,
    pauses,
    read_logger,
    signed_percent,
    time_unit,
    with_heading,
)
from fizzplate.views.controls.field_groups import FieldGroup
from fizzplate.views.controls.fields import give_key, menu, refuse, sentence_id, tool
from fizzplate.views.figures import Line, Stretches, graph
from fizzplate.views.web import render, trusted_html
from fizzplate.words import InputError, page_quantity

if TYPE_CHECKING:
    from collections.abc import Callable

    from markupsafe import Markup

    from fizzplate.lesson.measure import Interruption, Readings
    from fizzplate.views.grid import Grid

STEADY = 0.03  # a change that a class's meter hardly shows
MAX_COLUMNS = 60
BY_NAME = {"find it by its name": ""}
READING_UNITS = {
    "minutes and A": ("min", "A"),
    "minutes and mA": ("min", "mA"),
    "seconds and A": ("s", "A"),
    "seconds and mA": ("s", "mA"),
}


class LoggerPanel:
    """Readings of a current and the charge that they make.

    Parameters
    ----------
    grid
        The table that a mean current and its time go into.
    changed
        Called after anything was chosen or typed here.

    Attributes
    ----------
    widget
        Controls and messages.
    readings
        Those of the last file or the last typed table; none where it could not be read.
    """

    def __init__(self, grid: Grid, changed: Callable[[], None] = lambda: None) -> None:
        self.grid = grid
        self.readings: Readings | None = None
        self._changed = changed
        self._listening = True
        self._wanted_columns = ("", "")  # of a file that is still to come
        self._wanted_group = 0  # of a table that is still to come
        self._from_file = False
        self._time = menu("Time column", BY_NAME, key="logger-time")
        self._current = menu("Current column", BY_NAME, key="logger-current")
        self._units = menu("Readings in", READING_UNITS, key="logger-units")
        self._readings_field = widgets.Textarea(
            description="Readings: a time and a current on each line",
            placeholder="0, 0.20",
            continuous_update=False,
            rows=3,
            style={"description_width": "auto"},
        )
        give_key(self._readings_field, "logger-readings").add_class("fp-board-control")
        self._group = menu("Group", {"1": 0}, key="logger-group")
        self._put = tool("Put it into this group", self._put_into_group)
        self._message = widgets.HTML()
        for control in self._columns:
            control.observe(lambda _: self._read(from_file=True), names="value")
        for control in (self._readings_field, self._units):
            control.observe(lambda _: self._read(from_file=False), names="value")
        grid.observe(self._on_file, names="logger")
        self._fields = FieldGroup(
            "",
            [],
            [self._readings_field, self._units, self._time, self._current, self._group, self._put],
            self._statement,
            key="logger-fields",
        )
        self.widget = widgets.VBox(
            [widgets.HTML("<h2>A current that drifted</h2>"), self._fields.widget, self._message]
        )
        self.widget.add_class("fp-working")
        self._group.observe(self._on_group, names="value")
        for control in (*self._columns, self._readings_field, self._units, self._group):
            control.observe(lambda _: self._changed(), names="value")
        self._show_controls()

    def _statement(self) -> str:
        """Say in words what there is to integrate."""
        if self.readings is None:
            return "No readings of a current yet"
        return f"{self.readings.time_s.size} readings, for {self._group.label}"

    @property
    def _columns(self) -> tuple[Any, Any]:
        return self._time, self._current

    @property
    def readings_text(self) -> str:
        """The readings as they are typed."""
        return str(self._readings_field.value)

    @property
    def reading_units(self) -> tuple[str, str]:
        """The units of time and current that the readings are typed in."""
        time, current = self._units.value
        return time, current

    @property
    def columns(self) -> tuple[str, str]:
        """The columns of time and current in a logger's file; empty texts for those found by name."""
        return self._time.value, self._current.value

    @property
    def group(self) -> int:
        """The row of the group that the charge is for."""
        return self._wanted_group

    def show(
        self, readings: str, units: tuple[str, str], columns: tuple[str, str], group: int
    ) -> None:
        """Show what was typed and chosen before; the columns as soon as their file is there."""
        self._wanted_columns = columns
        if units in READING_UNITS.values():
            self._units.value = units
        self._readings_field.value = readings
        self._choose_columns()
        self._group.value = min(max(group, 0), len(self._group.options) - 1)
        self._wanted_group = group

    def _on_group(self, change: dict[str, Any]) -> None:
        self._wanted_group = change["new"] or 0

    def _choose_columns(self) -> None:
        """Choose the columns that are wanted, where the file has them."""
        for control, wanted in zip(self._columns, self._wanted_columns, strict=True):
            if wanted in [value for _, value in control.options]:
                control.value = wanted

    def name_groups(self, names: tuple[str, ...]) -> None:
        """Offer these groups, and one more, for the charge."""
        offered = [*names, "a new group"] if len(names) < MAX_GROUPS else list(names)
        options = [(f"{name} (row {k + 1})", k) for k, name in enumerate(offered)]
        if options == list(self._group.options):
            return
        wanted = self._wanted_group
        self._group.options = options
        self._group.value = min(wanted, len(options) - 1)
        self._wanted_group = wanted  # the table may bring its row later

    def _on_file(self, _change: Any) -> None:
        columns = logger_columns(str(self.grid.logger.get("text", "")))[:MAX_COLUMNS]
        self._listening = False
        try:
            for control in self._columns:
                control.options = [*BY_NAME.items(), *((each[:40], each) for each in columns)]
                control.value = ""
            self._choose_columns()
            self._wanted_columns = ("", "")
        finally:
            self._listening = True
        self._read(from_file=True)

    def _read(self, *, from_file: bool) -> None:
        if not self._listening:
            return
        self._from_file = from_file
        self.readings = None
        if from_file:
            name, text = self.grid.logger.get("name"), str(self.grid.logger.get("text", ""))
        else:
            name = "Typed readings" if self._readings_field.value.strip() else None
            text = with_heading(self._readings_field.value[:MAX_FILE_BYTES], *self._units.value)
        refuse(self._message, "", [self._readings_field])
        self.grid.refused = ""
        if name is not None:
            try:
                columns = (self._time.value, self._current.value) if from_file else ("", "")
                self.readings = read_logger(text, columns[0] or None, columns[1] or None)
                self._message.value = _readings_summary(str(name), self.readings)
            except InputError as refusal:
                sentence = f"{name} was not used. {refusal}"
                refuse(
                    self._message,
                    sentence,
                    [self._readings_field],
                    None if from_file else self._readings_field,
                )
                self.grid.refused = sentence_id(self._message) if from_file else ""
        self._show_controls()

    def _show_controls(self) -> None:
        has_file = self._from_file and len(self._time.options) > 2
        for control in self._columns:
            control.layout.display = None if has_file else "none"
        for control in (self._group, self._put):
            control.layout.display = "none" if self.readings is None else None
        self._fields.describe()
        if self._from_file:
            self._fields.is_unfolded = True  # which columns they are, and what they are for

    def _put_into_group(self) -> None:
        if self.readings is None:
            return
        lasts_s = float(self.readings.time_s[-1] - self.readings.time_s[0])
        self.grid.set_row(self._group.value, self.readings.mean_A, lasts_s)


def _readings_summary(name: str, readings: Readings) -> Markup:
    """Say what the readings come to and what is missing in them, and draw them."""
    sentence = " ".join([f"{name}: {_summary(readings)}", *interruption_sentences(readings)])
    unit, size_s = time_unit(readings)
    time_s, current_A = current_curve(readings)

    def stretches(called: str, found: tuple[Interruption, ...], hatch: str) -> Stretches:
        spans = tuple((each.start_s / size_s, each.end_s / size_s) for each in found)
        return Stretches(called, spans, hatch)

    chart = graph(
        "logged",
        "Current of the readings against time",
        (f"Time, {unit}", "Current, A"),
        [Line("current", time_s / size_s, current_A, dots=False)],
        stretches=(
            stretches("no readings", gaps(readings), "//"),
            stretches("no current", pauses(readings), ".."),
        ),
    )
    return render(
        "controls/templates/readings.html.j2", sentence=sentence, chart=trusted_html(chart)
    )


def _summary(readings: Readings) -> str:
    minutes = float(readings.time_s[-1] - readings.time_s[0]) / 60
    if math.isinf(readings.drift):
        steady = ", rising from zero"
    elif abs(readings.drift) < STEADY:
        steady = ", steady"
    else:
        steady = f", drifting by {signed_percent(100 * readings.drift)}"
    return (
        f"{readings.time_s.size} readings over {page_quantity(minutes, 'minutes', '.3g')}, "
        f"charge {readings.charge_C:.4g} C, "
        f"mean current {readings.mean_A:.3g} A{steady}."
    )
