"""Learners who go on working while something happens to the server or to somebody else."""

from __future__ import annotations

import asyncio
import itertools
import random
from collections import defaultdict

import numpy as np
from learners import CONCENTRATION, open_class

PAUSE_S = 1.0
STRENGTHS = [f"{0.1 + 0.01 * k:.2f}" for k in range(80)]


class Bystanders:
    """Some learners, each of whom changes a control again and again and waits for the new cell.

    Parameters
    ----------
    address
        Of the page.
    count
        How many.
    pause_s
        About how long each looks at a cell.

    Attributes
    ----------
    answers_s
        For each phase the seconds from a change to the new cell.
    failures
        What went wrong with one of them, which ends that one's work.
    """

    def __init__(self, address, count, pause_s=PAUSE_S):
        self._address, self._count, self._pause_s = address, count, pause_s
        self._phase = "before"
        self._tasks = []
        self._answered = asyncio.Event()
        self.learners = []
        self.answers_s = defaultdict(list)
        self.failures = []

    async def __aenter__(self):
        self.learners, self.failures = await open_class(self._address, self._count)
        self._tasks = [asyncio.create_task(self._work(learner)) for learner in self.learners]
        return self

    async def __aexit__(self, *_):
        for task in self._tasks:
            task.cancel()
        await asyncio.gather(*self._tasks, return_exceptions=True)
        await asyncio.gather(*(each.close() for each in self.learners), return_exceptions=True)

    async def _work(self, learner):
        rng = random.Random(id(learner))  # noqa: S311  # a pause, not a secret
        for strength in itertools.cycle(rng.sample(STRENGTHS, len(STRENGTHS))):
            await asyncio.sleep(self._pause_s * rng.uniform(0.5, 1.5))
            phase = self._phase
            try:
                taken_s = await learner.change(CONCENTRATION, strength)
            except (OSError, TimeoutError) as failure:
                self.failures.append(failure)
                self._answered.set()
                return
            self.answers_s[phase].append(taken_s)
            self._answered.set()

    async def reach(self, phase, answers=2):
        """Begin a phase, and wait until each has had so many answers in it."""
        self._phase = phase
        while len(self.answers_s[phase]) < answers * len(self.learners) and not self.failures:
            self._answered.clear()
            await self._answered.wait()

    def begin(self, phase):
        """Begin a phase."""
        self._phase = phase

    def told(self):
        """Give for each phase how many answers there were, the median and the 95th percentile."""
        return {
            phase: (len(times), *(float(x) for x in np.percentile(times, [50, 95])))
            for phase, times in self.answers_s.items()
            if times
        }
