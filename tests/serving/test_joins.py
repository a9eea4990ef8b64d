"""A class that opens a page in the same instant: everyone sees a working scene, each their own."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
from apart import run_apart
from learners import CONCENTRATION, open_class
from memory import Family, alive
from servers import fizzplate, wait_until

LEARNERS = 3
WORKED_OUT_AHEAD = "demonstrate"


async def joined(address, family):
    learners, failures = await open_class(address, LEARNERS)
    processes = [family.of_kernel(learner.kernel) for learner in learners]
    shown = [learner.shown for learner in learners]
    await learners[0].change(CONCENTRATION, "0.25")
    after = [learner.shown for learner in learners]
    statuses = [await learner.close() for learner in learners]
    return failures, processes, shown, after, statuses


def test_each_of_a_class_sees_a_scene_of_their_own_that_ends_with_their_tab():
    with fizzplate() as (process, address):
        family = Family(process.pid)
        failures, processes, shown, after, statuses = run_apart(joined(address, family))
        assert failures == []
        assert len(set(processes)) == LEARNERS
        assert after[0] > shown[0]
        assert after[1:] == shown[1:]
        assert statuses == [204] * LEARNERS
        assert wait_until(lambda: not any(map(alive, processes)), 30)
