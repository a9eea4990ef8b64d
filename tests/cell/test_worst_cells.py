"""Cells like the slowest of thousands finish, conserve matter and charge, and stay physical.

The first is cut to a minute: with ten minutes each way at 6 V the solver finds no step after 70 s, at 30 V
it takes 100 s of processor time.
"""

import sys
from pathlib import Path

import pytest

import fizzplate as fp

sys.path.insert(0, str(Path(__file__).parent))

from random_cells import what_does_not_hold

WORST = {
    "zinc chloride on a strip, wires swapped, switch open": (
        {
            "solution": "ZnCl2",
            "concentration_mol_dm3": 0.0017,
            "cathode": "copper",
            "vessel": "paper strip",
            "supply_limit_A": 0.5,
        },
        [fp.Stage(0.5), fp.Stage(0.3, swapped=True), fp.Stage(0.2, off=True)],
    ),
    "calcium chloride in a still column on iron": (
        {
            "solution": "CaCl2",
            "concentration_mol_dm3": 0.0066,
            "cathode": "iron",
            "anode": "iron",
            "vessel": "still column",
            "supply_V": 12.0,
        },
        [fp.Stage(30)],
    ),
    "magnesium chloride on a strip": (
        {
            "solution": "MgCl2",
            "concentration_mol_dm3": 0.008,
            "vessel": "paper strip",
            "supply_V": 30.0,
            "supply_limit_A": 0.2,
        },
        [fp.Stage(30)],
    ),
    "nickel sulfate with a zinc anode": (
        {
            "solution": "NiSO4",
            "concentration_mol_dm3": 0.006,
            "anode": "zinc",
            "supply_V": 12.0,
            "supply_limit_A": 0.1,
        },
        [fp.Stage(30)],
    ),
}


@pytest.mark.parametrize("name", list(WORST))
def test_a_cell_that_was_very_slow_finishes_conserves_and_stays_physical(name):
    options, stages = WORST[name]
    run = fp.Cell(**options).run(stages=stages, samples=31)
    assert run.time_s[-1] == pytest.approx(60 * sum(stage.minutes for stage in stages))
    assert what_does_not_hold(run) == []
    assert run.pH.min() > -1.5
    assert run.pH.max() < 15
    assert run.charge_C[-1] > 0
