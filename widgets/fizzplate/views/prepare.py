"""The Prepare page: amounts, whether it will show, the air of the room, a plan, sheets to print."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache
from html import escape
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

from fizzplate.chemistry import pretty
from fizzplate.chemistry.checks import InputError
from fizzplate.lesson import PageState, from_file, from_query, to_file, to_query
from fizzplate.lesson.amounts import Cupboard, Needs, amounts_for, solids
from fizzplate.lesson.hazards import DEFER
from fizzplate.lesson.room_air import CHECK_LIMIT, air_of, alkali_mmol, hydrogen_cm3
from fizzplate.lesson.sheets import sheets, table, taken
from fizzplate.lesson.showing import will_it_show
from fizzplate.lesson.timetable import one_period, plan, usual
from fizzplate.views.address import Address
from fizzplate.views.board import Board
from fizzplate.views.cell_list import CellList
from fizzplate.views.controls import field, menu
from fizzplate.views.printing import Printing
from fizzplate.views.scrolling import scrolling
from fizzplate.views.setup import Setup, read_number
from fizzplate.views.title import title

if TYPE_CHECKING:
    from fizzplate.lesson import CellSetup
    from fizzplate.lesson.room_air import Air
    from fizzplate.lesson.showing import Showing
    from fizzplate.lesson.timetable import Planned

FIELDS = {
    "groups": ("Groups", "15", ""),
    "each_cm3": ("Each group, cm³", "60", "cm3"),
    "spare_percent": ("Spare, %", "10", "%"),
    "balance_g": ("Balance shows to, g", "0.1", "g"),
    "room_m3": ("Room, m³", "200", "m3"),
    "air_changes_h": ("Air changes an hour", "2", "per hour"),
    "period_min": ("Period, minutes", "50", "minutes"),
}
PRODUCED = {"Cl2": "chlorine", "Br2": "bromine vapour"}


class Prepare:
    """The page's parts and what happens between them.

    Attributes
    ----------
    widget
        What a notebook displays.
    """

    def __init__(self) -> None:
        start = PageState()
        self._ready = False
        self.board = Board(self.work_out, asks=False)
        self.list = CellList(start.cells, self._on_chosen)
        self.setup = Setup(self._on_set_up, self.list.current)
        self.address = Address(self.open_query, self.open_file)
        self.address.add_class("fp-tools-host")
        self._fields = {name: field(label, value) for name, (label, value, _) in FIELDS.items()}
        for each in self._fields.values():
            each.observe(lambda _: self.work_out(), names="value")
        self._substance = menu("Substance", {"": ""})
        self._solid = menu("In the cupboard", {"": ""})
        self._purity = field("Purity, %", "100")
        self._stock = field("Or dilute a stock of, mol/dm³", "")
        self._substance.observe(lambda _: self._on_substance(), names="value")
        for each in (self._solid, self._purity, self._stock):
            each.observe(lambda _: self._on_cupboard(), names="value")
        self._cupboards: dict[str, tuple[str, str, str]] = {}  # as typed, by substance
        self._said = widgets.HTML()
        self._said.add_class("fp-prepared")
        self.printing = Printing()
        head = widgets.HBox([title("Prepare"), self.list.bar])
        head.add_class("fp-head")
        tools = widgets.HBox([self.list.tools, self.address, self.board.bar])
        tools.add_class("fp-list-tools")
        cupboard = [self._substance, self._solid, self._purity, self._stock]
        needs = widgets.Box([*self._fields.values(), *cupboard])
        needs.add_class("fp-needs")
        self.widget = widgets.Box([head, tools, self.setup.bar, needs, self._said, self.printing])
        for name in ("fp-page", "fp-explore", "fp-prepare"):
            self.widget.add_class(name)
        self._show_substances()
        self.work_out()

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

    def work_out(self) -> None:
        """Show what follows from the list and the numbers; a wrong one is named."""
        if not self._ready:
            return
        state = PageState(tuple(self.list.cells), self.list.at, self.board.wording)
        self.address.write(to_query(state), to_file(state))
        try:
            numbers = self._numbers()
            needs = Needs(
                round(numbers["groups"]),
                numbers["each_cm3"],
                numbers["spare_percent"],
                numbers["balance_g"],
            )
            cupboards = self._read_cupboards()
            parts = [
                self._amounts(needs, cupboards),
                _showing(self.list.cells),
                _air(self.list.cells, needs.groups, numbers["room_m3"], numbers["air_changes_h"]),
                _plans(tuple(self.list.cells), numbers["period_min"]),
            ]
            made = sheets(tuple(map(usual, self.list.cells)), needs, self.board.wording, cupboards)
        except InputError as refusal:
            self._said.value = f'<p role="alert">{escape(str(refusal))}</p>'
            return
        self._said.value = "".join(parts)
        self.printing.offer(made)

    def _numbers(self) -> dict[str, float]:
        return {
            name: read_number(name, self._fields[name].value, unit=unit)
            for name, (_, _, unit) in FIELDS.items()
        }

    def _amounts(self, needs: Needs, cupboards: dict[str, Cupboard]) -> str:
        rows = []
        for setup in self.list.cells:
            made = amounts_for(setup, needs, cupboards)
            if not made:
                rows.append([setup.label, "as it is", "", ""])
                continue
            says = " ".join(text for each in made for text in each.says)
            rows.append(
                [setup.label, f"{made[0].make_cm3:g} cm³", "; ".join(map(taken, made)), says]
            )
        return "<h2>Amounts</h2>" + scrolling(
            table(("Solution", "Make", "Take", "Beware"), rows), "Amounts"
        )

    def _read_cupboards(self) -> dict[str, Cupboard]:
        """Read what was typed of every substance.

        Raises
        ------
        InputError
            If something is no number.
        """
        return {
            formula: Cupboard(
                solid,
                read_number("purity_percent", purity, unit="%"),
                read_number("stock_mol_dm3", stock, unit="mol/dm3") if stock else None,
            )
            for formula, (solid, purity, stock) in self._cupboards.items()
        }

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
        self._solid.options = [(pretty(each) if each else "none", each) for each in offered]
        self._solid.value = solid
        self._purity.value, self._stock.value = purity, stock

    def _on_cupboard(self) -> None:
        if self._ready and self._substance.value:
            self._cupboards[self._substance.value] = (
                self._solid.value,
                self._purity.value,
                self._stock.value.strip(),
            )
            self.work_out()


@lru_cache(maxsize=64)
def _shown(setup: CellSetup) -> Showing:
    return will_it_show(setup)


@lru_cache(maxsize=64)
def _air_of(setup: CellSetup, groups: int, room_m3: float, air_changes_h: float) -> Air | None:
    return air_of(setup, groups=groups, room_m3=room_m3, air_changes_h=air_changes_h)


@lru_cache(maxsize=64)
def _hydrogen_cm3(setup: CellSetup) -> float:
    return hydrogen_cm3(setup)


def _minutes(value: float) -> str:
    if not math.isfinite(value):
        return "not within 30 min"
    return f"{60 * value:.0f} s" if value < 1 else f"{value:.2g} min"


def _without_lamp(setup: CellSetup) -> str:
    """Say what another lamp, or none, would change."""
    if setup.lamp == "none" or setup.current_A is not None:
        return "as it is"
    found = _shown(replace(setup, lamp="none"))
    return f"{1e3 * found.current_A:.0f} mA; balance {_minutes(found.balance_min)}"


def _showing(setups: list[CellSetup]) -> str:
    rows = []
    for setup in setups:
        found = _shown(setup)
        low, high = (1e3 * value for value in found.range_A)
        rows.append(
            [
                setup.label,
                f"{1e3 * found.current_A:.3g} mA ({low:.3g} to {high:.3g})",
                _minutes(found.bubbles_min[0]),
                _minutes(found.bubbles_min[1]),
                _minutes(found.colour_min),
                _minutes(found.balance_min),
                _minutes(found.tube_min),
                _without_lamp(setup),
            ]
        )
    heads = (
        "Solution",
        "Current after a minute",
        "Bubbles, cathode",
        "Bubbles, anode",
        "Colour on the cathode",
        "0.01 g balance shows enough",
        "Small tube full",
        "Without the lamp",
    )
    return (
        "<h2>Will it show?</h2>"
        + scrolling(table(heads, rows), "Will it show?")
        + "<p>Modelled. The current's range: rods from half to one and a half times as far apart. "
        "Enough on the balance: twenty times what it shows. No lamp, or one of more amps, makes everything "
        "quicker.</p>"
    )


def _air(setups: list[CellSetup], groups: int, room_m3: float, air_changes_h: float) -> str:
    rows = []
    for setup in setups:
        found = _air_of(setup, groups, room_m3, air_changes_h)
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
    groups * max(map(_hydrogen_cm3, setups))
    heads = ("Solution", "One group", "Class", "In the air", "Limit", "Reached after")
    air = (
        scrolling(table(heads, rows), "Air")
        + "<p>If all that is made gets into the air, well mixed. Run for 2 to 5 minutes, switch off at "
        "the first smell, open a window, use a fume cupboard for more.</p>"
        if rows
        else "<p>No chlorine or bromine forms by the model.</p>"
    )
    return (
        f"<h2>Air and alkali</h2>{air}<p>Hydroxide at the cathode of one group: "
        f"{escape(alkali) or 'none'}. Never "
        f"acidify spent brine. Hydrogen burns from 4 % by volume: collect small tubes, never light gas "
        "at the "
        f"cell.</p><p>{escape(DEFER)}</p>"
    )


def _until(minutes: float) -> str:
    return f"{minutes:.2g} min" if math.isfinite(minutes) else "never"


def _plans(setups: tuple[CellSetup, ...], period_min: float) -> str:
    periods = plan(setups, period_min)
    parts = [
        _timetable(f"Period {k}", period, period_min) for k, period in enumerate(periods, start=1)
    ]
    if len(periods) > 1:
        entries, says = one_period(setups, period_min)
        parts.insert(0, _timetable("In one period", entries, period_min) + f"<p>{escape(says)}</p>")
    columns = "".join(f"<div>{part}</div>" for part in parts)
    return f"<h2>Plan</h2><div class='fp-graphs'>{columns}</div>"


def _timetable(name: str, entries: list[Planned], period_min: float) -> str:
    total = sum(entry.minutes for entry in entries)
    rows = [[entry.what, f"{entry.minutes:.3g} min"] for entry in entries]
    return table(("What", "Time"), rows, f"{name}: {total:.3g} of {period_min:g} minutes")


def page() -> Any:
    """Return the Prepare page as one widget to display."""
    return Prepare().widget
