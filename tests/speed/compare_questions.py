"""Time a set of questions beside a run of a cell, and how long marking takes by kind of answer.

    python tests/speed/compare_questions.py [--sets 15] [--markings 20] [--repeats 5]

Everything is timed in one process, the best of several. A set is aimed at three runs at most, the first
set of a process with it: what it needs once (tables read, half-equations balanced) is timed apart.
"""

from __future__ import annotations

import argparse
import time

import fizzplate as fp
from fizzplate.questions.sets import questions

MINUTES, COUNT = 30, 20
AIM = 3.0
LONG = "the current makes the ions and the deposit is a red precipitate " * 160  # 10,000 characters


def seconds(work):
    """Return how long something takes, s, and what it gives."""
    began = time.perf_counter()
    result = work()
    return time.perf_counter() - began, result


def best_s(work, repeats):
    """Return the least time of several, s."""
    return min(seconds(work)[0] for _ in range(repeats))


def sets(count, repeats):
    """Print how long sets of questions take beside a run; give them back."""
    first_s, _ = seconds(lambda: questions(seed=0, count=COUNT))
    cell = fp.Cell("CuSO4")
    run_s = best_s(lambda: cell.run(minutes=MINUTES), repeats)
    timed = [seconds(lambda: questions(seed=seed, count=COUNT)) for seed in range(1, count + 1)]  # noqa: B023
    times = sorted(time_s for time_s, _ in timed)
    usual_s, slowest_s = times[count // 2], times[-1]
    print(f"run of {MINUTES} minutes of copper(II) sulfate: {1e3 * run_s:.0f} ms")
    print(f"first set of {COUNT} in a process: {1e3 * first_s:.0f} ms, ratio {first_s / run_s:.2f}")
    print(
        f"a set of {COUNT}, median of {count}: {1e3 * usual_s:.1f} ms, ratio {usual_s / run_s:.2f}; "
        f"slowest {1e3 * slowest_s:.1f} ms, ratio {slowest_s / run_s:.2f} (aim: at most {AIM:g})"
    )
    return [options for _, made in timed for options in made]


def markings(options, count, repeats):
    """Print how long it takes to mark a full answer and a long wrong one, by kind."""
    for kind in dict.fromkeys(question.kind for question in options):
        some = [question for question in options if question.kind == kind][:count]
        full_s = max(best_s(lambda: each.mark(each.answer), repeats) for each in some)  # noqa: B023
        long_s = max(best_s(lambda: each.mark(LONG), repeats) for each in some)  # noqa: B023
        print(
            f"{kind}: {len(some)} questions, slowest full answer {1e3 * full_s:.2f} ms, "
            f"10,000 wrong characters {1e3 * long_s:.2f} ms"
        )


def main():
    chosen = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    chosen.add_argument("--sets", type=int, default=15)
    chosen.add_argument("--markings", type=int, default=20)
    chosen.add_argument("--repeats", type=int, default=5)
    options = chosen.parse_args()
    markings(sets(options.sets, options.repeats), options.markings, options.repeats)


if __name__ == "__main__":
    main()
