"""Runs, and what is shown before a run, computed ahead for a server whose readers all begin alike."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING, Any, TypeVar

if TYPE_CHECKING:
    from collections.abc import Callable, Hashable, Iterator

Result = TypeVar("Result")


class KnownRuns:
    """What is made while :meth:`store_new_runs`: runs, liquids, benches at rest; later only looked up.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> from fizzplate.cell.known_runs import known_runs
    >>> with known_runs.store_new_runs():
    ...     first = Cell("CuSO4").run(minutes=1, samples=3)
    >>> Cell("CuSO4").run(minutes=1, samples=3) is first
    True
    >>> known_runs.forget()
    >>> Cell("CuSO4").run(minutes=1, samples=3) is first
    False
    """

    def __init__(self) -> None:
        self._runs: dict[Hashable, Any] = {}
        self._remembers = False

    @contextmanager
    def store_new_runs(self) -> Iterator[None]:
        """Store every run made inside this context."""
        self._remembers = True
        try:
            yield
        finally:
            self._remembers = False

    def forget(self) -> None:
        """Forget every run."""
        self._runs.clear()

    def find(self, key: Hashable, work_out: Callable[[], Result]) -> Result:
        """Return what is stored with this description, or compute it."""
        if key in self._runs:
            found: Result = self._runs[key]
            return found
        result = work_out()
        if self._remembers:
            self._runs[key] = result
        return result


known_runs = KnownRuns()
