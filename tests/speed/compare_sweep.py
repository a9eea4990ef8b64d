"""Time a sweep beside a single run, and runs of more nodes and more ions beside the usual one.

    python tests/speed/compare_sweep.py [--cells 32] [--minutes 30] [--repeats 5]

Everything is timed in one process, the best of several; what is printed are ratios.
"""

from __future__ import annotations

import argparse
import time

import numpy as np

import fizzplate as fp
from fizzplate.cell.physics import geometry

LAMP = fp.Lamp(6.0, 0.06)
SAMPLES = 121


def best_s(work, repeats):
    """Return the least time of several, s, and the last result."""
    times = []
    for _ in range(repeats):
        started = time.perf_counter()
        result = work()
        times.append(time.perf_counter() - started)
    return min(times), result


def best_run_s(cell, options):
    """Return the least time of several runs of a cell, s, and the last run."""
    return best_s(lambda: cell.run(minutes=options.minutes, samples=SAMPLES), options.repeats)


def best_runs_s(cells, options):
    """Return the least time of several runs of cells side by side, s, and the last runs."""
    return best_s(lambda: fp.run_many(cells, options.minutes, samples=SAMPLES), options.repeats)


def sweeps(options):
    """Print how much longer many strengths take than one."""
    for formula in ("NaCl", "Na2SO4", "KI", "CuSO4"):
        strengths = np.geomspace(0.1, 1.0, options.cells)
        cells = [fp.Cell(formula, concentration_mol_dm3=c, lamp=LAMP) for c in strengths]
        one_s, _ = best_run_s(cells[options.cells // 2], options)
        all_s, runs = best_runs_s(cells, options)
        print(
            f"{formula}: one {1e3 * one_s:.0f} ms, {options.cells} cells {1e3 * all_s:.0f} ms, "
            f"ratio {all_s / one_s:.1f}; steps {min(r.steps for r in runs)} to "
            f"{max(r.steps for r in runs)}"
        )


def nodes(options):
    """Print the time of a step beside that on the usual grid of a still column."""
    usual = None
    for growth in (1.2, 1.1, 1.05, 1.025):
        geometry.STILL_GROWTH = growth
        cell = fp.Cell(
            "CuSO4", vessel="still column", anode="copper", cathode="copper", supply_V=0.3
        )
        seconds, run = best_run_s(cell, options)
        a_step = seconds / run.steps
        usual = usual or a_step
        print(
            f"{run.position_m.size} nodes: {1e3 * a_step:.2f} ms a step, ratio {a_step / usual:.2f}"
        )
    geometry.STILL_GROWTH = 1.2


def ions(options):
    """Print the time of a step beside that of sodium sulfate alone."""
    usual = None
    mixture = {}
    for formula in ("Na2SO4", "KNO3", "HNO3", "MgSO4", "ZnSO4", "CuSO4"):
        mixture[formula] = 0.05
        cell = fp.Cell(dict(mixture), lamp=LAMP)
        seconds, run = best_run_s(cell, options)
        a_step = seconds / run.steps
        usual = usual or a_step
        print(f"{len(run.ions)} ions: {1e3 * a_step:.2f} ms a step, ratio {a_step / usual:.2f}")


def main():
    chosen = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    chosen.add_argument("--cells", type=int, default=32)
    chosen.add_argument("--minutes", type=float, default=30)
    chosen.add_argument("--repeats", type=int, default=5)
    options = chosen.parse_args()
    sweeps(options)
    nodes(options)
    ions(options)


if __name__ == "__main__":
    main()
