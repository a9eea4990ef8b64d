"""The Measure page: the class's own numbers, compared with theory, fitted and explained."""

from __future__ import annotations

from dataclasses import asdict, replace
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets
from markupsafe import Markup

from fizzplate.chemistry import species_name
from fizzplate.lesson.measure import possible_causes, read_groups, results_csv
from fizzplate.lesson.state import MeasureState
from fizzplate.views.controls import (
    Calculator,
    FieldGroup,
    LoggerPanel,
    field,
    mark_outdated,
    menu,
    read_field_number,
    refuse,
)
from fizzplate.views.controls.results_export import ResultsExport
from fizzplate.views.grid import Grid
from fizzplate.views.pages.measure_results import acting_on, comparisons, report, why
from fizzplate.views.pages.page import Page
from fizzplate.words import InputError, begin, number, page_refusal, say

if TYPE_CHECKING:
    from collections.abc import Callable

    from fizzplate.lesson.measure import Groups

METALS = ("Cu", "Ag", "Zn")
ANODE_GASES = ("O2", "Cl2")
COLLECTED = {"over water": "wet", "dry, in a syringe": "dry"}
_UNITS = {each.name: each.unit for each in possible_causes()}
#: what resolutions are called, with their units
RESOLUTIONS = {"balance": ("Balance reads to", "g"), "tube": ("Gas tube reads to", "cm³")}


class Measure(Page[MeasureState]):
    """The page's parts and what happens between them.

    Attributes
    ----------
    grid
        The class's table.
    logger_panel, results_export, calculator
        Its other parts.
    """

    link_description = (
        "It opens Measure with these settings. The class's numbers stay in this browser."
    )
    state_type = MeasureState
    classes = ("fp-page", "fp-column-page", "fp-measure")

    def __init__(self, take_away: Callable[[str], str] | None = None) -> None:
        super().__init__(take_away)
        self.grid = Grid(self.work_out)
        self.logger_panel = LoggerPanel(self.grid, self.record)
        self.results_export = ResultsExport()
        self.calculator = Calculator(self.record)
        self._options = _option_controls()
        self._usual = {name: control.value for name, control in self._options.items()}
        self._sizes = _cause_controls()
        self._controls = (*self._options.values(), *self._sizes.values())
        for control in self._controls:
            control.observe(lambda _: self.work_out(), names="value")
        self._refusal, self._found, self._why = widgets.HTML(), widgets.HTML(), widgets.HTML()
        self._inputs: Any = None  # what the results shown are of
        self._results = Markup(), Markup()  # what was found last, and why it differs
        for part in (self._found, self._why):
            part.add_class("fp-comparison")
        self._sizes_box = widgets.Box(list(self._sizes.values()))
        self._sizes_box.add_class("fp-needs")
        usual, *rest = self._options.values()
        self._settings = FieldGroup("", [usual], rest, self._statement, key="measured-with")
        more = widgets.Box(
            [
                self.logger_panel.widget,
                self._refusal,
                self._found,
                self._why,
                self._sizes_box,
                self.results_export,
                self.calculator.widget,
            ]
        )
        more.add_class("fp-more")
        self.lay_out(head=[self.settings_fold()], body=[self.grid, self._settings.widget, more])
        self.start()

    def _statement(self) -> str:
        """Say in words how the class measured."""
        options = self._options
        gas = species_name(str(options["gas"].value))
        over = next(
            words for words, value in COLLECTED.items() if value == options["collected"].value
        )
        balance, tube = (
            f"{RESOLUTIONS[name][0].lower()} {options[name].value} {RESOLUTIONS[name][1]}"
            for name in ("balance", "tube")
        )
        return f"{begin(gas)} at the {self._anode}, collected {over}; {balance}; {tube}"

    @property
    def _anode(self) -> str:
        return self.board.wording.title("anode").lower()

    def read_state(self) -> MeasureState:
        """Return the settings, the causes' sizes, the logger's readings and the calculator."""
        panel = self.logger_panel
        return MeasureState(
            wording=self.board.wording,
            options={
                name: control.value
                for name, control in self._options.items()
                if control.value != self._usual[name]
            },
            causes={name: control.value for name, control in self._sizes.items()},
            readings=panel.readings_text,
            readings_in=panel.reading_units,
            columns=panel.columns,
            group=panel.group,
            calculator=self.calculator.values,
        )

    def show_state(self, state: MeasureState) -> None:
        """Show settings and all that was typed; the table is the browser's to bring back."""
        for name, control in self._options.items():
            control.value = state.options.get(name, self._usual[name])
        for name, control in self._sizes.items():
            control.value = state.causes.get(name, control.value)
        self.logger_panel.show(state.readings, state.readings_in, state.columns, state.group)
        self.calculator.show(state.calculator)
        self._reword()
        self._work_out()

    def read_link(self, query: str) -> tuple[MeasureState, list[str]]:
        """Read a link; a setting that is not offered is left out with a sentence."""
        state, left_out = super().read_link(query)
        usable = {}
        for name, value in state.options.items():
            try:
                usable[name] = self._offered(name, value)
            except InputError as refusal:
                left_out.append(str(refusal))
        return replace(state, options=usable), left_out

    def on_board(self) -> None:
        """Say the same in the board's wording."""
        self._reword()
        self.work_out()

    def work_out(self) -> None:
        """Read the table and show what follows; what is wrong is marked and left out."""
        if not self._is_applying:  # a whole state is calculated once
            self._work_out()
            self.record()

    def _work_out(self) -> None:
        wording = self.board.wording
        values = [control.value for control in self._controls]
        given = (self.grid.rows, self.grid.units, self.grid.note, values, wording)
        if given == self._inputs:
            return  # a change of the table comes once for each of its parts
        self._inputs = given
        groups = read_groups(self.grid.rows, self.grid.units, self.board.wording)
        self.grid.marks = [asdict(mark) for mark in groups.marks]
        self.grid.remark = groups.remark
        self.logger_panel.name_groups(groups.names)
        try:
            resolutions = self._resolution("balance"), self._resolution("tube")
            sizes = {name: self._size(name) for name in self._sizes}
        except InputError as refusal:
            self._refuse(refusal, groups)
            return
        refuse(self._refusal, "", self._controls)
        self._found.value, self._why.value = map(mark_outdated, self._results)
        self._show_results(groups, resolutions, sizes)

    def _show_results(
        self, groups: Groups, resolutions: tuple[float, float], sizes: dict[str, float]
    ) -> None:
        wording, options, note = self.board.wording, self._options, self.grid.note
        made = comparisons(
            groups,
            options["metal"].value,
            options["gas"].value,
            resolutions,
            over_water=options["collected"].value == "wet",
        )
        self._results = report(made, groups, wording, note), why(made, sizes, wording)
        self._found.value, self._why.value = self._results
        acting = acting_on(made)
        for name, control in self._sizes.items():
            control.layout.display = None if name in acting else "none"
        self._sizes_box.layout.display = None if acting else "none"
        self.results_export.offer(
            results_csv(groups, list(made.values()), note=note, wording=wording)
        )

    def _refuse(self, refusal: InputError, groups: Groups) -> None:
        """Take the results away until what is wrong is mended."""
        refuse(
            self._refusal, page_refusal(refusal), self._controls, self._refused(refusal.argument)
        )
        self._results = Markup(), Markup()
        self._found.value, self._why.value = self._results
        self._sizes_box.layout.display = None
        self.results_export.offer(results_csv(groups, [], note=self.grid.note))

    def _reword(self) -> None:
        wording = self.board.wording
        self.grid.call(wording)
        self._options["gas"].description = say("Gas at {the_anode}", wording)
        self._settings.describe()
        for each in possible_causes():
            self._sizes[each.name].description = f"{begin(each.name)}, {each.unit}"

    def _offered(self, name: str, value: str) -> str:
        """Return what a link says of a setting.

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
            number(name, read_field_number(name, value, unit=""), unit="", above=0, maximum=100)
        return value

    def _resolution(self, name: str) -> float:
        label, unit = RESOLUTIONS[name]
        value = read_field_number(label, self._options[name].value, unit=unit)
        return number(label, value, unit=unit, above=0, maximum=100)

    def _refused(self, argument: str) -> Any:
        """Find the control that is refused by this name."""
        resolutions = {label: self._options[name] for name, (label, _) in RESOLUTIONS.items()}
        return (resolutions | self._sizes).get(argument)

    def _size(self, name: str) -> float:
        value = read_field_number(name, self._sizes[name].value, unit=_UNITS[name])
        most = 100 if _UNITS[name].startswith("%") else 10_000
        return number(name, value, unit=_UNITS[name], minimum=0, maximum=most)


def _option_controls() -> dict[str, Any]:
    """Make the settings that a link holds, by their names there."""
    metals = {species_name(metal): metal for metal in METALS}
    gases = {species_name(gas): gas for gas in ANODE_GASES}
    return {
        "metal": menu("Metal", metals, key="metal"),
        "gas": menu("Gas at the anode", gases, key="gas"),
        "collected": menu("Gas collected", COLLECTED, key="collected"),
        "balance": field(", ".join(RESOLUTIONS["balance"]), "0.001", key="balance"),
        "tube": field(", ".join(RESOLUTIONS["tube"]), "0.1", key="tube"),
    }


def _cause_controls() -> dict[str, Any]:
    """Make the fields for the causes' sizes, by the causes' names."""
    return {
        each.name: field(
            f"{begin(each.name)}, {each.unit}",
            f"{each.usual_size:g}",
            key=f"cause-{each.name.replace(' ', '-')}",
        )
        for each in possible_causes()
    }


page = Measure.create_widget
