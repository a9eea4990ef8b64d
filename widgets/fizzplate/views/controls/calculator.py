"""Charge, moles, mass or volume: forwards and backwards, every step shown."""

from __future__ import annotations

from html import escape

import ipywidgets as widgets

from fizzplate.chemistry import species_name
from fizzplate.chemistry.gases import GASES
from fizzplate.lesson.measure.worked_amounts import (
    PRODUCTS,
    amount_working,
    time_or_current_working,
)
from fizzplate.views.controls.fields import field, menu, refuse
from fizzplate.views.controls.setup_bar import read_number
from fizzplate.words.refusals import InputError, number

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
OPENED = ("0.2", "20", "0", "0.079", "30", "25", "101.325")


class Calculator:
    """The arithmetic of one product.

    Attributes
    ----------
    widget
        Controls and steps.
    """

    def __init__(self) -> None:
        self._product = menu("Product", {species_name(p): p for p in PRODUCTS})
        self._find = menu(
            "Find",
            {"how much forms": "amount", "how long it takes": "time", "which current": "current"},
        )
        self._fields = {
            label: field(label, value) for label, value in zip(LIMITS, OPENED, strict=True)
        }
        self._figures = menu("Significant figures", {"2": "2", "3": "3", "4": "4"}, "3")
        self._steps = widgets.HTML()
        controls = [self._product, self._find, *self._fields.values(), self._figures]
        for control in controls:
            control.observe(lambda _: self._show(), names="value")
        row = widgets.Box(controls)
        row.add_class("fp-needs")
        self.widget = widgets.VBox([widgets.HTML("<h2>Work it out</h2>"), row, self._steps])
        self.widget.add_class("fp-working")
        self._show()

    def _show(self) -> None:
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
            steps = self._work(find, is_gas=is_gas)
        except InputError as refusal:
            refuse(
                self._steps, str(refusal), self._fields.values(), self._fields.get(refusal.argument)
            )
            return
        refuse(self._steps, "", self._fields.values())
        items = "".join(f"<li>{escape(step)}</li>" for step in steps)
        self._steps.value = f'<ol class="fp-arithmetic">{items}</ol>'

    def _read(self, label: str) -> float:
        """Read a field; it is refused by its label and in the unit that was typed.

        Raises
        ------
        InputError
            If it cannot be used.
        """
        unit, least, above, most = LIMITS[label]
        value = read_number(label, self._fields[label].value, unit=unit)
        shown = int(value) if value == int(value) else value
        if above:
            return number(label, shown, unit=unit, above=least, at_most=most)
        return number(label, shown, unit=unit, at_least=least, at_most=most)

    def _time(self) -> dict[str, float]:
        minutes, seconds = self._read("Time, min"), self._read("and s")
        if minutes == seconds == 0:
            raise InputError("Time, min", 0, "minutes or seconds above 0")
        return {"minutes": minutes, "seconds": seconds}

    def _work(self, find: str, *, is_gas: bool) -> list[str]:
        room = {"temperature_C": 25.0, "pressure_kPa": 101.325}
        if is_gas:
            room = {
                "temperature_C": self._read("Temperature, °C"),
                "pressure_kPa": self._read("Pressure, kPa"),
            }
        product, figures = self._product.value, int(self._figures.value)
        if find == "amount":
            current_A = self._read("Current, A")
            return amount_working(product, current_A, **self._time(), **room, figures=figures)
        amount = (
            {"volume_cm3": self._read("Volume, cm³")}
            if is_gas
            else {"mass_g": self._read("Mass, g")}
        )
        given = {"current_A": self._read("Current, A")} if find == "time" else self._time()
        return time_or_current_working(product, **amount, **given, **room, figures=figures)
