"""The Prepare page: amounts, whether it will show, the air of the room, a plan, sheets to print."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import ipywidgets as widgets
from markupsafe import Markup

from fizzplate.cell.solver import ConvergenceError
from fizzplate.lesson import CellSetup, Wording
from fizzplate.lesson.prepare import ClassNeeds, check_period, check_room, class_version, sheets
from fizzplate.lesson.state import PrepareState
from fizzplate.views.controls import (
    BackgroundWork,
    CellList,
    FieldGroup,
    GroupedSetupBar,
    field,
    mark_outdated,
    refuse,
)
from fizzplate.views.pages.cupboard_panel import CupboardPanel, read_typed
from fizzplate.views.pages.page import Page
from fizzplate.views.pages.prepare_air import air_tables
from fizzplate.views.pages.prepare_amounts import amounts_table
from fizzplate.views.pages.prepare_plan import timetables
from fizzplate.views.pages.prepare_visibility import refusal_of, visibility_table
from fizzplate.views.paper.printing import Printing
from fizzplate.views.web import alert, render
from fizzplate.words import LABELS, InputError, page_refusal

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from fizzplate.lesson.prepare import Cupboard, Sheet

    Results = tuple[Markup, list[Sheet]]

NUMBERS = {
    "groups": "15",
    "each_cm3": "60",
    "spare_percent": "10",
    "balance_g": "0.1",
    "room_m3": "200",
    "air_changes_h": "2",
    "period_min": "50",
}
NEEDED = ("groups", "each_cm3", "spare_percent", "balance_g")
STUCK = (
    "The model could not calculate one of these cells, so the page shows only the amounts. "
    "Try another voltage or concentration."
)


class Prepare(Page[PrepareState]):
    """The page's parts and what happens between them.

    Attributes
    ----------
    list, setup_bar, cupboard, printing
        The list, what is in the cell, what the cupboard holds, and the sheets.
    """

    link_description = (
        "It opens Prepare with this list of solutions. Type the numbers of your lesson there."
    )
    state_type = PrepareState
    has_list = True
    classes = ("fp-page", "fp-column-page", "fp-prepare")

    def __init__(self, take_away: Callable[[str], str] | None = None) -> None:
        super().__init__(take_away)
        self.list = CellList(PrepareState().cells, self._on_chosen)
        self.setup_bar = GroupedSetupBar(self._on_set_up, self.list.current)
        self._fields = {
            name: field(LABELS[name], value, key=name) for name, value in NUMBERS.items()
        }
        for each in self._fields.values():
            each.observe(lambda _: self.work_out(), names="value")
        self.cupboard = CupboardPanel(self.work_out, self.record)
        self._all_fields = [*self._fields.values(), *self.cupboard.fields]
        self._masses, self._rest = widgets.HTML(), widgets.HTML()
        self._results = Markup()  # the last results, without the masses
        prepared = widgets.VBox([self._masses, self._rest])
        prepared.add_class("fp-prepared")
        self._background: BackgroundWork[Results] = BackgroundWork()
        self.printing = Printing()
        self._groups = self._field_groups()
        onward = widgets.HTML(render("pages/templates/to_sheets.html.j2"))
        aside = widgets.Box([onward, *(each.widget for each in self._groups), self.setup_bar.bar])
        aside.add_class("fp-aside")
        self.lay_out(
            head=[self.list.bar],
            tools=[self.list.tools],
            body=[aside, prepared, self.printing],
        )
        self._is_opening = True
        self.start()
        self._is_opening = False

    def _field_groups(self) -> list[FieldGroup]:
        """Group the fields: a lesson, its room, and the cupboard, the usual choices of each in sight."""
        fields = self._fields

        def typed(name: str) -> str:
            return str(fields[name].value)

        def of_room() -> str:
            air = f"room {typed('room_m3')} m³, {typed('air_changes_h')} air changes an hour"
            balance = f"balance reads to {typed('balance_g')} g"
            return f"{typed('spare_percent')} % spare, {balance}, {air}"

        in_sight = ("groups", "each_cm3", "period_min")
        rest = [each for name, each in fields.items() if name not in in_sight]
        usual = [fields[name] for name in in_sight]
        return [
            FieldGroup("Your lesson and room", usual, rest, of_room, key="room"),
            FieldGroup(
                "", [], self.cupboard.controls, lambda: self.cupboard.statement, key="cupboard"
            ),
        ]

    def read_state(self) -> PrepareState:
        """Return the list, the numbers of the lesson, and what the cupboard holds."""
        return PrepareState(
            tuple(self.list.cells),
            self.list.at,
            self.board.wording,
            numbers={name: each.value for name, each in self._fields.items()},
            cupboards=dict(self.cupboard.entries),
            substance=self.cupboard.substance,
        )

    def show_state(self, state: PrepareState) -> None:
        """Show a list with its numbers and its cupboard."""
        self.list.open(state.cells, state.open)
        for name, each in self._fields.items():
            each.value = state.numbers.get(name, each.value)
        self.cupboard.restore(state.cupboards)
        self.setup_bar.show(self.list.current)
        self._offer_substances(state.substance)
        self._work_out()
        self.setup_bar.describe()

    def on_board(self) -> None:
        """Say the same in the board's wording."""
        self.work_out()

    def work_out(self) -> None:
        """Show what follows from the list and the numbers; a wrong one is named.

        Masses need no run and come at once. The rest may need some, and is marked as outdated until it
        has come.
        """
        if not self._is_applying:  # a whole state is calculated once
            self.record()
            self._work_out()

    def _work_out(self) -> None:
        cells, wording = tuple(self.list.cells), self.board.wording
        self.setup_bar.word(wording)
        try:
            numbers = self._read_numbers()
            needs = ClassNeeds(*(numbers[name] for name in NEEDED))
            cupboards = self.cupboard.read()
            self._masses.value = amounts_table(cells, needs, cupboards, wording)
        except InputError as refusal:
            self._background.forget()
            self._refuse(refusal)
            return

        def work(is_wanted: Callable[[], bool]) -> Results:
            for each in cells:
                if not is_wanted():
                    return Markup(), []
                visibility_table(
                    (each,), needs.balance_g, wording
                )  # its runs are known from then on
            return _results(cells, needs, numbers, cupboards, wording)

        self._background.begin(
            work, done=self._show, waiting=self._show_outdated, at_once=self._is_opening
        )

    def _show(self, made: Callable[[], Results]) -> None:
        """Show the results, or why there are none."""
        try:
            self._results, sheets_made = made()
        except ConvergenceError:  # else the page would wait for ever
            self._results, sheets_made = alert(STUCK), []
        except InputError as refusal:
            self._refuse(refusal)
            return
        refuse(self._rest, "", self._all_fields)
        self._rest.value = self._results
        self.printing.offer(sheets_made)

    def _show_outdated(self) -> None:
        """Mark what is shown, and the sheets, as those of other settings."""
        refuse(self._rest, "", self._all_fields)
        self._rest.value = mark_outdated(self._results)
        self.printing.busy = True

    def _refuse(self, refusal: InputError) -> None:
        self._masses.value = ""
        self._results = Markup()
        wrong = self._fields.get(refusal.argument) or self.cupboard.refused(refusal.argument)
        refuse(self._rest, page_refusal(refusal), self._all_fields, wrong)
        self.printing.offer([])  # what is printed must not be another list's

    def _read_numbers(self) -> dict[str, Any]:
        numbers = {name: read_typed(each.value) for name, each in self._fields.items()}
        check_room(numbers["room_m3"], numbers["air_changes_h"])
        check_period(numbers["period_min"])
        return numbers

    def _on_chosen(self) -> None:
        self.setup_bar.show(self.list.current)
        self._follow()

    def _on_set_up(self) -> None:
        self.list.replace(self.setup_bar.setup)
        self._follow()

    def _follow(self) -> None:
        """Make the page follow the chosen solution."""
        self._offer_substances()
        self.work_out()
        self.setup_bar.describe()

    def _offer_substances(self, substance: str = "") -> None:
        cell = self.list.current.cell()
        formulae = cell.solution_formulae if cell.ions_mol_dm3 else ()
        self.cupboard.offer(formulae, substance)
        self._groups[1].describe()


def precompute(solution: str) -> None:
    """Calculate what a new page says about a solution, so that a page which opens later knows it."""
    visibility_table((CellSetup(solution),), float(NUMBERS["balance_g"]), Wording())


def _results(
    cells: Iterable[CellSetup],
    needs: ClassNeeds,
    numbers: dict[str, Any],
    cupboards: dict[str, Cupboard],
    wording: Wording,
) -> Results:
    cells = tuple(cells)
    parts = [
        visibility_table(cells, needs.balance_g, wording),
        air_tables(cells, needs.groups, numbers["room_m3"], numbers["air_changes_h"], wording),
        timetables(cells, numbers["period_min"], wording),
    ]
    usable = tuple(class_version(each) for each in cells if refusal_of(each) is None)
    return Markup().join(parts), sheets(usable, needs, wording, cupboards)


page = Prepare.create_widget
