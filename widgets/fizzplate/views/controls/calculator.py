"""Charge, moles, mass or volume: forwards and backwards, every step shown."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

from fizzplate.chemistry import species_name
from fizzplate.chemistry.substances import GASES
from fizzplate.lesson.measure import PRODUCTS, amount_working, time_or_current_working
from fizzplate.views.controls.field_groups import FieldGroup
from fizzplate.views.controls.fields import controls_by_key, field, menu, refuse
from fizzplate.views.controls.setup_bar import read_field_number
from fizzplate.views.web import render
from fizzplate.words import InputError, number, page_refusal

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

#: what a field may hold, by its label: unit, least, whether the least itself is refused, most
LIMITS = {
    "Current, A": ("A", 0.0, True, 1e6),
    "Time, min": ("min", 0.0, False, 1e6),
    "and s": ("s", 0.0, False, 1e6),
    "Mass, g": ("g", 0.0, True, 1e9),
    "Volume, cm³": ("cm³", 0.0, True, 1e9),
    "Temperature, °C": ("°C", 0.0, False, 50.0),
    "Pressure, kPa": ("kPa", 50.0, False, 120.0),
}
#: the key of each field and what it opens on, by its label
FIELDS = {
    "Current, A": ("current", "0.2"),
    "Time, min": ("minutes", "20"),
    "and s": ("seconds", "0"),
    "Mass, g": ("mass", "0.079"),
    "Volume, cm³": ("volume", "30"),
    "Temperature, °C": ("temperature", "25"),
    "Pressure, kPa": ("pressure", "101.325"),
}
PREFIX = "calculator-"  # of its keys
OF_A_GAS = ("Temperature, °C", "Pressure, kPa")


class Calculator:
    """The arithmetic of one product.

    Parameters
    ----------
    changed
        Called after anything was chosen or typed here.

    Attributes
    ----------
    widget
        Controls and steps.
    """

    def __init__(self, changed: Callable[[], None] = lambda: None) -> None:
        self._product = menu(
            "Product", {species_name(p): p for p in PRODUCTS}, key=f"{PREFIX}product"
        )
        self._find = menu(
            "Find",
            {"how much forms": "amount", "how long it takes": "time", "which current": "current"},
            key=f"{PREFIX}find",
        )
        self._fields = {
            label: field(label, value, key=f"{PREFIX}{key}")
            for label, (key, value) in FIELDS.items()
        }
        self._figures = menu(
            "Significant figures",
            {"2": "2", "3": "3", "4": "4"},
            "3",
            key=f"{PREFIX}figures",
        )
        self._steps = widgets.HTML()
        controls = [self._product, self._find, *self._fields.values(), self._figures]
        for control in controls:
            control.observe(lambda _: self._work_out(), names="value")
            control.observe(lambda _: changed(), names="value")
        rest = [*(self._fields[label] for label in OF_A_GAS), self._figures]
        usual = [each for each in controls if each not in rest]
        self._group = FieldGroup("", usual, rest, self._statement, key="calculated-with")
        self.widget = widgets.VBox(
            [widgets.HTML("<h2>Work it out</h2>"), self._group.widget, self._steps]
        )
        self.widget.add_class("fp-working")
        self._work_out()

    @property
    def values(self) -> dict[str, str]:
        """What is chosen and typed, by key."""
        return {key: each.value for key, each in self._by_key().items()}

    def show(self, values: Mapping[str, str]) -> None:
        """Show what was chosen and typed before; what is not offered is left as it is."""
        for key, control in self._by_key().items():
            value = values.get(key, control.value)
            offered = [each for _, each in getattr(control, "options", ())]
            if not offered or value in offered:
                control.value = value

    def _by_key(self) -> dict[str, Any]:
        """Return the controls by their keys, without the line that unfolds some of them."""
        found = controls_by_key(self.widget).items()
        return {key.removeprefix(PREFIX): each for key, each in found if key.startswith(PREFIX)}

    def _statement(self) -> str:
        """Say in words what the folded fields hold."""
        figures = f"{self._figures.value} significant figures"
        if self._product.value not in GASES:
            return figures
        held = (f"{self._fields[label].value} {LIMITS[label][0]}" for label in OF_A_GAS)
        return f"{', '.join(held)}, {figures}"

    def _work_out(self) -> None:
        self._group.describe()
        find, is_gas = self._find.value, self._product.value in GASES
        hidden = {
            "Current, A": find == "current",
            "Time, min": find == "time",
            "and s": find == "time",
            "Mass, g": find == "amount" or is_gas,
            "Volume, cm³": find == "amount" or not is_gas,
            "Temperature, °C": not is_gas,
            "Pressure, kPa": not is_gas,
        }
        for label, control in self._fields.items():
            control.layout.display = "none" if hidden[label] else None
        try:
            steps = self._steps_to(find, is_gas=is_gas)
        except InputError as refusal:
            refuse(
                self._steps,
                page_refusal(refusal),
                self._fields.values(),
                self._fields.get(refusal.argument),
            )
            return
        refuse(self._steps, "", self._fields.values())
        self._steps.value = render("controls/templates/arithmetic.html.j2", steps=steps)

    def _read(self, label: str) -> float:
        """Read a field; it is refused by its label and in the unit that was typed.

        Raises
        ------
        InputError
            If it cannot be used.
        """
        unit, least, above, most = LIMITS[label]
        value = read_field_number(label, self._fields[label].value, unit=unit)
        shown = int(value) if value == int(value) else value
        if above:
            return number(label, shown, unit=unit, above=least, maximum=most)
        return number(label, shown, unit=unit, minimum=least, maximum=most)

    def _time(self) -> dict[str, float]:
        minutes, seconds = self._read("Time, min"), self._read("and s")
        if minutes == seconds == 0:
            raise InputError("Time, min", 0, "minutes or seconds above 0")
        return {"minutes": minutes, "seconds": seconds}

    def _steps_to(self, find: str, *, is_gas: bool) -> list[str]:
        conditions = {"temperature_C": 25.0, "pressure_kPa": 101.325}
        if is_gas:
            conditions = {
                "temperature_C": self._read("Temperature, °C"),
                "pressure_kPa": self._read("Pressure, kPa"),
            }
        product, figures = self._product.value, int(self._figures.value)
        if find == "amount":
            current_A = self._read("Current, A")
            return amount_working(product, current_A, **self._time(), **conditions, figures=figures)
        amount = (
            {"volume_cm3": self._read("Volume, cm³")}
            if is_gas
            else {"mass_g": self._read("Mass, g")}
        )
        given = {"current_A": self._read("Current, A")} if find == "time" else self._time()
        return time_or_current_working(product, **amount, **given, **conditions, figures=figures)
