"""The set-up bar: what is in the cell, each control with its name and unit.

Numbers are typed as text, so that a wrong one stays to be mended: the sentence that refuses it
is shown at the control, and everything else stays as it was.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

from fizzplate.cell import vessels
from fizzplate.chemistry import electrodes, melts, non_electrolytes, pretty, solutions
from fizzplate.lesson import DEFAULT_SETUP, LAMPS, VESSELS, CellSetup, Wording
from fizzplate.lesson.state import MELT_CURRENT_A, clock, texts
from fizzplate.views.controls.fields import give_key, refuse, tool
from fizzplate.views.web import render
from fizzplate.words import InputError, field_label, number, page_quantity, page_refusal, say

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from fizzplate.lesson.state import Change

CRYSTALS = {"none": "", "KMnO₄, purple": "KMnO4"}
HOLDS = {"voltage": "V", "current": "A"}
DEFAULT_CURRENT_A = 0.05  # about what the lamp lets through
#: the controls, in the order of the bar
CONTROLS = (
    "solution",
    "concentration_mol_dm3",
    "also",
    "also_mol_dm3",
    "volume_cm3",
    "cathode",
    "anode",
    "holds",
    "supply",
    "lamp",
    "vessel",
    "crystal",
    "temperature_C",
    "minutes",
    "beside",
)
#: Which control an argument of the cell belongs to, where the names differ.
CONTROL_OF = {
    "lamp rated_V": "lamp",
    "lamp rated_A": "lamp",
    "supply_limit_A": "supply",
    "supply_V": "supply",
    "current_A": "supply",
}
#: What only the full bar shows.
FURTHER = ("holds", "temperature_C")
#: What the full bar leaves out: its page has a second bar for a second cell.
ONLY_IN_LESSONS = ("beside",)
#: All that is asked of a melt.
OF_A_MELT = ("solution", "supply", "minutes")


def read_field_number(argument: str, text: str, *, unit: str) -> float:
    """Read a number as people type it: spaces around it, and a comma as the decimal sign.

    Raises
    ------
    InputError
        If it is not a number.

    Examples
    --------
    >>> read_field_number("volume_cm3", " 62,5 ", unit="cm3")
    62.5
    """
    try:
        value: float | str = float(text.strip().replace(",", ".").replace("−", "-"))
    except ValueError:
        value = text
    return number(argument, value, unit=unit)


class SetupBar:
    """The controls, and the cell that they describe.

    Parameters
    ----------
    changed
        Called after every change that can be used.
    start
        What the controls open on.
    key
        Begins the keys of its controls.
    full
        With a held current and the temperature, and without melts and a cell to compare with.

    Attributes
    ----------
    bar
        The widget that holds the controls.
    setup, cell
        What they describe, and the cell made of it.
    """

    def __init__(
        self,
        changed: Callable[[], None],
        start: CellSetup | None = None,
        *,
        key: str = "cell",
        full: bool = False,
    ) -> None:
        self._changed = changed
        self._wording = Wording()
        self._controls = _controls(with_melts=not full)
        self._refusals = {name: widgets.HTML() for name in self._controls}
        self._boxes: dict[str, Any] = {}
        self._full = full
        for name, control in self._controls.items():
            give_key(control, f"{key}-{name}")
            box = widgets.VBox([control, self._refusals[name]])
            box.add_class("fp-field")
            box.add_class(f"fp-field-{name.split('_')[0]}")
            self._boxes[name] = box
            self._refusals[name].add_class("fp-refusal")
            if name in (ONLY_IN_LESSONS if full else FURTHER):
                box.layout.display = "none"
        self._summary = widgets.ToggleButton(description="", tooltip="Show or hide the set-up")
        self._summary.add_class("fp-summary")
        self._summary.observe(self._fold, names="value")
        give_key(self._summary, f"{key}-fold")
        self._line = widgets.HTML()
        self._line.add_class("fp-setup-line")
        self._change = tool("Change", self._turn)
        self._change.add_class("fp-change")
        self._fields = widgets.Box(list(self._boxes.values()))
        self._fields.add_class("fp-fields")
        self.bar = widgets.Box([self._summary, self._line, self._change, self._fields])
        self.bar.add_class("fp-setup")
        self._listening = True
        # what else a choice needs is changed before the cell is read
        self._controls["solution"].observe(self._suit_melt, names="value")
        self._controls["vessel"].observe(self._suit_vessel, names="value")
        self._controls["holds"].observe(self._suit_supply, names="value")
        self._controls["also"].observe(self._suit_mixture, names="value")
        for control in self._controls.values():
            control.observe(self._on_change, names="value")
        self.show(start or DEFAULT_SETUP)
        self.describe()

    def show(self, setup: CellSetup) -> None:
        """Set the controls to a set-up without calling `changed`."""
        if setup.is_melt:
            setup = replace(setup, supply_V=None, current_A=setup.melt_current_A)
        held = setup.supply_V if setup.current_A is None else setup.current_A
        values = {
            "solution": setup.solution,
            "concentration_mol_dm3": f"{setup.concentration_mol_dm3:.6g}",
            "also": setup.also,
            "also_mol_dm3": f"{setup.also_mol_dm3:.6g}",
            "cathode": setup.cathode,
            "anode": setup.anode,
            "holds": "V" if setup.current_A is None else "A",
            "supply": f"{held:.6g}",
            "lamp": setup.lamp,
            "vessel": setup.vessel,
            "crystal": setup.crystal or "",
            "temperature_C": f"{setup.temperature_C:.6g}",
            "minutes": f"{setup.minutes:.6g}",
            "beside": setup.beside,
        }
        # a vessel whose size fixes the volume hides the field, which then holds what a usual one does
        allowed = vessels()[setup.vessel].volume_cm3 or vessels()[DEFAULT_SETUP.vessel].volume_cm3
        if allowed is not None:
            volume_cm3 = allowed.default if setup.volume_cm3 is None else setup.volume_cm3
            values["volume_cm3"] = f"{volume_cm3:.6g}"
        self._listening = False
        try:
            for name, value in values.items():
                self._controls[name].value = value
            self._suit_vessel()
            self._show_further(setup)
            self._show_fields_of_melt(setup.is_melt)
        finally:
            self._listening = True
        self._refuse(None)
        read, self.cell = self._read()
        self.setup = replace(read, changes=setup.changes)

    def change(self, changes: tuple[Change, ...]) -> None:
        """Change something while the cell runs, or take that back.

        Raises
        ------
        InputError
            If it cannot be done; then nothing is changed.
        """
        changed = replace(self.setup, changes=changes)
        changed.cell()
        self.setup = changed

    def word(self, wording: Wording) -> None:
        """Call the electrodes as the board does."""
        self._wording = wording
        for role in ("cathode", "anode"):
            self._controls[role].description = wording.title(role)
        if self._summary.description:
            self.describe()

    def describe(self) -> None:
        """Write on the folded bar what is in the cell, once the page shows that cell."""
        self._summary.description = f"Set-up: {self.summary}"
        self._line.value = render("controls/templates/setup_line.html.j2", line=self.line)

    def usable(self) -> bool:
        """Say whether the controls describe a cell; if not, show the refusal again."""
        self._refuse(None)
        try:
            self._read()
        except InputError as refusal:
            self._refuse(refusal)
            return False
        return True

    @property
    def rods(self) -> str:
        """What the electrodes are made of, in words."""
        cell = self.cell
        if cell.cathode == cell.anode:
            return f"{cell.cathode} electrodes"
        return say(
            "{material} {cathode}, {other_material} {anode}",
            self._wording,
            material=cell.cathode,
            other_material=cell.anode,
        )

    @property
    def summary(self) -> str:
        """What is in the cell, on one line."""
        cell, setup, rods = self.cell, self.setup, self.rods
        if setup.is_melt:
            return f"{cell.name}, {rods}, {setup.supply_text}"
        if cell.solution_formulae == ("H2O",):
            return f"{cell.name}, {rods}, {setup.supply_text}"
        return f"{cell.name}, {setup.strength_history_text}, {rods}, {setup.supply_history_text}"

    @property
    def line(self) -> str:
        """The set-up without what the list of solutions says already."""
        cell, setup = self.cell, self.setup
        rods = cell.cathode if cell.cathode == cell.anode else self.rods
        parts = [rods, setup.supply_history_text, page_quantity(setup.minutes, "min", ".3g")]
        if not setup.is_melt and cell.solution_formulae != ("H2O",):
            parts.insert(0, setup.strength_history_text)
        if setup.changes:
            times = ", ".join(dict.fromkeys(clock(at) for at, _ in texts(setup.changes)))
            parts.append(f"changed at {times}")
        return ", ".join(parts)

    def _read(self) -> tuple[CellSetup, Any]:
        """Make the cell that the controls describe; refuse what cannot be used."""
        value = {name: control.value for name, control in self._controls.items()}
        if value["solution"] in melts():
            setup = CellSetup(
                value["solution"],
                supply_V=None,
                current_A=read_field_number("current_A", value["supply"], unit="A"),
                minutes=read_field_number("minutes", value["minutes"], unit="minutes"),
            )
            return setup, setup.cell()
        holds_cm3 = vessels()[value["vessel"]].volume_cm3
        volume_cm3 = None
        if holds_cm3 is not None:
            volume_cm3 = read_field_number("volume_cm3", value["volume_cm3"], unit="cm3")
            volume_cm3 = None if volume_cm3 == holds_cm3.default else volume_cm3
        held = value["holds"]
        unit, argument = (("V", "supply_V"), ("A", "current_A"))[held == "A"]
        amount = read_field_number(argument, value["supply"], unit=unit)
        also_mol_dm3 = (
            read_field_number("also_mol_dm3", value["also_mol_dm3"], unit="mol/dm3")
            if value["also"]
            else DEFAULT_SETUP.also_mol_dm3
        )
        setup = CellSetup(
            value["solution"],
            read_field_number(
                "concentration_mol_dm3", value["concentration_mol_dm3"], unit="mol/dm3"
            ),
            also=value["also"],
            also_mol_dm3=also_mol_dm3,
            volume_cm3=volume_cm3,
            cathode=value["cathode"],
            anode=value["anode"],
            supply_V=amount if held == "V" else None,
            current_A=amount if held == "A" else None,
            lamp=value["lamp"],
            vessel=value["vessel"],
            crystal=(value["crystal"] or None) if self._takes_crystal else None,
            temperature_C=read_field_number("temperature_C", value["temperature_C"], unit="°C"),
            minutes=read_field_number("minutes", value["minutes"], unit="minutes"),
            beside=value["beside"],
        )
        return setup, setup.cell()

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
            volume_cm3 = read_field_number("volume_cm3", field.value, unit="cm3")
        except InputError:
            return
        if not allowed.minimum <= volume_cm3 <= allowed.maximum:
            self._quietly(field, f"{allowed.default:g}")

    def _suit_melt(self, change: dict[str, Any]) -> None:
        """Ask only for current and time where a melt is chosen, and for all again where a solution is."""
        was, is_melt = change["old"] in melts(), change["new"] in melts()
        if was == is_melt:
            return
        if self._listening:
            self._quietly(self._controls["holds"], "A" if is_melt else "V")
            if is_melt:
                for name in ("also", "beside"):
                    self._quietly(self._controls[name], "")
                self._quietly(self._controls["supply"], f"{MELT_CURRENT_A:g}")
        self._show_fields_of_melt(is_melt)

    def _show_fields_of_melt(self, is_melt: bool) -> None:
        for name, box in self._boxes.items():
            if name not in OF_A_MELT:
                (box.add_class if is_melt else box.remove_class)("fp-not-of-melt")

    def _show_further(self, setup: CellSetup) -> None:
        """Show of the further controls those that are wanted, or that are not as usual."""
        unusual = {
            "holds": setup.current_A is not None,
            "temperature_C": setup.temperature_C != DEFAULT_SETUP.temperature_C,
        }
        for name, differs in unusual.items():
            self._boxes[name].layout.display = None if self._full or differs else "none"
        self._suit_mixture()

    def _suit_mixture(self, _change: object = None) -> None:
        """Ask for the strength of a second substance where there is one."""
        shown = bool(self._controls["also"].value)
        self._boxes["also_mol_dm3"].layout.display = None if shown else "none"

    def _suit_supply(self, _change: object = None) -> None:
        """Name what the supply holds, and begin with a usual value of it."""
        held, field = self._controls["holds"].value, self._controls["supply"]
        field.description = field_label("supply_V" if held == "V" else "current_A")
        usual = DEFAULT_CURRENT_A if held == "A" else DEFAULT_SETUP.supply_V
        self._quietly(field, f"{usual:g}")

    def _quietly(self, control: Any, value: str) -> None:
        """Change a control as part of another change, which calls `changed` itself."""
        heard, self._listening = self._listening, False
        control.value = value
        self._listening = heard

    def _on_change(self, _change: object) -> None:
        if not self._listening:
            return
        try:
            setup, cell = self._read()
        except InputError as refusal:
            self._refuse(refusal)
            return
        self._refuse(None)
        if setup == self.setup.unchanged:
            return  # the same, written another way
        self.setup, self.cell = setup, cell
        self._changed()

    def _refuse(self, refusal: InputError | None) -> None:
        """Show the sentence at the control that it is about, and at no other."""
        about = CONTROL_OF.get(refusal.argument, refusal.argument) if refusal else None
        if about is not None and about not in self._controls:
            about = "solution"
        for name, place in self._refusals.items():
            sentence = page_refusal(refusal, self._wording) if refusal and name == about else ""
            refuse(place, sentence, [self._controls[name]], self._controls[name])

    def _turn(self) -> None:
        """Show or hide the fields."""
        self._summary.value = not self._summary.value

    def _fold(self, change: dict[str, Any]) -> None:
        (self._fields.add_class if change["new"] else self._fields.remove_class)("fp-unfolded")
        self._change.description = "Done" if change["new"] else "Change"


def _controls(*, with_melts: bool) -> dict[str, Any]:
    salts = {f"{salt.name} {pretty(formula)}": formula for formula, salt in solutions().items()}
    liquids = {liquid.name: formula for formula, liquid in non_electrolytes().items()}
    molten = {melt.name: formula for formula, melt in melts().items()} if with_melts else {}
    materials = {name: name for name in electrodes()}
    menus = {
        "solution": salts | liquids | molten,
        "also": {"nothing else": ""} | salts,
        "beside": {"no other cell": ""}
        | {f"the same with {name} electrodes": name for name in electrodes()}
        | {f"the same with {name}": formula for name, formula in salts.items()},
        "cathode": materials,
        "anode": materials,
        "holds": HOLDS,
        "lamp": {name: name for name in LAMPS},
        "vessel": {name: name for name in VESSELS},
        "crystal": CRYSTALS,
    }
    return {name: _menu(name, menus[name]) if name in menus else _field(name) for name in CONTROLS}


def _menu(name: str, options: Mapping[str, str]) -> Any:
    chosen = next(iter(options.values()))
    return widgets.Dropdown(
        description=_label_of(name), options=list(options.items()), value=chosen, style=_label()
    )


def _field(name: str) -> Any:
    return widgets.Text(description=_label_of(name), continuous_update=False, style=_label())


def _label_of(name: str) -> str:
    return field_label("supply_V" if name == "supply" else name)


def _label() -> dict[str, str]:
    return {"description_width": "auto"}
