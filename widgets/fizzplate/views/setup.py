"""The set-up bar: what is in the cell, each control with its name and unit.

Numbers are typed as text, so that a wrong one stays to be mended: the sentence that refuses it
stands beside the control, and everything else stays as it was.
"""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

from fizzplate.cell import Lamp, vessels
from fizzplate.chemistry import electrodes, non_electrolytes, pretty, solutions
from fizzplate.chemistry.checks import InputError, number
from fizzplate.lesson import Cell

if TYPE_CHECKING:
    from collections.abc import Callable

LAMPS: dict[str, Lamp | None] = {
    "6 V, 0.06 A": Lamp(6.0, 0.06),
    "6 V, 0.3 A": Lamp(6.0, 0.3),
    "12 V, 0.1 A": Lamp(12.0, 0.1),
    "none": None,
}
LONGEST_RUN_MIN = 60.0
DRAWN = ("beaker", "U-tube", "dish", "paper strip")  # the vessels that have a drawing
CRYSTALS: dict[str, str | None] = {"none": None, "KMnO₄, purple": "KMnO4"}
#: Which control an argument of the cell belongs to, where the names differ.
CONTROL_OF = {"lamp rated_V": "lamp", "lamp rated_A": "lamp", "supply_limit_A": "supply_V"}


def read_number(argument: str, text: str, *, unit: str) -> float:
    """Read a number as people type it: spaces around it, and a comma as the decimal sign.

    Raises
    ------
    InputError
        If it is not a number.

    Examples
    --------
    >>> read_number("volume_cm3", " 62,5 ", unit="cm3")
    62.5
    """
    try:
        value = float(text.strip().replace(",", ".").replace("−", "-"))
    except ValueError:
        raise InputError(argument, text, f"a number in {unit}") from None
    return number(argument, value, unit=unit)


class Setup:
    """The controls, and the cell that they describe.

    Parameters
    ----------
    changed
        Called with the new cell and the minutes after every change that can be used.

    Attributes
    ----------
    bar
        The widget that holds the controls.
    """

    def __init__(self, changed: Callable[[Cell, float], None]) -> None:
        self._changed = changed
        salts = {f"{salt.name} {pretty(formula)}": formula for formula, salt in solutions().items()}
        salts |= {liquid.name: formula for formula, liquid in non_electrolytes().items()}
        self._controls: dict[str, Any] = {
            "solution": _menu("Solution", salts),
            "concentration_mol_dm3": _field("Concentration, mol/dm³", "0.50"),
            "volume_cm3": _field("Volume, cm³", "60"),
            "cathode": _menu("Cathode", {name: name for name in electrodes()}, "graphite"),
            "anode": _menu("Anode", {name: name for name in electrodes()}, "graphite"),
            "supply_V": _field("Supply, V", "6.0"),
            "lamp": _menu("Lamp", {name: name for name in LAMPS}),
            "vessel": _menu("Vessel", {name: name for name in DRAWN}),
            "crystal": _menu("Crystal", {name: name for name in CRYSTALS}),
            "minutes": _field("Time, minutes", "5"),
        }
        self._refusals = {name: widgets.HTML() for name in self._controls}
        self._boxes: dict[str, Any] = {}
        for name, control in self._controls.items():
            box = widgets.VBox([control, self._refusals[name]])
            box.add_class("fp-field")
            box.add_class(f"fp-field-{name.split('_')[0]}")
            self._boxes[name] = box
            self._refusals[name].add_class("fp-refusal")
        self._fields = widgets.Box(list(self._boxes.values()))
        self._fields.add_class("fp-fields")
        self._summary = widgets.ToggleButton(description="", tooltip="Show or hide the set-up")
        self._summary.add_class("fp-summary")
        self._summary.observe(self._fold, names="value")
        self.bar = widgets.Box([self._summary, self._fields])
        self.bar.add_class("fp-setup")
        # what else the vessel needs is changed before the cell is read
        self._controls["vessel"].observe(self._suit_vessel, names="value")
        for control in self._controls.values():
            control.observe(self._on_change, names="value")
        self._suit_vessel()
        self.cell, self.minutes = self._read()
        self._describe()

    def choose(self, solution: str) -> None:
        """Put a solution in the cell, at the strength of the class practical."""
        self._controls["solution"].value = solution

    def usable(self) -> bool:
        """Say whether the controls describe a cell; if not, the refusal is said once more."""
        self._refuse(None)
        try:
            self._read()
        except InputError as refusal:
            self._refuse(refusal)
            return False
        return True

    @property
    def summary(self) -> str:
        """What is in the cell, on one line."""
        cell = self.cell
        rods = (
            f"{cell.cathode} electrodes"
            if cell.cathode == cell.anode
            else f"{cell.cathode} cathode, {cell.anode} anode"
        )
        if cell.solution_formulae == ("H2O",):
            return f"{cell.name}, {rods}, {cell.supply_V:g} V"
        strength = f"{cell.concentration_mol_dm3:.2g} mol/dm³"
        return f"{cell.name}, {strength}, {rods}, {cell.supply_V:g} V"

    def _read(self) -> tuple[Cell, float]:
        """Make the cell that the controls describe; refuse what cannot be used."""
        value = {name: control.value for name, control in self._controls.items()}
        concentration_mol_dm3 = read_number(
            "concentration_mol_dm3", value["concentration_mol_dm3"], unit="mol/dm3"
        )
        measured = vessels()[value["vessel"]].volume_cm3 is not None
        volume_cm3 = (
            read_number("volume_cm3", value["volume_cm3"], unit="cm3") if measured else None
        )
        supply_V = read_number("supply_V", value["supply_V"], unit="V")
        minutes = read_number("minutes", value["minutes"], unit="minutes")
        number("minutes", minutes, unit="minutes", above=0, at_most=LONGEST_RUN_MIN)
        cell = Cell(
            value["solution"],
            concentration_mol_dm3=concentration_mol_dm3,
            volume_cm3=volume_cm3,
            cathode=value["cathode"],
            anode=value["anode"],
            supply_V=supply_V,
            lamp=LAMPS[value["lamp"]],
            vessel=value["vessel"],
            crystal=CRYSTALS[value["crystal"]] if self._takes_crystal else None,
        )
        return cell, minutes

    @property
    def _takes_crystal(self) -> bool:
        return vessels()[self._controls["vessel"].value].takes_crystal

    def _suit_vessel(self, _change: object = None) -> None:
        """Offer what the vessel takes: a volume that it can hold, a crystal on a strip of paper."""
        allowed = vessels()[self._controls["vessel"].value].volume_cm3
        self._boxes["volume_cm3"].layout.display = None if allowed else "none"
        self._boxes["crystal"].layout.display = None if self._takes_crystal else "none"
        if allowed is None:
            return
        field = self._controls["volume_cm3"]
        try:
            volume_cm3 = read_number("volume_cm3", field.value, unit="cm3")
        except InputError:
            return
        if not allowed.least <= volume_cm3 <= allowed.most:
            field.value = f"{allowed.usual:g}"

    def _on_change(self, _change: object) -> None:
        try:
            cell, minutes = self._read()
        except InputError as refusal:
            self._refuse(refusal)
            return
        self._refuse(None)
        self.cell, self.minutes = cell, minutes
        self._describe()
        self._changed(cell, minutes)

    def _refuse(self, refusal: InputError | None) -> None:
        """Show the sentence beside the control that it is about, and at no other."""
        about = CONTROL_OF.get(refusal.argument, refusal.argument) if refusal else None
        for name, place in self._refusals.items():
            said = escape(str(refusal)) if refusal and name == about else ""
            place.value = f'<span role="alert">{said}</span>' if said else ""
            wrong = self._controls[name].add_class if said else self._controls[name].remove_class
            wrong("fp-wrong")

    def _describe(self) -> None:
        self._summary.description = f"Set-up: {self.summary}"

    def _fold(self, change: dict[str, Any]) -> None:
        (self._fields.add_class if change["new"] else self._fields.remove_class)("fp-unfolded")


def _menu(label: str, options: dict[str, str], value: str | None = None) -> Any:
    chosen = value if value is not None else next(iter(options.values()))
    return widgets.Dropdown(
        description=label, options=list(options.items()), value=chosen, style=_label()
    )


def _field(label: str, value: str) -> Any:
    return widgets.Text(description=label, value=value, continuous_update=False, style=_label())


def _label() -> dict[str, str]:
    return {"description_width": "auto"}
