"""Work that several processes share."""

from __future__ import annotations

import signal
from concurrent.futures import ProcessPoolExecutor, as_completed
from multiprocessing import get_context
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

Task = TypeVar("Task")
Result = TypeVar("Result")


def in_processes(
    work: Callable[[Task], Result], tasks: Sequence[Task], workers: int
) -> Iterator[Result]:
    """Give the results of tasks as they come; one worker is this process itself."""
    if workers == 1 or len(tasks) < 2:
        yield from map(work, tasks)
        return
    # fresh processes: a forked one may inherit a lock that nobody opens
    pool = ProcessPoolExecutor(
        workers, mp_context=get_context("spawn"), initializer=_leave_interruptions_to_the_command
    )
    try:
        for done in as_completed([pool.submit(work, task) for task in tasks]):
            yield done.result()
    finally:
        pool.shutdown(cancel_futures=True)  # else all that waits would be worked out first


def _leave_interruptions_to_the_command() -> None:
    """Ctrl-C reaches every process of a terminal: the command ends the others."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
