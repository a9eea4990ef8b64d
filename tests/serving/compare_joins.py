"""Let a class open Demonstrate in one instant, beside stock Voila with one label, and weigh both.

    python tests/serving/compare_joins.py [learners] [rounds]

In each round, one server after the other: stock Voila on a notebook of one label, ``fizzplate --class``
with the Demonstrate page, and stock Voila on Demonstrate's own notebook. Each first serves one learner
who closes the page again, then one learner alone three times, then the class at once; timed is from
asking for the page until its widgets have come whole over the websocket (the bench with its run, or the
label with its text). "Work" is the processor seconds of the server and all that it started for each
who joins: it says the same on a machine that does other things too. Memory is the proportional set size
of the server and all that it started, once nothing is being worked out any more, with the class there.
"A learner's part" is what the class added to the idle server, divided by its number; "all, shared out"
is everything divided by it.
"""

from __future__ import annotations

import asyncio
import sys
from statistics import median

import numpy as np
from learners import Learner, label_works, open_class, scene_works
from memory import MB, Family
from servers import fizzplate, notebook_of, stock_voila, wait_until

LEARNERS = 30
ALONE = 3
QUIET_S = 1.0
IDLE = 0.05  # of a processor, used through that time, is nothing being worked out
SETTLE_S = 120
AIM_TIME = 0.5
AIM_MB = 32
AIM_MEMORY = 0.5


def settle(family):
    """Wait until the server and its kernels have nothing to do."""
    used = [family.processor_s()]

    def quiet():
        used.append(family.processor_s())
        return abs(used[-1] - used[-2]) < IDLE * QUIET_S

    return wait_until(quiet, SETTLE_S, QUIET_S)


async def measured(process, address, works, count):
    """Measure one server."""
    family = Family(process.pid)
    async with Learner(address, works) as first:
        await first.open()
        await first.leave()
    alone_s = []
    for _ in range(ALONE):
        settle(family)
        async with Learner(address, works) as learner:
            alone_s.append(await learner.open())
            await learner.leave()
    settle(family)
    idle = family.pss_bytes()
    used_s = family.processor_s()
    learners, failures = await open_class(address, count, works)
    used_s = family.processor_s() - used_s
    settle(family)
    full = family.pss_bytes()
    await asyncio.gather(*(learner.leave() for learner in learners))
    return {
        "alone_s": alone_s,
        "page_s": [learner.page_s for learner in learners],
        "works_s": [learner.scene_s for learner in learners],
        "failures": failures,
        "work_s": used_s / max(len(learners), 1),
        "idle_mb": idle / MB,
        "part_mb": (full - idle) / MB / max(len(learners), 1),
        "all_mb": full / MB / max(len(learners), 1),
    }


def servers(count):
    """Give what is compared: a name, how to start it, and when its page works."""
    return [
        ("stock Voila, one label", stock_voila, label_works),
        (
            "fizzplate, Demonstrate",
            lambda: fizzplate("--host", "127.0.0.1", "--class", str(count)),
            scene_works,
        ),
        (
            "stock Voila, Demonstrate",
            lambda: stock_voila(notebook_of("demonstrate")),
            scene_works,
        ),
    ]


def table(rounds, count):
    """Print what was found, rounds taken together."""
    row = "{:26}{:>8}{:>8}{:>8}{:>8}{:>8}{:>8}{:>9}{:>9}{:>8}"
    print(
        row.format(
            "",
            "alone s",
            "page s",
            "p50 s",
            "p95 s",
            "last s",
            "work s",
            "idle MB",
            "part MB",
            "all MB",
        )
    )
    found = {}
    for name in rounds[0]:
        of = [each[name] for each in rounds]
        join = [np.percentile(one["works_s"], [50, 95, 100]) for one in of]
        page = [np.percentile(one["page_s"], 95) for one in of]
        p50, p95, last = np.median(join, axis=0)
        found[name] = {
            "alone": median(second for one in of for second in one["alone_s"]),
            "page": median(page),
            "p50": p50,
            "p95": p95,
            "last": last,
            **{
                key: median(one[key] for one in of)
                for key in ("work_s", "idle_mb", "part_mb", "all_mb")
            },
        }
        seen = found[name]
        figures = [f"{seen[key]:.2f}" for key in ("alone", "page", "p50", "p95", "last", "work_s")]
        figures += [f"{seen[key]:.0f}" for key in ("idle_mb", "part_mb", "all_mb")]
        print(row.format(name, *figures))
        failures = [failure for one in of for failure in one["failures"]]
        if failures:
            print(f"  {len(failures)} of {count * len(of)} failed, first: {failures[0]!r}")
    label, ours, same = found.values()
    print(
        f"\n{count} learners at once; page s is the 95th percentile of the page without its widgets"
    )
    tell("p95 beside stock Voila's one label", ours["p95"] / label["p95"], AIM_TIME)
    tell("last beside stock Voila's one label", ours["last"] / label["last"], AIM_TIME)
    tell(
        "work for each who joins, beside stock Voila's one label", ours["work_s"] / label["work_s"]
    )
    tell("p95 beside stock Voila with the same page", ours["p95"] / same["p95"])
    tell("one alone beside stock Voila's one label", ours["alone"] / label["alone"])
    tell(
        "a learner's part beside stock Voila's of the same page",
        ours["part_mb"] / same["part_mb"],
        AIM_MEMORY,
    )
    tell("all, shared out, beside stock Voila's", ours["all_mb"] / same["all_mb"], AIM_MEMORY)
    tell("a learner's part of memory, MB", ours["part_mb"], AIM_MB)


def tell(what, value, aim=None):
    """Print a figure with what is aimed at."""
    aimed = "" if aim is None else f" (at most {aim:g}: {'yes' if value <= aim else 'NO'})"
    print(f"{what}: {value:.2f}{aimed}")


def main(count=LEARNERS, rounds=1):
    found = []
    for _ in range(rounds):
        one = {}
        for name, start, works in servers(count):
            with start() as (process, address):
                one[name] = asyncio.run(measured(process, address, works, count))
        found.append(one)
    table(found, count)


if __name__ == "__main__":
    main(*(int(argument) for argument in sys.argv[1:3]))
