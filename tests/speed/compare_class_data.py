"""Time a class's data beside plain numpy on the same numbers.

    python tests/speed/compare_class_data.py

A logger's file of 100,000 rows is read and integrated; a plain numpy integration of the same rows, already
read, stands beside it. A class set of 200 groups is read, fitted and compared with theory; a plain numpy fit
of the same numbers stands beside it. Best of five.
"""

from __future__ import annotations

import time

import numpy as np

from fizzplate.lesson.class_entries import read_groups
from fizzplate.lesson.class_table import read_logger
from fizzplate.lesson.measuring import compare_with_theory, quantities

ROWS, GROUPS = 100_000, 200


def best_ms(act):
    """Return the shortest of five times."""
    times = []
    for _ in range(5):
        began = time.perf_counter()
        act()
        times.append(1e3 * (time.perf_counter() - began))
    return min(times)


def main():
    rng = np.random.default_rng(1)
    time_s = np.arange(ROWS) * 0.1
    current_A = 0.3 + 0.01 * rng.standard_normal(ROWS)
    text = "time/s,current/A\n" + "".join(
        f"{t:.1f},{i:.4f}\n" for t, i in zip(time_s, current_A, strict=True)
    )
    read = best_ms(lambda: read_logger(text))
    plain = best_ms(lambda: np.loadtxt(text.split("\n")[1:], delimiter=","))
    readings = read_logger(text)
    beyond = best_ms(lambda: (readings.charge_C, readings.mean_A, readings.drift))
    integrated = best_ms(lambda: np.trapezoid(readings.current_A, readings.time_s))
    print(
        f"logger, {ROWS} rows: read {read:.0f} ms ({read / plain:.1f} times numpy's reading), beyond reading "
        f"{beyond:.2f} ms ({beyond / integrated:.1f} times a plain integration)"
    )
    rows = [
        {
            "group": str(k),
            "cathode_before": "8.000",
            "cathode_after": f"{8 + 3.29e-4 * 0.2 * 60 * (5 + k % 20):.3f}",
            "current": "0.2",
            "minutes": str(5 + k % 20),
        }
        for k in range(GROUPS)
    ]

    def compare():
        groups = read_groups(rows, {})
        quantity = quantities("Cu")["cathode gain"]
        return compare_with_theory(groups, quantity, "cathode gain", resolution=0.001)

    found = compare()
    worked = best_ms(compare)
    fitted = best_ms(lambda: np.polyfit(found.charge_C, found.measured, 1, cov=True))
    print(f"class of {GROUPS} groups: {worked:.1f} ms, {worked / fitted:.0f} times a plain fit")


if __name__ == "__main__":
    main()
