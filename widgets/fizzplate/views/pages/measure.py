"""The Measure page: the class's own numbers, worked out, fitted and explained."""

from __future__ import annotations

from dataclasses import asdict
from html import escape
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

from fizzplate.chemistry import species_name
from fizzplate.lesson.measure.causes_of_error import CAUSES
from fizzplate.lesson.measure.class_entries import EntryRemark, read_groups
from fizzplate.lesson.measure.theory_comparison import results_csv
from fizzplate.lesson.state.links import from_query, query_of
from fizzplate.views.controls.board_settings import BoardSettings
from fizzplate.views.controls.calculator import Calculator
from fizzplate.views.controls.fields import field, fold, menu, refuse
from fizzplate.views.controls.logger_panel import LoggerPanel
from fizzplate.views.controls.outdated import mark_outdated
from fizzplate.views.controls.results_export import ResultsExport
from fizzplate.views.controls.setup_bar import read_number
from fizzplate.views.grid import Grid
from fizzplate.views.pages.measure_results import acting_on, comparisons, report, why
from fizzplate.views.pages.title import title
from fizzplate.views.web.address import Address
from fizzplate.views.web.board_words import in_board_words
from fizzplate.words.refusals import InputError, number
from fizzplate.words.say import begin

if TYPE_CHECKING:
    from collections.abc import Callable

OPENS = "It opens Measure with these settings. The class's numbers stay in this browser."
METALS = ("Cu", "Ag", "Zn")
ANODE_GASES = ("O2", "Cl2")
COLLECTED = {"over water": "wet", "dry, in a syringe": "dry"}


class Measure:
    """The page's parts and what happens between them.

    Parameters
    ----------
    take_away
        Makes a page to take away of the query of a link.

    Attributes
    ----------
    widget
        What a notebook displays.
    grid
        The class's table.
    logged, taking, address, board
        Its other parts.
    """

    def __init__(self, take_away: Callable[[str], str] | None = None) -> None:
        self._ready = False
        self.grid = Grid(self.work_out)
        self.logger_panel = LoggerPanel(self.grid)
        self.board = BoardSettings(self._on_board, asks=False)
        self.address = Address(self.open_query, opens=OPENS, take_away=take_away)
        self.address.add_class("fp-tools-host")
        self.results_export = ResultsExport()
        #: what the address keeps, by its name there
        self._options: dict[str, Any] = {
            "metal": menu("Metal", {species_name(metal): metal for metal in METALS}),
            "gas": menu("Gas at the anode", {species_name(gas): gas for gas in ANODE_GASES}),
            "collected": menu("Gas collected", COLLECTED),
            "balance": field("Balance shows to, g", "0.001"),
            "tube": field("Gas tube shows to, cm³", "0.1"),
        }
        self._usual = {name: control.value for name, control in self._options.items()}
        self._sizes = {
            each.name: field(f"{begin(each.name)}, {each.unit}", f"{each.usual:g}")
            for each in CAUSES
        }
        for control in (*self._options.values(), *self._sizes.values()):
            control.observe(lambda _: self.work_out(), names="value")
        self._said, self._found, self._why = widgets.HTML(), widgets.HTML(), widgets.HTML()
        self._given: Any = None  # what the results shown are of
        self._shown = "", ""  # what was found last, and why it differs
        for part in (self._found, self._why):
            part.add_class("fp-comparison")
        self._sizes_box = widgets.Box(list(self._sizes.values()))
        settings = widgets.Box(list(self._options.values()))
        for box in (settings, self._sizes_box):
            box.add_class("fp-needs")
        tools = widgets.HBox([self.address, self.board.bar])
        tools.add_class("fp-list-tools")
        head = widgets.HBox([title("Measure"), fold("Settings", tools)])
        head.add_class("fp-head")
        more = widgets.Box(
            [
                self.logger_panel.widget,
                self._said,
                self._found,
                self._why,
                self._sizes_box,
                self.results_export,
                Calculator().widget,
            ]
        )
        more.add_class("fp-more")
        self.widget = widgets.Box([head, tools, self.grid, settings, more])
        for name in ("fp-page", "fp-explore", "fp-measure"):
            self.widget.add_class(name)
        self._ready = True
        self.work_out()
        self.address.open_at_once()

    def open_query(self, query: str) -> None:
        """Open the page as a link says; what cannot be read is left out and said."""
        state, said = from_query(query, self._options)
        self._ready = False
        try:
            for name, control in self._options.items():
                control.value = self._usual[name]
            for name, value in state.options.items():
                try:
                    self._set(name, value)
                except InputError as refusal:
                    said.append(str(refusal))
            self.board.show(state.wording, asking=True)
        finally:
            self._ready = True
        self.address.say(said)
        self._on_board()

    def work_out(self) -> None:
        """Read the table and show what follows; what is wrong is marked and left out."""
        if not self._ready:
            return
        wording = self.board.wording
        controls = (*self._options.values(), *self._sizes.values())
        given = (
            self.grid.rows,
            self.grid.units,
            self.grid.note,
            [c.value for c in controls],
            wording,
        )
        if given == self._given:
            return  # one change of the table is told once for each of its parts
        self._given = given
        groups = read_groups(self.grid.rows, self.grid.units)
        self.grid.marks = [asdict(self._worded(mark)) for mark in groups.marks]
        self.logger_panel.name_groups(groups.names)
        try:
            resolutions = self._resolution("balance", "g"), self._resolution("tube", "cm³")
            sizes = {name: self._size(name) for name in self._sizes}
        except InputError as refusal:
            refuse(self._said, str(refusal), controls, self._called(refusal.argument))
            self._shown = "", ""
            self._found.value, self._why.value = self._shown
            self._sizes_box.layout.display = None
            self.results_export.offer(results_csv(groups, [], note=self.grid.note))
            return
        refuse(self._said, "", controls)
        self._found.value, self._why.value = (
            mark_outdated(self._shown[0]),
            mark_outdated(self._shown[1]),
        )
        options = self._options
        made = comparisons(
            groups,
            options["metal"].value,
            options["gas"].value,
            resolutions,
            over_water=options["collected"].value == "wet",
        )
        note = f'<p class="fp-invented">{escape(self.grid.note)}</p>' if self.grid.note else ""
        self._shown = report(made, wording) + note, why(made, sizes, wording)
        self._found.value, self._why.value = self._shown
        acting = acting_on(made)
        for name, control in self._sizes.items():
            control.layout.display = None if name in acting else "none"
        self._sizes_box.layout.display = None if acting else "none"
        csv = results_csv(groups, list(made.values()), note=self.grid.note, wording=wording)
        self.results_export.offer(csv)
        self._write_address()

    def _on_board(self) -> None:
        wording = self.board.wording
        self.grid.call(wording)
        self._options["gas"].description = in_board_words("Gas at the anode", wording)
        for each in CAUSES:
            label = f"{begin(each.name)}, {each.unit}"
            self._sizes[each.name].description = in_board_words(label, wording)
        self.work_out()

    def _worded(self, mark: EntryRemark) -> EntryRemark:
        return EntryRemark(
            mark.row, mark.key, in_board_words(mark.says, self.board.wording), mark.wrong
        )

    def _write_address(self) -> None:
        kept = {
            name: control.value
            for name, control in self._options.items()
            if control.value != self._usual[name]
        }
        self.address.write(query_of({}, self.board.wording, kept))

    def _set(self, name: str, value: str) -> None:
        """Set a control to what a link says.

        Raises
        ------
        InputError
            If it is not offered, or not a number.
        """
        control = self._options[name]
        if hasattr(control, "options"):
            offered = [each for _, each in control.options]
            if value not in offered:
                raise InputError(name, value, " or ".join(offered))
        else:
            number(name, read_number(name, value, unit=""), unit="", above=0, at_most=100)
        control.value = value

    def _resolution(self, name: str, unit: str) -> float:
        control = self._options[name]
        label = control.description.partition(",")[0]
        value = read_number(label, control.value, unit=unit)
        return number(label, value, unit=unit, above=0, at_most=100)

    def _called(self, name: str) -> Any:
        """Find the control that is refused by this name."""
        named = {each.description.partition(",")[0]: each for each in self._options.values()}
        return (named | self._sizes).get(name)

    def _size(self, name: str) -> float:
        value = read_number(name, self._sizes[name].value, unit=_UNITS[name])
        most = 100 if _UNITS[name].startswith("%") else 10_000
        return number(name, value, unit=_UNITS[name], at_least=0, at_most=most)


_UNITS = {each.name: each.unit for each in CAUSES}


def page(take_away: Callable[[str], str] | None = None) -> Any:
    """Return the Measure page as one widget to display.

    Parameters
    ----------
    take_away
        Makes a page to take away, as HTML, of the query of a link; without it that is not offered.
    """
    return Measure(take_away).widget
