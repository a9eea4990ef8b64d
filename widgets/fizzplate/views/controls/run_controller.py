"""One cell to work at: its set-up, its switch and its bench, with the runs that it had."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

from fizzplate.cell import Run
from fizzplate.cell.solver import ConvergenceError
from fizzplate.lesson import write_cell
from fizzplate.lesson.rule import MeltRun
from fizzplate.lesson.state import placed, require_difference
from fizzplate.views.bench import About, Bench, certainty_of
from fizzplate.views.controls.asked_change import read_asked_change
from fizzplate.views.controls.background_work import BackgroundWork
from fizzplate.views.controls.field_groups import GroupedSetupBar
from fizzplate.views.controls.prefetch import Prefetch
from fizzplate.views.controls.setup_bar import SetupBar
from fizzplate.views.web import alert
from fizzplate.words import InputError, page_refusal

if TYPE_CHECKING:
    from collections.abc import Callable

    from fizzplate.lesson import CellSetup
    from fizzplate.views.controls.board_settings import BoardSettings

SAMPLES = 121
MAX_RUNS = 12  # runs that come back as they were left

_STUCK_CHANGED = (
    "The model could not calculate this change, so the run is as it was. Try another change."
)
_STUCK = "The model could not calculate this cell. Try another voltage or concentration."


class RunController:
    """A set-up bar, a switch and a bench that belong together.

    Parameters
    ----------
    start
        What it opens on.
    board
        The wording, and whether the class is asked.
    changed
        Called after the set-up, or what is shown, has changed.
    key
        Begins the keys of its controls.
    full
        Whether the set-up bar shows everything.
    place
        Which of a page's cells it is, in words.
    on_next
        Called when the lesson goes on to the next cell.
    on_reset
        Called when a new class comes, or the last one is brought back, before the cell rests.
    may_change
        Whether something can be changed while the cell runs.

    Attributes
    ----------
    setup_bar, switch_button, refusal, bench
        Widgets to lay out.
    shown
        What is shown, a run or what a current makes of a melt, or ``None`` while the switch is open.
    runs
        The same by their set-ups, the oldest first.
    """

    def __init__(
        self,
        start: CellSetup,
        board: BoardSettings,
        changed: Callable[[], None],
        *,
        key: str = "cell",
        full: bool = False,
        place: str = "",
        on_next: Callable[[], None] = lambda: None,
        on_reset: Callable[[bool], None] = lambda _is_undo: None,
        may_change: bool = False,
    ) -> None:
        self._may_change = may_change
        self._replies = 0
        self._on_next = on_next
        self._on_reset = on_reset
        self.shown: Run | MeltRun | None = None
        self.runs: dict[CellSetup, Run | MeltRun] = {}
        self._beside: dict[CellSetup, Run] = {}  # runs of second cells, by the set-ups of both
        self._board = board
        self._changed = changed
        self._prefetch = Prefetch()
        self._how_sure: BackgroundWork[list[dict[str, Any]]] = BackgroundWork()
        self.bench = Bench(place)
        self.bench.add_class("fp-bench-host")
        self.bench.observe(lambda change: self._on_new_class(change["new"]), names="reset")
        self.bench.observe(lambda _: self._changed(), names="reveals_products")
        self.bench.observe(lambda change: self._on_request(change["new"]), names="request")
        self.setup_bar = (GroupedSetupBar if full else SetupBar)(
            self.rest, start, key=key, full=full
        )
        self.setup_bar.word(board.wording)
        self.switch_button = widgets.Button(description="Switch on")
        self.switch_button.add_class("fp-switch")
        self.switch_button.on_click(lambda _: self.switch())
        self.refusal = widgets.HTML()
        self.refusal.add_class("fp-refusal")
        self.refusal.add_class("fp-switch-refusal")

    @property
    def parts(self) -> list[Any]:
        """The widgets in the order of the page."""
        return [self.setup_bar.bar, self.switch_button, self.refusal, self.bench]

    @property
    def is_on(self) -> bool:
        """Whether the switch is closed."""
        return self.shown is not None

    @property
    def run(self) -> Run | None:
        """The run that is shown; none of a melt, and none while the switch is open."""
        return self.shown if isinstance(self.shown, Run) else None

    @property
    def may_reveal(self) -> bool:
        """Whether the page may name what forms in the cell: the class need not predict, or has done so."""
        return not self._board.asking or (self.is_on and self.bench.reveals_products)

    def switch(self) -> None:
        """Close the switch and run what is set up, or open it again."""
        self.switch_button.disabled = (
            True  # the page has locked it at the press (web/address/press.js)
        )
        try:
            if self.is_on:
                self.rest()
            elif self.setup_bar.usable():
                self._close_switch()
        finally:
            self.switch_button.disabled = False

    def _close_switch(self) -> None:
        self.refusal.value = ""
        self.switch_button.description = "Running …"
        self.bench.busy = True
        setup = self.setup_bar.setup
        try:
            run = self.runs.get(setup) or self._prefetch.result(setup, self._work_out())
        except ConvergenceError:
            self.refusal.value = alert(_STUCK)
        else:
            self._remember(setup, run)
            self._show_run(run)
        finally:
            self.bench.busy = False
            self._show_switch()
        self._changed()

    def _show_run(self, run: Run | MeltRun, *, again: bool = False) -> None:
        self.shown = run
        self.bench.show(run, self._about(), again=again, second=self._second_run())
        self._ask_how_sure(run)

    def _ask_how_sure(self, run: Run | MeltRun) -> None:
        """Let the bench say how sure the run is, once that is known: the picture does not wait for it."""
        self._how_sure.forget()
        if isinstance(run, MeltRun):
            return

        def say(sides: Callable[[], list[dict[str, Any]]]) -> None:
            # where the model with other constants finds no end, nothing is said
            with suppress(ConvergenceError):
                self.bench.say_how_sure(sides())

        if self.setup_bar.setup.changes:
            self._how_sure.forget()  # how sure is known of a run that nobody changes
            return
        wording = self._board.wording
        self._how_sure.begin(lambda _: certainty_of(run, wording), done=say, patience_s=0)

    def set_cell(self, setup: CellSetup, *, on: bool | None = None) -> None:
        """Put a cell there, with its switch closed or open.

        Parameters
        ----------
        setup
            The cell.
        on
            Whether its switch is closed; if not given, a run that the cell had comes back as it was left.
        """
        self.setup_bar.word(self._board.wording)
        self.setup_bar.show(setup)
        if setup in self.runs and on is not False:
            self.refusal.value = ""
            self._show_run(self.runs[setup], again=True)
            self.setup_bar.describe()
            self._show_switch()
            self._changed()
            return
        self.rest()
        if on:
            self._close_switch()

    def reword(self) -> None:
        """Show the same in the board's present wording."""
        self.setup_bar.word(self._board.wording)
        if self.shown is None:
            self.rest()
            return
        self._changed()
        self._show_run(self.shown, again=True)

    def rest(self) -> None:
        """Show the cell before its switch is closed."""
        self.shown = None
        self._how_sure.forget()
        self.refusal.value = ""
        self.bench.busy = True
        second = self.setup_bar.setup.second
        self.bench.rest(
            self.setup_bar.cell,
            self._about(),
            second=None if second is None else (second.cell(), self._about_second(second)),
        )
        self.setup_bar.describe()
        self._show_switch()
        self._changed()
        if self.setup_bar.setup not in self.runs:
            self._prefetch.begin(self.setup_bar.setup, self._work_out())

    def _on_request(self, request: dict[str, Any]) -> None:
        """Do what a step of the lesson needs; the page waits until its request is emptied."""
        what = request.get("what")
        if what == "next":
            self._on_next()
        elif what in ("change", "take back"):
            self._change(request)
        elif what in ("on", "off") and (what == "on") != self.is_on:
            self.switch()
        if what:
            self.bench.request = {}

    def _change(self, request: dict[str, Any]) -> None:
        """Change something at a time of the run, or take the last change back; the run until then stays."""
        before = self.setup_bar.setup
        if self.run is None or not self._about().may_change:  # nothing runs, or only a melt
            return
        self._replies += 1  # each is a new answer, though it may say the same
        reply = {"number": self._replies}
        try:
            if request["what"] == "take back":
                self.setup_bar.change(before.changes[:-1])
            else:
                made = placed(read_asked_change(request), before.changes, before.minutes)
                held = before.supply_V if before.current_A is None else before.current_A
                require_difference(made, before.changes, held)
                self.setup_bar.change((*before.changes, made))
            self.bench.busy = True
            run = self._run_of(self.setup_bar.setup)
            self._second_run_of(self.setup_bar.setup)
        except InputError as refusal:
            said = page_refusal(refusal, self._board.wording)
            self.bench.change_reply = reply | {"refused": said, "field": refusal.argument}
        except ConvergenceError:
            self.setup_bar.change(before.changes)
            self.bench.busy = False
            self.bench.change_reply = reply | {"refused": _STUCK_CHANGED, "field": ""}
        else:
            if before.changes:
                self._forget(before)  # it leaves room for other cells'
            self._show_run(run, again=True)
            self.setup_bar.describe()
            self._changed()
            self.bench.change_reply = reply

    def _run_of(self, setup: CellSetup) -> Run:
        known = self.runs.get(setup)
        run = known if isinstance(known, Run) else setup.run(SAMPLES)
        self._remember(setup, run)
        return run

    def _on_new_class(self, reset: dict[str, Any]) -> None:
        """Forget what the last class ran and changed: the next one predicts first."""
        self.runs.clear()
        self._beside.clear()
        self._on_reset(bool(reset.get("isUndo")))
        self.rest()

    def _remember(self, setup: CellSetup, run: Run | MeltRun) -> None:
        self.runs.pop(setup, None)
        self.runs[setup] = run
        while len(self.runs) > MAX_RUNS:
            self._forget(next(iter(self.runs)))

    def _forget(self, setup: CellSetup) -> None:
        self.runs.pop(setup, None)
        self._beside.pop(setup, None)

    def _second_run(self) -> tuple[Run, About] | None:
        """Return the run of the second cell, and what the page calls that; nothing where there is none."""
        second = self.setup_bar.setup.second
        run = self._second_run_of(self.setup_bar.setup)
        return None if second is None or run is None else (run, self._about_second(second))

    def _second_run_of(self, setup: CellSetup) -> Run | None:
        """Return the run of a set-up's second cell, kept beside that of its first."""
        if setup.second is not None and setup not in self._beside:
            self._beside[setup] = setup.second.run(SAMPLES)
        return self._beside.get(setup)

    def _about_second(self, second: CellSetup) -> About:
        setup = self.setup_bar.setup
        changed = bool(setup.changes) and self.is_on
        return replace(
            self._about(),
            key=f"{write_cell(setup.unchanged)} second",
            label=second.label_in(self._board.wording),
            only_calculated=second.only_calculated,
            unchanged=self._second_run_of(setup.unchanged) if changed else None,
        )

    def _about(self) -> About:
        setup = self.setup_bar.setup
        return About(
            write_cell(setup.unchanged),  # what a class has written stays, whatever is changed
            setup.alone.label_in(self._board.wording),
            asking=self._board.asking,
            only_calculated=setup.only_calculated,
            wording=self._board.wording,
            changes=setup.changes,
            unchanged=self._run_of(setup.unchanged) if setup.changes and self.is_on else None,
            may_change=self._may_change,
        )

    def _work_out(self) -> Callable[[], Run | MeltRun]:
        setup, cell = self.setup_bar.setup, self.setup_bar.cell
        if setup.is_melt:
            return lambda: MeltRun(cell, setup.melt_current_A, setup.minutes)
        return lambda: self._run_both(setup)

    def _run_both(self, setup: CellSetup) -> Run:
        """Run a cell, and the second one that may stand beside it."""
        run = setup.run(SAMPLES)
        self._second_run_of(setup)
        return run

    def _show_switch(self) -> None:
        self.switch_button.description = "Switch off" if self.is_on else "Switch on"
        mark = self.switch_button.add_class if self.is_on else self.switch_button.remove_class
        mark("fp-is-on")
