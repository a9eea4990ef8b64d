"""Time a class's data beside plain numpy on the same numbers.

    python tests/speed/compare_class_data.py [--rows 100000] [--groups 200] [--repeats 5]

A logger's file is read and integrated; a plain numpy integration of the same rows, already
read, stands beside it. A class set is read, fitted and compared with theory; a plain numpy fit
of the same numbers stands beside it. Best of several.
"""

from __future__ import annotations

import argparse
import time

import numpy as np

from fizzplate.lesson.measure.class_entries import read_groups
from fizzplate.lesson.measure.logger_file import read_logger
from fizzplate.lesson.measure.theory_comparison import compare_with_theory, quantities


def best_ms(act, repeats):
    """Return the shortest of several times."""
    times = []
    for _ in range(repeats):
        began = time.perf_counter()
        act()
        times.append(1e3 * (time.perf_counter() - began))
    return min(times)


def logger(count, repeats):
    """Time a logger's file beside numpy."""
    rng = np.random.default_rng(1)
    time_s = np.arange(count) * 0.1
    current_A = 0.3 + 0.01 * rng.standard_normal(count)
    text = "time/s,current/A\n" + "".join(
        f"{t:.1f},{i:.4f}\n" for t, i in zip(time_s, current_A, strict=True)
    )
    read = best_ms(lambda: read_logger(text), repeats)
    plain = best_ms(lambda: np.loadtxt(text.split("\n")[1:], delimiter=","), repeats)
    readings = read_logger(text)
    beyond = best_ms(lambda: (readings.charge_C, readings.mean_A, readings.drift), repeats)
    integrated = best_ms(lambda: np.trapezoid(readings.current_A, readings.time_s), repeats)
    print(
        f"logger, {count} rows: read {read:.0f} ms ({read / plain:.2f} times numpy's reading), beyond "
        f"reading {beyond:.2f} ms ({beyond / integrated:.1f} times a plain integration)"
    )


def class_set(count, repeats):
    """Time a class set beside a plain fit."""
    rows = [
        {
            "group": str(k),
            "cathode_before": "8.000",
            "cathode_after": f"{8 + 3.29e-4 * 0.2 * 60 * (5 + k % 20):.3f}",
            "current": "0.2",
            "minutes": str(5 + k % 20),
        }
        for k in range(count)
    ]

    def compare():
        groups = read_groups(rows, {})
        quantity = quantities("Cu")["cathode gain"]
        return compare_with_theory(groups, quantity, "cathode gain", resolution=0.001)

    found = compare()
    worked = best_ms(compare, repeats)
    fitted = best_ms(lambda: np.polyfit(found.charge_C, found.measured, 1, cov=True), repeats)
    print(f"class of {count} groups: {worked:.1f} ms, {worked / fitted:.0f} times a plain fit")


def main():
    chosen = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    chosen.add_argument("--rows", type=int, default=100_000)
    chosen.add_argument("--groups", type=int, default=200)
    chosen.add_argument("--repeats", type=int, default=5)
    options = chosen.parse_args()
    logger(options.rows, options.repeats)
    class_set(options.groups, options.repeats)


if __name__ == "__main__":
    main()
