"""Random cells that a school could set up, and what must hold of each.

    python tests/cell/random_cells.py 2000

runs so many from one seed and prints what did not hold, the median time and the slowest.
"""

from __future__ import annotations

import sys
import time
from collections import Counter

import numpy as np
from conservation import ELEMENTS, acid_miss, element_miss

import fizzplate as fp
from fizzplate.chemistry import InputError, electrodes

LAMP = fp.Lamp(6.0, 0.06)
SEED = 2026
CONSERVED = 1e-6
# what a class presses through each
MAX_CURRENT_A = {"beaker": 0.5, "U-tube": 0.2, "dish": 0.05, "paper strip": 0.002}


def random_cell(random):
    """Return a cell and minutes; a mixture that would cloud is drawn again."""
    formulae = list(fp.solutions())
    materials = list(electrodes())
    while True:
        count = 2 if random.random() < 0.25 else 1
        chosen = random.choice(formulae, count, replace=False)
        strength = 10 ** random.uniform(-2.0, 0.0)
        mixture = {
            str(f): strength * min(1.0, fp.solutions()[str(f)].solubility_mol_dm3) for f in chosen
        }
        options = {
            "cathode": str(random.choice(materials)),
            "anode": str(random.choice(materials)),
            "vessel": str(random.choice(list(MAX_CURRENT_A))),
            "lamp": [None, LAMP][random.integers(2)],
            "temperature_C": float(random.uniform(10, 40)),
        }
        if random.random() < 0.3:
            max_current_A = MAX_CURRENT_A[options["vessel"]]
            options["current_A"] = float(10 ** random.uniform(-3, np.log10(max_current_A)))
        else:
            options["supply_V"] = float(random.uniform(0.5, 12))
        try:
            return (
                fp.Cell(mixture, **options),
                float(random.choice([2, 10, 30])),
                (mixture, options),
            )
        except InputError:
            continue


def what_does_not_hold(run):
    """Return sentences on what a run breaks: conservation, signs, shares, numbers."""
    return [*_not_conserved(run), *_impossible(run), *_unshared(run)]


def _not_conserved(run):
    for element in ELEMENTS:
        miss = float(element_miss(run, element).max())
        if not miss < CONSERVED:
            yield f"{element} is off by {miss:.1e}"
    acid = float(acid_miss(run).max())
    if not acid < CONSERVED:
        yield f"acid is off by {acid:.1e}"


def _impossible(run):
    most = max(float(run.concentration(name)[0].max()) for name in run.ions)
    for name in (*run.ions, *run.dissolved):
        values = run.concentration(name)
        if not np.isfinite(values).all():
            yield f"{name} is no number somewhere"
        elif values.min() < -1e-6 * most:
            yield f"{name} falls to {values.min():.1e} mol/m3"


def _unshared(run):
    flowing = run.current_A > 0
    whole_C = float(run.charge_C[-1])
    for record in (run.cathode, run.anode):
        every = every_product(record)
        share = sum(record.share(p) for p in every)
        if flowing.any() and np.abs(share[flowing] - 1).max() > 1e-9:
            yield "shares do not add up"
        charge_C = sum(float(record.charge_C(p)[-1]) for p in every)
        if abs(charge_C - whole_C) > 1e-9 * whole_C:
            yield f"charge is off by {abs(charge_C - whole_C) / whole_C:.1e}"


def every_product(record):
    """Return all products with a share, also those too small to be listed."""
    return tuple(record._shares)


def main(count):
    random = np.random.default_rng(SEED)
    took, bad = [], Counter()
    for _ in range(count):
        cell, minutes, told = random_cell(random)
        started = time.perf_counter()
        try:
            broken = what_does_not_hold(cell.run(minutes=minutes, samples=31))
        except Exception as error:
            broken = [f"{type(error).__name__}: {error}"]
        took.append((time.perf_counter() - started, told))
        for each in broken:
            bad[each.split(":")[0].split(" is ")[-1][:12]] += 1
            print(told, minutes, each, flush=True)
    seconds = np.array([s for s, _ in took])
    slow = int((seconds > 5 * np.median(seconds)).sum())
    print(
        f"{count} cells, broken: {sum(bad.values())} {dict(bad)}; median {np.median(seconds):.3f} s, ",
        end="",
    )
    print(f"slowest {seconds.max():.2f} s, more than five times the median: {slow}")
    for each in sorted(took, key=lambda t: -t[0])[:5]:
        print(f"{each[0]:.2f} s", each[1])


if __name__ == "__main__":
    main(int(sys.argv[1]))
