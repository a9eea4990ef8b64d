"""Let a class open Demonstrate in one instant, beside stock Voila with one label, and weigh both.

    python tests/serving/compare_joins.py [learners] [rounds] [--alone 3] [--quiet-s 1] [--only-label]

In each round, one server after the other: stock Voila on a notebook of one label, ``fizzplate --class``
with the Demonstrate page, and stock Voila on Demonstrate's own notebook. Each first serves one learner
who closes the page again, then one learner alone a few times, then the class at once; timed is from
asking for the page until its widgets have come whole over the websocket (the bench with its run, or the
label with its text). "Work" is the processor seconds of the server and all that it started for each
who joins: it says the same on a machine that does other things too. Memory is the proportional set size
of the server and all that it started, once nothing is being worked out any more, with the class there.
"A learner's part" is what the class added to the idle server, divided by its number; "all, shared out"
is everything divided by it.
"""

from __future__ import annotations

import argparse
import asyncio
from statistics import median

import numpy as np
from learners import Learner, label_works, open_class, scene_works
from memory import MB, Family
from servers import fizzplate, notebook_of, stock_voila, wait_until

LEARNERS = 30
ALONE = 3
QUIET_S = 1.0
IDLE = 0.05  # of a processor, used through a quiet time, is nothing being worked out
SETTLE_S = 120
AIM_TIME = 0.5
AIM_MB = 32
AIM_MEMORY = 0.5


def settle(family, quiet_s):
    """Wait until the server and its kernels have nothing to do."""
    used = [family.processor_s()]

    def quiet():
        used.append(family.processor_s())
        return abs(used[-1] - used[-2]) < IDLE * quiet_s

    return wait_until(quiet, SETTLE_S, quiet_s)


async def measured(process, address, works, options):
    """Measure one server."""
    family = Family(process.pid)
    async with Learner(address, works) as first:
        await first.open()
        await first.leave()
    alone_s = []
    for _ in range(options.alone):
        settle(family, options.quiet_s)
        async with Learner(address, works) as learner:
            alone_s.append(await learner.open())
            await learner.leave()
    settle(family, options.quiet_s)
    idle = family.pss_bytes()
    used_s = family.processor_s()
    learners, failures = await open_class(address, options.learners, works)
    used_s = family.processor_s() - used_s
    settle(family, options.quiet_s)
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


def servers(count, only_label):
    """Give what is compared: a name, how to start it, and when its page works."""
    every = [
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
    return every[:2] if only_label else every


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
    label, ours, *same = found.values()
    print(
        f"\n{count} learners at once; page s is the 95th percentile of the page without its widgets"
    )
    tell("p95 beside stock Voila's one label", ours["p95"] / label["p95"], AIM_TIME)
    tell("last beside stock Voila's one label", ours["last"] / label["last"], AIM_TIME)
    tell(
        "work for each who joins, beside stock Voila's one label", ours["work_s"] / label["work_s"]
    )
    tell("one alone beside stock Voila's one label", ours["alone"] / label["alone"])
    for stock in same:
        tell("p95 beside stock Voila with the same page", ours["p95"] / stock["p95"])
        tell(
            "a learner's part beside stock Voila's of the same page",
            ours["part_mb"] / stock["part_mb"],
            AIM_MEMORY,
        )
        tell("all, shared out, beside stock Voila's", ours["all_mb"] / stock["all_mb"], AIM_MEMORY)
    tell("a learner's part of memory, MB", ours["part_mb"], AIM_MB)


def tell(what, value, aim=None):
    """Print a figure with what is aimed at."""
    aimed = "" if aim is None else f" (at most {aim:g}: {'yes' if value <= aim else 'NO'})"
    print(f"{what}: {value:.2f}{aimed}")


def main():
    chosen = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    chosen.add_argument("learners", nargs="?", type=int, default=LEARNERS)
    chosen.add_argument("rounds", nargs="?", type=int, default=1)
    chosen.add_argument("--alone", type=int, default=ALONE)
    chosen.add_argument("--quiet-s", type=float, default=QUIET_S)
    chosen.add_argument("--only-label", action="store_true", help="without stock's Demonstrate")
    options = chosen.parse_args()
    found = []
    for _ in range(options.rounds):
        one = {}
        for name, start, works in servers(options.learners, options.only_label):
            with start() as (process, address):
                one[name] = asyncio.run(measured(process, address, works, options))
        found.append(one)
    table(found, options.learners)


if __name__ == "__main__":
    main()
