"""The Demonstrate page: choose a solution, switch on, and see what each electrode does."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

from fizzplate.cell import Stage
from fizzplate.cell.simulate import StuckError
from fizzplate.chemistry import pretty, solutions
from fizzplate.views.bench import Bench
from fizzplate.views.setup import Setup

if TYPE_CHECKING:
    from fizzplate.cell import Cell
    from fizzplate.cell.run import Run

#: The class practical in an order that changes one ion at a time.
CORE = ("Na2SO4", "NaCl", "CuCl2", "CuSO4")
SAMPLES = 121

_STUCK = "The model could not follow this cell: try another voltage or concentration."
_TITLE = (
    '<h1 class="fp-title">Fizz <span class="fp-and">&amp;</span> Plate '
    '<span class="fp-page-name">Demonstrate</span></h1>'
)


class Demonstrate:
    """The page's parts and what happens between them.

    Attributes
    ----------
    widget
        What a notebook displays.
    setup, bench
        The set-up bar, and the cell with all that follows its clock.
    run
        The last run shown, or ``None`` before the switch is closed.
    """

    def __init__(self) -> None:
        self.run: Run | None = None
        self.bench = Bench()
        self.bench.add_class("fp-bench-host")
        self.setup = Setup(self._at_rest)
        self._recorded: set[str] = set()
        self._choices = {formula: self._choice(formula) for formula in CORE}
        solutions_list = widgets.HBox(list(self._choices.values()))
        solutions_list.add_class("fp-solutions")
        head = widgets.HBox([widgets.HTML(_TITLE), solutions_list])
        head.add_class("fp-head")
        self._switch = widgets.Button(description="Switch on")
        self._switch.add_class("fp-switch")
        self._switch.on_click(lambda _: self.switch())
        self._refusal = widgets.HTML()
        self._refusal.add_class("fp-refusal")
        self._refusal.add_class("fp-switch-refusal")
        parts = [head, self.setup.bar, self._switch, self._refusal, self.bench]
        self.widget = widgets.Box(parts)
        self.widget.add_class("fp-page")
        self._at_rest(self.setup.cell, self.setup.minutes)

    @property
    def is_on(self) -> bool:
        """Whether the switch is closed."""
        return self.run is not None

    def switch(self) -> None:
        """Close the switch and run what is set up, or open it again."""
        if self.is_on:
            self._at_rest(self.setup.cell, self.setup.minutes)
            return
        if not self.setup.usable():
            return
        self._refusal.value = ""
        self._switch.description = "Running …"
        self._switch.disabled = True
        try:
            run = self.setup.cell.run(minutes=self.setup.minutes, samples=SAMPLES)
        except StuckError:
            self._refusal.value = f'<span role="alert">{_STUCK}</span>'
        else:
            self.run = run
            self.bench.show(run)
            self._recorded.update(run.cell.solution_formulae)
        finally:
            self._switch.disabled = False
            self._show_switch()
        self._mark_choices()

    def _at_rest(self, cell: Cell, minutes: float) -> None:
        """Show a cell before its switch is closed."""
        self.run = None
        self._refusal.value = ""
        self.bench.rest(cell.run(stages=[Stage(minutes=minutes, off=True)], samples=2))
        self._show_switch()
        self._mark_choices()

    def _show_switch(self) -> None:
        self._switch.description = "Switch off" if self.is_on else "Switch on"

    def _choice(self, formula: str) -> Any:
        button = widgets.Button(description=pretty(formula), tooltip=solutions()[formula].name)
        button.add_class("fp-choice")
        button.on_click(lambda _: self.setup.choose(formula))
        return button

    def _mark_choices(self) -> None:
        """Tick the solutions that have been run, and mark the one in the cell."""
        in_cell = self.setup.cell.solution_formulae
        for formula, button in self._choices.items():
            tick = "✓ " if formula in self._recorded else ""
            button.description = f"{tick}{pretty(formula)}"
            (button.add_class if formula in in_cell else button.remove_class)("fp-chosen")


def page() -> Any:
    """Return the Demonstrate page as one widget to display."""
    return Demonstrate().widget
