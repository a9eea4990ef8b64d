"""Compare the processor time of runs with bands and without, over the salts of a school.

    python tests/speed/compare_bands.py [formula ...] [--minutes 10] [--repeats 3]

Both are timed in one process, the best of several. A band is what the run could make if its most
influential constants were larger or smaller by their factors. Without formulae: every solution.
"""

from __future__ import annotations

import argparse
import time

import numpy as np

import fizzplate as fp

LAMP = fp.Lamp(6.0, 0.06)


def least_s(work, repeats):
    """Return the least processor time of several, s, and the last result."""
    times = []
    for _ in range(repeats):
        started = time.process_time()
        result = work()
        times.append(time.process_time() - started)
    return min(times), result


def with_bands(cell, minutes):
    """Run a cell, and ask what it could have made."""
    run = cell.run(minutes=minutes)
    for electrode in (run.cathode, run.anode):
        for product in electrode.products:
            electrode.share_range(product)
    return run


def main():
    chosen = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    chosen.add_argument("formulae", nargs="*", default=list(fp.solutions()))
    chosen.add_argument("--minutes", type=float, default=10)
    chosen.add_argument("--repeats", type=int, default=3)
    options = chosen.parse_args()
    plain, banded = [], []
    for formula in options.formulae:
        cell = fp.Cell(formula, lamp=LAMP)
        plain_s, _ = least_s(lambda cell=cell: cell.run(minutes=options.minutes), options.repeats)
        banded_s, run = least_s(
            lambda cell=cell: with_bands(cell, options.minutes), options.repeats
        )
        plain.append(plain_s)
        banded.append(banded_s)
        print(
            f"{formula}: {1e3 * plain_s:.0f} ms, with bands {1e3 * banded_s:.0f} ms, "
            f"ratio {banded_s / plain_s:.2f}; {len(run.changes)} changes"
        )
    ratios = np.array(banded) / np.array(plain)
    print(
        f"all: ratio {sum(banded) / sum(plain):.2f}; median ratio {np.median(ratios):.2f}, "
        f"largest ratio {ratios.max():.2f}"
    )


if __name__ == "__main__":
    main()
