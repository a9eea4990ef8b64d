"""Fields in groups: the usual ones in sight, the rest folded behind one line that says what they hold."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

from fizzplate.cell import vessels
from fizzplate.lesson import DEFAULT_SETUP
from fizzplate.views.controls.fields import fold
from fizzplate.views.controls.setup_bar import CONTROLS, SetupBar
from fizzplate.views.web import render
from fizzplate.words import page_quantity

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

#: of the set-up bar, what is always in sight
USUAL = ("solution", "concentration_mol_dm3", "supply")
TO_CHANGE = "Now change:"
SET_ALREADY = "Both cells are ready, and differ in:"


class FieldGroup:
    """A name, the usual fields, and the rest behind a line.

    A field that is refused is shown, whatever is folded.

    Parameters
    ----------
    name
        What the group is about; empty where that is plain.
    usual, rest
        The fields in sight, and those that are folded.
    statement
        Says in words what the folded fields hold.
    key
        Of the line that unfolds them.

    Attributes
    ----------
    widget
        What a page lays out.
    """

    def __init__(
        self,
        name: str,
        usual: Sequence[Any],
        rest: Sequence[Any],
        statement: Callable[[], str],
        *,
        key: str,
    ) -> None:
        self._statement = statement
        folded = widgets.Box(list(rest))
        for each in ("fp-needs", "fp-folded"):
            folded.add_class(each)
        self._line = fold("", folded, key=key)
        self._line.add_class("fp-folded-line")
        in_sight = widgets.Box(list(usual))
        in_sight.add_class("fp-needs")
        heading = widgets.HTML(render("controls/templates/group_name.html.j2", name=name))
        self.widget = widgets.Box([*([heading] if name else []), in_sight, self._line, folded])
        self.widget.add_class("fp-group")
        for each in rest:
            each.observe(lambda _: self.describe(), names="value")
        self.describe()

    @property
    def is_unfolded(self) -> bool:
        """Whether the folded fields are shown."""
        return bool(self._line.value)

    @is_unfolded.setter
    def is_unfolded(self, shown: bool) -> None:
        self._line.value = shown

    def describe(self) -> None:
        """Say anew what the folded fields hold."""
        self._line.description = f"{self._statement()}: change"


class GroupedSetupBar(SetupBar):
    """A set-up bar with solution, strength and supply in sight, and the rest behind a line."""

    _line_of_rest: Any = None

    def __init__(self, *arguments: Any, key: str = "cell", **more: Any) -> None:
        super().__init__(*arguments, key=key, **more)
        rest = widgets.Box([self._boxes[name] for name in CONTROLS if name not in USUAL])
        for each in ("fp-rest", "fp-folded"):
            rest.add_class(each)
        self._line_of_rest = fold("", rest, key=f"{key}-rest")
        self._line_of_rest.add_class("fp-folded-line")
        own = [self._boxes[name] for name in CONTROLS]
        others = [each for each in self._fields.children if each not in own]
        usual = [self._boxes[name] for name in USUAL]
        self._pointer = widgets.HTML()
        self._pointer.add_class("fp-pointer")
        self.bar.children = [self._pointer, *self.bar.children]
        self._fields.children = [*usual, self._line_of_rest, rest, *others]
        for control in self._controls.values():
            control.observe(lambda _: self.forget_what_was_pointed_out(), names="value")
        self.describe()

    def describe(self) -> None:
        """Write on the folds what is in the cell, once the page shows that cell."""
        super().describe()
        if self._line_of_rest is not None:  # the bar is described once before it is grouped
            self._line_of_rest.description = f"{self.statement_of_rest}: change"

    def point_out(self, names: Sequence[str], why: str, *, is_set: bool = False) -> None:
        """Show what is to be changed, and say so; the next change takes that away.

        Parameters
        ----------
        names
            Of the controls.
        why
            A sentence that comes before.
        is_set
            Whether this is changed already: two cells differ in it.
        """
        self.forget_what_was_pointed_out()
        for name in names:
            self._boxes[name].add_class("fp-to-vary")
        self._summary.value = True
        if not set(USUAL).issuperset(names):
            self._line_of_rest.value = True
        label = " and ".join(self._controls[name].description for name in names)
        self._pointer.value = render(
            "controls/templates/pointed_out.html.j2",
            why=why,
            now=SET_ALREADY if is_set else TO_CHANGE,
            label=label,
        )

    def forget_what_was_pointed_out(self) -> None:
        """Point at nothing."""
        for box in self._boxes.values():
            box.remove_class("fp-to-vary")
        self._pointer.value = ""

    @property
    def statement_of_rest(self) -> str:
        """What the folded fields hold, in words, without what the page does not offer."""
        setup = self.setup
        parts = []
        if setup.also:
            parts.append(f"also {setup.also}")
        allowed = vessels()[setup.vessel].volume_cm3
        if allowed is not None:
            volume_cm3 = allowed.default if setup.volume_cm3 is None else setup.volume_cm3
            parts.append(page_quantity(volume_cm3, "cm3"))
        parts.append(self.rods)
        parts.append("no lamp" if setup.lamp == "none" else f"lamp {setup.lamp}")
        parts.append(setup.vessel)
        if setup.crystal:
            parts.append(f"a crystal of {setup.crystal}")
        if self._full or setup.temperature_C != DEFAULT_SETUP.temperature_C:
            parts.append(page_quantity(setup.temperature_C, "°C"))
        parts.append(page_quantity(setup.minutes, "min"))
        return ", ".join(parts)
