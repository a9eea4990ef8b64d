"""Random cells that a school could set up, and some that it never would: what must hold of each.

    python tests/cell/random_cells.py 2000 [--first 0]

runs so many and prints what did not hold, and how much processor time of one core each took. The same
number is the same cell always: `1 --first 137` runs that one again.
"""

from __future__ import annotations

import argparse
import os
import time

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # before numpy is there: one core is measured

import numpy as np
from conservation import ELEMENTS, acid_miss, element_miss

import fizzplate as fp
from fizzplate.cell import vessels
from fizzplate.cell.warnings import BOILING_C
from fizzplate.chemistry import InputError, electrodes

LAMP = fp.Lamp(6.0, 0.06)
SEED = 2026
CONSERVED = 1e-6
PH = (-1.5, 15.0)
LEAST_MOL_DM3 = 5e-4
SAMPLES = 31
AIMS_S = (1.0, 5.0)  # for 99 of 100 cells, and for every one


def random_cell(number):
    """Return a cell, its stages, and what both were made of; a cell that is refused is drawn again."""
    random = np.random.default_rng([SEED, number])
    formulae = list(fp.solutions())
    materials = list(electrodes())
    while True:
        count = 2 if random.random() < 0.25 else 1
        chosen = [str(each) for each in random.choice(formulae, count, replace=False)]
        share = random.random()
        mixture = {
            each: LEAST_MOL_DM3
            * (fp.solutions()[each].solubility_mol_dm3 / LEAST_MOL_DM3 / count) ** share
            for each in chosen
        }
        options = {
            "cathode": str(random.choice(materials)),
            "anode": str(random.choice(materials)),
            "vessel": str(random.choice(list(vessels()))),
            "lamp": [None, LAMP][random.integers(2)],
            "temperature_C": float(random.uniform(10, 40)),
        }
        if random.random() < 0.3:
            options["current_A"] = float(10 ** random.uniform(-3, np.log10(0.5)))
        else:
            options["supply_V"] = float(random.uniform(0.5, 30))
        minutes = float(random.choice([2, 10, 30]))
        stages = [fp.Stage(minutes)]
        if random.random() < 0.4:
            ways = [{}, {"swapped": True}, {"off": True}]
            stages = [fp.Stage(minutes / 3, **ways[k]) for k in random.integers(3, size=3)]
        try:
            return fp.Cell(mixture, **options), stages, (mixture, options, stages)
        except InputError:
            continue


def what_does_not_hold(run):
    """Return sentences on what a run breaks: conservation, signs, shares, numbers, ranges."""
    return [*_not_conserved(run), *_impossible(run), *_unshared(run), *_out_of_range(run)]


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
    return tuple(record._made.shares)


def _out_of_range(run):
    if run.pH.min() < PH[0] or run.pH.max() > PH[1]:
        yield f"pH from {run.pH.min():.1f} to {run.pH.max():.1f}"
    if run.temperature_C.max() > BOILING_C + 3:
        yield f"it boils at {run.temperature_C.max():.0f} degrees"


def main(count, first):
    took_s, broken, descriptions = [], 0, []
    for k in range(first, first + count):
        cell, stages, description = random_cell(k)
        started_s = time.process_time()
        try:
            run = cell.run(stages=stages, samples=SAMPLES)
            faults = None
        except Exception as error:
            faults = [f"{type(error).__name__}: {error}"]
        took_s.append(time.process_time() - started_s)
        descriptions.append(description)
        if faults is None:
            faults = what_does_not_hold(run)
        broken += len(faults)
        for fault in faults:
            print(f"cell {k}: {fault}; {description}", flush=True)
    seconds = np.array(took_s)
    print(
        f"{count} cells, broken: {broken}; median {np.median(seconds):.3f} s, "
        f"99 in 100 within {np.quantile(seconds, 0.99):.2f} s, slowest {seconds.max():.2f} s; "
        + ", ".join(f"above {aim:g} s: {int((seconds > aim).sum())}" for aim in AIMS_S)
    )
    for at in np.argsort(-seconds)[:10]:
        print(f"cell {first + at}: {seconds[at]:.2f} s", descriptions[at])


if __name__ == "__main__":
    asked = argparse.ArgumentParser()
    asked.add_argument("count", type=int)
    asked.add_argument("--first", type=int, default=0)
    main(**vars(asked.parse_args()))
