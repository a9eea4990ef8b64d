"""Slow work in the background: the page shows quick results at once, and slow ones when they are ready."""

from __future__ import annotations

import asyncio
from concurrent.futures import ThreadPoolExecutor
from typing import TYPE_CHECKING, Generic, TypeVar

if TYPE_CHECKING:
    from collections.abc import Callable
    from concurrent.futures import Future

Result = TypeVar("Result")
AT_ONCE_S = 0.4  # what is ready by then needs no word that it is awaited


class BackgroundWork(Generic[Result]):
    """One piece of work at a time in a thread; only the result that was asked for last is delivered.

    Where no event loop runs, as in a plain program, the work is done at once.

    Examples
    --------
    >>> product = BackgroundWork()
    >>> product.begin(lambda is_wanted: 6 * 7, done=lambda made: print(made()), waiting=print)
    42
    """

    def __init__(self) -> None:
        self._pool = ThreadPoolExecutor(max_workers=1)
        self._newest = 0

    def begin(
        self,
        work: Callable[[Callable[[], bool]], Result],
        *,
        done: Callable[[Callable[[], Result]], None],
        waiting: Callable[[], None] = lambda: None,
        at_once: bool = False,
        patience_s: float = AT_ONCE_S,
    ) -> None:
        """Begin some work; the result of earlier work is no longer delivered.

        Parameters
        ----------
        work
            Called in the thread, with a function that tells whether its result is still wanted.
        done
            Called with a function that returns the result, or raises what the work raised.
        waiting
            Called if the result is not there after ``patience_s``.
        at_once
            Wait for the result, however long it takes.
        patience_s
            How long the page waits for the result before it goes on.
        """
        self._newest += 1
        mine = self._newest

        def is_wanted() -> bool:
            return mine == self._newest

        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:
            at_once = True
        if at_once:
            done(lambda: work(is_wanted))
            return

        def hand_over(made: Future[Result]) -> None:
            if is_wanted():
                done(made.result)

        begun = self._pool.submit(work, is_wanted)
        try:
            begun.exception(timeout=patience_s)
        except TimeoutError:
            waiting()
            begun.add_done_callback(lambda made: loop.call_soon_threadsafe(hand_over, made))
        else:
            hand_over(begun)

    def forget(self) -> None:
        """Drop the work that was begun."""
        self._newest += 1
