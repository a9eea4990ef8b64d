"""The examination board's wording, and whether the class predicts first."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

from fizzplate.lesson import Wording
from fizzplate.views.controls.fields import give_key
from fizzplate.words import InputError

if TYPE_CHECKING:
    from collections.abc import Callable

CHOICES: dict[str, tuple[str, dict[str, Any]]] = {
    "oxygen_from": ("Oxygen comes from", {"hydroxide ions": "OH-", "water": "H2O"}),
    "hydrogen_from": ("Hydrogen comes from", {"hydrogen ions": "H+", "water": "H2O"}),
    "electrons": ("Electrons lost", {"on the right": "right", "taken away on the left": "minus"}),
    "states": ("State symbols", {"not shown": False, "shown": True}),
    "electrode_names": (
        "Electrodes are called",
        {"cathode, anode": "cathode", "negative, positive": "negative", "both": "both"},
    ),
    "dilute_below_mol_dm3": (
        "Dilute chloride gives oxygen",
        {"never": 0.0, "below 0.01 mol/dm³": 0.01, "below 0.1 mol/dm³": 0.1},
    ),
}


class BoardSettings:
    """The controls of the teacher's wording.

    Parameters
    ----------
    changed
        Called after every change.
    offers_predictions
        Whether the page can let the class predict first.

    Attributes
    ----------
    bar
        The widget that holds them.
    wording, asking
        What they say.
    """

    def __init__(self, changed: Callable[[], None], *, offers_predictions: bool = True) -> None:
        self._changed = changed
        self._listening = True
        self.wording = Wording()
        self.asking = True
        self._controls = {
            name: widgets.Dropdown(
                description=label,
                options=list(options.items()),
                value=getattr(self.wording, name),
                style={"description_width": "auto"},
            )
            for name, (label, options) in CHOICES.items()
        }
        self._asks = widgets.Checkbox(
            value=True, description="Let the class predict first", indent=False
        )
        for name, control in (*self._controls.items(), ("asking", self._asks)):
            give_key(control, f"board-{name}").add_class("fp-board-control")
            control.observe(self._on_change, names="value")
        asking = [self._asks] if offers_predictions else []
        self.bar = widgets.Box([*self._controls.values(), *asking])
        self.bar.add_class("fp-board")

    def show(self, wording: Wording, *, asking: bool) -> None:
        """Set the controls without calling `changed`; a limit that is not offered is added."""
        self._listening = False
        try:
            for name, control in self._controls.items():
                value = getattr(wording, name)
                if value not in dict(control.options).values():
                    control.options = [*control.options, (f"below {value:g} mol/dm³", value)]
                control.value = value
            self._asks.value = asking
        finally:
            self._listening = True
        self.wording, self.asking = wording, asking

    def _on_change(self, _change: object) -> None:
        if not self._listening:
            return
        try:
            self.wording = Wording(**{name: each.value for name, each in self._controls.items()})
        except InputError:  # a menu between two choices has none
            return
        self.asking = self._asks.value
        self._changed()
