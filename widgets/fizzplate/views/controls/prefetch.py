"""Calculate a run before the switch is closed, so that it starts at once."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from threading import Event
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Hashable
    from concurrent.futures import Future

    from fizzplate.cell import Run
    from fizzplate.lesson.rule import MeltRun


PAUSE_S = 0.2  # first what has been changed is shown: two threads would take turns


class Prefetch:
    """One run at a time in a thread; a run that is no longer wanted is not begun.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> prefetch = Prefetch()
    >>> prefetch.begin("copper", lambda: Cell("CuSO4").run(minutes=1))
    >>> prefetch.result("copper", lambda: Cell("CuSO4").run(minutes=1)).cathode.products[0]
    'Cu'
    """

    def __init__(self) -> None:
        self._pool = ThreadPoolExecutor(max_workers=1)
        self._wanted_now = Event()
        self._name: Hashable = None
        self._begun: Future[Run | MeltRun] | None = None

    def begin(self, name: Hashable, work_out: Callable[[], Run | MeltRun]) -> None:
        """Begin a run that may be asked for."""
        if self._begun is not None:
            if name == self._name:
                return
            self._begun.cancel()
        self._name = name
        self._wanted_now = wanted_now = Event()

        def run_after_pause() -> Run | MeltRun:
            wanted_now.wait(PAUSE_S)
            return work_out()

        self._begun = self._pool.submit(run_after_pause)

    def result(self, name: Hashable, work_out: Callable[[], Run | MeltRun]) -> Run | MeltRun:
        """Return the run of that name; wait for it, or calculate it now."""
        begun, self._begun = self._begun, None
        self._wanted_now.set()
        return begun.result() if begun is not None and name == self._name else work_out()
