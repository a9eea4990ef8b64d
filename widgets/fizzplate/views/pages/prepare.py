"""The Prepare page: amounts, whether it will show, the air of the room, a plan, sheets to print."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache
from html import escape
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

from fizzplate.cell.solver.simulate import StuckError
from fizzplate.chemistry import pretty, solutions
from fizzplate.lesson import CellSetup, PageState, from_file, from_query, to_file, to_query
from fizzplate.lesson.classroom.hazards import DEFER
from fizzplate.lesson.prepare.amounts import (
    ClassNeeds,
    Cupboard,
    acid_stocks,
    amounts_for,
    cell_count,
    mixing_instructions,
    solids,
)
from fizzplate.lesson.prepare.room_air import (
    CHECK_LIMIT,
    HYDROGEN_BURNS_PERCENT,
    alkali_mmol,
    check_room,
    halogen_budget_of,
    hydrogen_budget,
    hydrogen_cm3,
    total_hydrogen,
)
from fizzplate.lesson.prepare.sheets import caution_text, quantity_text, sheets, table
from fizzplate.lesson.prepare.timetable import check_period, class_version, one_period, plan
from fizzplate.lesson.prepare.visibility import (
    current_range_A,
    duration_text,
    milliamps,
    visibility,
    visibility_advice,
)
from fizzplate.views.controls.background_work import BackgroundWork
from fizzplate.views.controls.board_settings import BoardSettings
from fizzplate.views.controls.cell_list import CellList
from fizzplate.views.controls.fields import field, menu, refuse
from fizzplate.views.controls.outdated import mark_outdated
from fizzplate.views.controls.setup_bar import Setup, read_number
from fizzplate.views.pages.title import title
from fizzplate.views.paper.printing import Printing
from fizzplate.views.web.address import Address
from fizzplate.views.web.board_words import in_board_words
from fizzplate.views.web.scrolling import scrolling
from fizzplate.words.field_labels import LABELS, in_words
from fizzplate.words.refusals import InputError

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from fizzplate.lesson import Wording
    from fizzplate.lesson.prepare.room_air import HalogenBudget
    from fizzplate.lesson.prepare.sheets import Sheet
    from fizzplate.lesson.prepare.timetable import PlanEntry
    from fizzplate.lesson.prepare.visibility import Visibility

    Cells = tuple[CellSetup, ...]

OPENS = "It opens Prepare with this list of solutions; the numbers of the lesson are typed there."
FIELDS = {
    "groups": "15",
    "each_cm3": "60",
    "spare_percent": "10",
    "balance_g": "0.1",
    "room_m3": "200",
    "air_changes_h": "2",
    "period_min": "50",
}
NEEDED = ("groups", "each_cm3", "spare_percent", "balance_g")
LEAST_HYDROGEN_CM3 = 0.01  # less is not told
PRODUCED = {"Cl2": "chlorine", "Br2": "bromine vapour"}
_STUCK = (
    "The model could not follow one of these cells, so only the amounts are worked out: "
    "try another voltage or concentration."
)


class Prepare:
    """The page's parts and what happens between them.

    Parameters
    ----------
    take_away
        Makes a page to take away of the query of a link.

    Attributes
    ----------
    widget
        What a notebook displays.
    """

    def __init__(self, take_away: Callable[[str], str] | None = None) -> None:
        start = PageState()
        self._ready = False
        self.board = BoardSettings(self.work_out, asks=False)
        self.list = CellList(start.cells, self._on_chosen)
        self.setup = Setup(self._on_set_up, self.list.current)
        self.address = Address(
            self.open_query,
            self.open_file,
            opens=OPENS,
            take_away=take_away,
            resumed=self.resume,
        )
        self.address.add_class("fp-tools-host")
        self._fields = {name: field(LABELS[name], value) for name, value in FIELDS.items()}
        for each in self._fields.values():
            each.observe(lambda _: self.work_out(), names="value")
        self._substance = menu("Substance", {"": ""})
        self._solid = menu(LABELS["solid"], {"": ""})
        self._purity = field(LABELS["purity_percent"], "100")
        self._stock = field(LABELS["stock_mol_dm3"], "")
        self._substance.observe(lambda _: self._on_substance(), names="value")
        for each in (self._solid, self._purity, self._stock):
            each.observe(lambda _: self._on_cupboard(), names="value")
        self._in_cupboard = {
            "solid": self._solid,
            "purity_percent": self._purity,
            "stock_mol_dm3": self._stock,
        }
        self._all_fields = [*self._fields.values(), *self._in_cupboard.values()]
        self._cupboards: dict[str, tuple[str, str, str]] = {}  # as typed, by substance
        self._masses, self._said = widgets.HTML(), widgets.HTML()
        self._told = ""  # what was worked out last, with the masses before it
        prepared = widgets.VBox([self._masses, self._said])
        prepared.add_class("fp-prepared")
        self._background: BackgroundWork[tuple[str, list[Sheet]]] = BackgroundWork()
        self.printing = Printing()
        head = widgets.HBox([title("Prepare"), self.list.bar])
        head.add_class("fp-head")
        tools = widgets.HBox([self.list.tools, self.address, self.board.bar])
        tools.add_class("fp-list-tools")
        cupboard = [self._substance, self._solid, self._purity, self._stock]
        needs = widgets.Box([*self._fields.values(), *cupboard])
        needs.add_class("fp-needs")
        self.widget = widgets.Box([head, tools, self.setup.bar, needs, prepared, self.printing])
        for name in ("fp-page", "fp-explore", "fp-prepare"):
            self.widget.add_class(name)
        self._show_substances()
        self._opening = True
        self.work_out()
        self.address.open_at_once()
        self._opening = False

    def open_query(self, query: str) -> None:
        """Open the page as a link says; what cannot be read is left out and said."""
        state, said = from_query(query)
        self.board.show(state.wording, asking=True)
        self.address.say(said)
        self.list.open(state.cells, state.open)
        self._on_chosen()

    def open_file(self, text: str) -> None:
        """Open a saved list; one that cannot be read leaves everything as it is."""
        try:
            cells, said = from_file(text)
        except InputError as refusal:
            self.address.say([str(refusal)])
            return
        self.address.say(said)
        self.list.open(cells, 0)
        self._on_chosen()

    def resume(self, kept: Mapping[str, Any]) -> None:
        """Take up what was typed of the cupboard before a reload; what fits no substance is left."""
        for formula, typed in kept.items():
            match typed:
                case [str(solid), str(purity), str(stock)] if solid in _sold(formula):
                    self._cupboards[formula] = (solid, purity, stock)
        self.address.kept = dict(self._cupboards)
        self._follow()

    def work_out(self) -> None:
        """Show what follows from the list and the numbers; a wrong one is named.

        Masses need no run and come at once. The rest may need some, and is marked as old until it has come.
        """
        self.setup.word(self.board.wording)
        if not self._ready:
            return
        state = PageState(tuple(self.list.cells), self.list.at, self.board.wording)
        self.address.write(to_query(state), to_file(state))
        cells, wording = tuple(self.list.cells), self.board.wording
        try:
            numbers = self._numbers()
            needs = ClassNeeds(*(numbers[name] for name in NEEDED))
            cupboards = self._read_cupboards()
            masses = _amounts(cells, needs, cupboards)
        except InputError as refusal:
            self._background.forget()
            self._refuse(refusal)
            return
        self._masses.value = str(in_board_words(masses, wording))

        def work(is_wanted: Callable[[], bool]) -> tuple[str, list[Sheet]]:
            for each in cells:
                if not is_wanted():
                    return "", []
                _showing((each,), needs.balance_g, wording)  # its runs are known from then on
            parts = [
                _showing(cells, needs.balance_g, wording),
                _air(cells, needs.groups, numbers["room_m3"], numbers["air_changes_h"]),
                _plans(cells, numbers["period_min"]),
            ]
            usable = tuple(class_version(each) for each in cells if _refused(each) is None)
            told = str(in_board_words("".join(parts), wording))
            return told, sheets(usable, needs, wording, cupboards)

        self._background.begin(work, done=self._show, waiting=self._show_old, at_once=self._opening)

    def _show(self, made: Callable[[], tuple[str, list[Sheet]]]) -> None:
        """Show what has been worked out, or why it cannot be."""
        try:
            self._told, sheets_made = made()
        except StuckError:  # else the page would wait for ever
            self._told, sheets_made = f'<p role="alert">{_STUCK}</p>', []
        except InputError as refusal:
            self._refuse(refusal)
            return
        refuse(self._said, "", self._all_fields)
        self._said.value = self._told
        self.printing.offer(sheets_made)

    def _show_old(self) -> None:
        """Mark what is shown, and the sheets, as those of other settings."""
        refuse(self._said, "", self._all_fields)
        self._said.value = mark_outdated(self._told)
        self.printing.busy = True

    def _refuse(self, refusal: InputError) -> None:
        self._masses.value = self._told = ""
        wrong = self._fields.get(refusal.argument) or self._cupboard_field(refusal.argument)
        refuse(self._said, in_words(refusal), self._all_fields, wrong)
        self.printing.offer([])  # what is printed must not be another list's

    def _numbers(self) -> dict[str, Any]:
        numbers = {name: _typed(each.value) for name, each in self._fields.items()}
        check_room(numbers["room_m3"], numbers["air_changes_h"])
        check_period(numbers["period_min"])
        return numbers

    def _read_cupboards(self) -> dict[str, Cupboard]:
        """Read what was typed of every substance.

        Raises
        ------
        InputError
            If something is no number.
        """
        return {formula: _cupboard(*typed) for formula, typed in self._cupboards.items()}

    def _cupboard_field(self, name: str) -> Any:
        """Find the control of what is refused in a cupboard, if it is the one that is shown."""
        typed = self._cupboards.get(self._substance.value)
        try:
            if typed is not None:
                _cupboard(*typed)
        except InputError as refusal:
            return self._in_cupboard.get(name) if refusal.argument == name else None
        return None

    def _on_chosen(self) -> None:
        self.setup.show(self.list.current)
        self._follow()

    def _on_set_up(self) -> None:
        self.list.replace(self.setup.setup)
        self._follow()

    def _follow(self) -> None:
        """Let the page answer to the solution that is chosen."""
        self._show_substances()
        self.work_out()
        self.setup.describe()

    def _show_substances(self) -> None:
        """Offer the substances of the solution that is chosen."""
        cell = self.list.current.cell()
        formulae = cell.solution_formulae if cell.ions_mol_dm3 else ()
        self._ready = False
        self._substance.options = [(pretty(formula), formula) for formula in formulae] or [("", "")]
        self._substance.layout.display = None if len(formulae) > 1 else "none"
        self._show_cupboard()
        self._ready = True

    def _on_substance(self) -> None:
        if self._ready:
            self._ready = False
            self._show_cupboard()
            self._ready = True

    def _show_cupboard(self) -> None:
        """Show what there is of the substance, as it was typed."""
        formula = self._substance.value
        offered = solids(formula) if formula else ("",)
        solid, purity, stock = self._cupboards.get(formula, (offered[0], "100", ""))
        acid = formula in acid_stocks()  # it is never weighed as a pure substance
        self._solid.options = [
            (acid_stocks()[formula]["name"] if acid else pretty(each) if each else "none", each)
            for each in offered
        ]
        self._purity.layout.display = "none" if acid else None
        self._solid.value = solid
        self._purity.value, self._stock.value = purity, stock

    def _on_cupboard(self) -> None:
        if self._ready and self._substance.value:
            self._cupboards[self._substance.value] = (
                self._solid.value,
                self._purity.value,
                self._stock.value.strip(),
            )
            self.address.kept = dict(self._cupboards)
            self.work_out()


def rehearse(solution: str) -> None:
    """Work out what a new page says of a solution, so that a page which is opened later knows it."""
    _showing((CellSetup(solution),), float(FIELDS["balance_g"]), PageState().wording)


def _sold(formula: str) -> tuple[str, ...]:
    return solids(formula) if formula in solutions() else ()


def _cupboard(solid: str, purity: str, stock: str) -> Cupboard:
    """Read what was typed of a substance; what cannot be used is refused."""
    return Cupboard(solid, _typed(purity), _typed(stock) if stock else None)


def _typed(text: str) -> Any:
    """Read a number as people type it; what is none is left as it is, to be refused by name."""
    try:
        value = read_number("", text, unit="")
    except InputError:
        return text
    return int(value) if value.is_integer() else value


@lru_cache(maxsize=64)
def _refused(setup: CellSetup) -> str | None:
    """Say why a set-up cannot be used; nothing if it can."""
    try:
        visibility(setup)
    except InputError as refusal:
        return in_words(refusal)
    return None


@lru_cache(maxsize=64)
def _shown(setup: CellSetup, balance_g: float) -> Visibility:
    return visibility(setup, balance_g=balance_g)


@lru_cache(maxsize=64)
def _range_A(setup: CellSetup) -> tuple[float, float]:
    return current_range_A(setup)


@lru_cache(maxsize=64)
def _advice(setup: CellSetup, balance_g: float) -> tuple[str, ...]:
    return visibility_advice(setup, balance_g=balance_g)


@lru_cache(maxsize=64)
def _air_of(
    setup: CellSetup, groups: int, room_m3: float, air_changes_h: float
) -> HalogenBudget | None:
    return halogen_budget_of(setup, groups=groups, room_m3=room_m3, air_changes_h=air_changes_h)


@lru_cache(maxsize=64)
def _hydrogen_cm3(setup: CellSetup) -> float:
    return hydrogen_cm3(setup)


def _amounts(setups: Cells, needs: ClassNeeds, cupboards: dict[str, Cupboard]) -> str:
    rows = []
    for setup in setups:
        try:
            made = amounts_for(setup, needs, cupboards)
        except InputError as refusal:
            rows.append([setup.label, "not made", "", "", in_words(refusal)])
            continue
        if not made:
            rows.append([setup.label, "as it is", "", "", ""])
            continue
        rows.append(
            [
                setup.label,
                f"{made[0].make_cm3:g} cm³",
                "; ".join(map(quantity_text, made)),
                mixing_instructions(made),
                caution_text(made),
            ]
        )
    heads = ("Solution", "Make", "Take", "Mix in this order", "Beware")
    return "<h2>Amounts</h2>" + scrolling(table(heads, rows), "Amounts")


def _shows(minutes: float, expected: bool) -> str:
    return duration_text(minutes) if expected or math.isfinite(minutes) else "none expected"


def _without_lamp(setup: CellSetup, balance_g: float) -> str:
    """Say what the cell does without its lamp."""
    if setup.lamp == "none" or setup.current_A is not None:
        return "as it is"
    found = _shown(replace(setup, lamp="none"), balance_g)
    weighed = f"; balance {duration_text(found.balance_min)}" if found.plates else ""
    return f"{milliamps(found.current_A)} mA{weighed}"


def _showing(setups: Cells, balance_g: float, wording: Wording) -> str:
    cathode, anode = (wording.title(role).lower() for role in ("cathode", "anode"))
    heads = (
        "Solution",
        "Current after a minute",
        f"Bubbles, {cathode}",
        f"Bubbles, {anode}",
        f"Colour on the {cathode}",
        f"{balance_g:g} g balance shows enough",
        "Small tube full",
        "Without the lamp",
    )
    rows, advised = [], []
    for setup in setups:
        if refused := _refused(setup):
            rows.append([setup.label, refused, *[""] * (len(heads) - 2)])
            continue
        found = _shown(setup, balance_g)
        low, high = map(milliamps, _range_A(setup))
        advised += [f"{setup.label}: {each}" for each in _advice(setup, balance_g)]
        rows.append(
            [
                setup.label,
                f"{milliamps(found.current_A)} mA ({low} to {high})",
                _shows(found.bubbles_min[0], bool(found.gases[0])),
                _shows(found.bubbles_min[1], bool(found.gases[1])),
                _shows(found.colour_min, found.plates),
                _shows(found.balance_min, found.plates),
                _shows(found.tube_min, any(found.gases)),
                _without_lamp(setup, balance_g),
            ]
        )
    late = "".join(f"<li>{escape(each)}</li>" for each in advised)
    return (
        "<h2>Will it show?</h2>"
        + scrolling(table(heads, rows), "Will it show?")
        + (
            f"<p>What comes late or not at all, and what helps:</p><ul>{late}</ul>"
            "<p>More current also makes more chlorine, where it forms: see the air below.</p>"
            if late
            else "<p>Everything expected shows within the minutes planned.</p>"
        )
        + "<p>Modelled. The current's range: rods from half to one and a half times as far apart, as "
        "far as the vessel allows. Enough on the balance: twenty times what it shows.</p>"
    )


def _air(setups: Cells, groups: int, room_m3: float, air_changes_h: float) -> str:
    setups = tuple(setup for setup in setups if _refused(setup) is None)
    rows = []
    for setup in setups:
        found = _air_of(setup, cell_count(setup, groups), room_m3, air_changes_h)
        if found is None:
            continue
        rows.append(
            [
                setup.label,
                f"{found.group_mg:.2g} mg of {PRODUCED[found.gas]}",
                f"{found.class_mg:.3g} mg",
                f"{found.concentration_mg_m3:.2g} mg/m³",
                f"{found.limit_mg_m3:g} mg/m³ ({CHECK_LIMIT})",
                _until(found.stop_min),
            ]
        )
    alkali = "; ".join(
        f"{setup.label}: {made:.2g} mmol" for setup in setups if (made := alkali_mmol(setup)) > 0.01
    )
    heads = ("Solution", "One group", "Class", "In the air", "Limit", "Reached after")
    air = (
        scrolling(table(heads, rows), "Air")
        + "<p>If all that is made gets into the air, well mixed. Run for 2 to 5 minutes, open a window, "
        "use a fume cupboard for more, and switch off if anyone coughs. A sharp smell may be noticed; "
        "do not smell it on purpose.</p>"
        if rows
        else "<p>No chlorine or bromine forms by the model.</p>"
    )
    return (
        f"<h2>Air and alkali</h2>{air}{_hydrogen(setups, groups, room_m3)}"
        "<p>Hydroxide at the cathode of one group: "
        f"{escape(alkali) or 'none'}. Never acidify spent brine.</p><p>{escape(DEFER)}</p>"
    )


def _hydrogen(setups: Cells, groups: int, room_m3: float) -> str:
    """Say how much hydrogen there is, and that a collected tube is the hazard."""
    found = [
        (setup.label, hydrogen_budget(cm3, groups=cell_count(setup, groups), room_m3=room_m3))
        for setup in setups
        if (cm3 := _hydrogen_cm3(setup)) > LEAST_HYDROGEN_CM3
    ]
    if not found:
        return "<p>No hydrogen to speak of forms by the model.</p>"
    found.append(("all together", total_hydrogen(each for _, each in found)))
    rows = [
        [
            label,
            f"{each.group_cm3:.2g} cm³",
            f"{each.class_cm3:.3g} cm³",
            f"{each.share_percent:.1g} %" if each.share_percent >= 1e-4 else "below 0.0001 %",
        ]
        for label, each in found
    ]
    burns = HYDROGEN_BURNS_PERCENT
    far = found[-1][1].share_percent < burns / 100
    room = (
        f"That is far below the {burns:g} % from which hydrogen burns in air: a collected tube is the "
        "hazard, not the room."
        if far
        else f"Hydrogen burns in air from {burns:g} %: this room is too small or too close, so make less "
        "and air it. A collected tube is a hazard too."
    )
    heads = ("Solution", "Hydrogen, one group", "Class", "Share of the room's air")
    return scrolling(table(heads, rows), "Hydrogen") + (
        f"<p>{room} Collect one small tube, light it away from the cell, and never light gas at the "
        "cell.</p>"
    )


def _until(minutes: float) -> str:
    return f"{minutes:.2g} min" if math.isfinite(minutes) else "never"


def _plans(setups: Cells, period_min: float) -> str:
    setups = tuple(setup for setup in setups if _refused(setup) is None)
    periods = plan(setups, period_min)
    parts = [
        _timetable(f"Period {k}", period, period_min) for k, period in enumerate(periods, start=1)
    ]
    if len(periods) > 1:
        entries, says = one_period(setups, period_min)
        parts.insert(0, _timetable("In one period", entries, period_min) + f"<p>{escape(says)}</p>")
    columns = "".join(f"<div>{part}</div>" for part in parts)
    return f"<h2>Plan</h2><div class='fp-graphs'>{columns}</div>"


def _timetable(name: str, entries: list[PlanEntry], period_min: float) -> str:
    total = sum(entry.minutes for entry in entries)
    rows = [[entry.what, f"{entry.minutes:.3g} min"] for entry in entries]
    return table(("What", "Time"), rows, f"{name}: {total:.3g} of {period_min:g} minutes")


def page(take_away: Callable[[str], str] | None = None) -> Any:
    """Return the Prepare page as one widget to display.

    Parameters
    ----------
    take_away
        Makes a page to take away, as HTML, of the query of a link; without it that is not offered.
    """
    return Prepare(take_away).widget
