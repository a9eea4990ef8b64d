"""Cells like the slowest of thousands finish in few rounds, conserve matter and charge, and stay physical.

A round is one iteration of a step of the solver: rounds say how slow a run is on any machine.

The first is cut to a minute: with ten minutes each way at 6 V the solver finds no step after 70 s, at 30 V
it takes 100 s of processor time.
"""

import sys
from pathlib import Path

import pytest

import fizzplate as fp
from fizzplate.cell.solver.bdf import Integrator

sys.path.insert(0, str(Path(__file__).parent))

from random_cells import what_does_not_hold

#: options, stages, and rounds that are enough: about half more than needed
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
        500,
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
        400,
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
        1300,
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
        800,
    ),
    "zinc plated, stripped with the wires swapped until it runs out": (
        {
            "solution": "ZnSO4",
            "concentration_mol_dm3": 1.291104077832143,
            "anode": "nickel",
            "temperature_C": 25.892773878556724,
            "supply_V": 4.211642593536684,
        },
        [fp.Stage(2 / 3, swapped=swapped) for swapped in (True, False, False)],
        400,
    ),
    "sulfate swept out of a still column": (
        {
            "solution": "K2SO4",
            "concentration_mol_dm3": 0.0040587520280664195,
            "cathode": "nickel",
            "vessel": "still column",
            "temperature_C": 28.571123242970604,
            "supply_V": 6.571974158540461,
        },
        [fp.Stage(10 / 3, swapped=True)] * 3,
        420,
    ),
    "iron in strong brine, whose mobilities change with every step": (
        {
            "solution": "NaCl",
            "concentration_mol_dm3": 1.0,
            "anode": "iron",
            "vessel": "dish",
            "supply_V": 12.0,
            "supply_limit_A": 3.0,
        },
        [fp.Stage(30)],
        2000,
    ),
    "silver nitrate on a strip, whose fronts cross the nodes one by one": (
        {
            "solution": "AgNO3",
            "concentration_mol_dm3": 0.4334620846698455,
            "anode": "silver",
            "vessel": "paper strip",
            "temperature_C": 23.451416362003094,
            "supply_V": 8.698026857254693,
            "lamp": fp.Lamp(6.0, 0.06),
        },
        [fp.Stage(2)],
        640,
    ),
}


@pytest.mark.parametrize("name", list(WORST))
def test_a_cell_that_was_very_slow_finishes_conserves_and_stays_physical(name, monkeypatch):
    options, stages, enough = WORST[name]
    rounds = []
    iterate = Integrator._iterate
    monkeypatch.setattr(Integrator, "_iterate", lambda self: rounds.append(1) or iterate(self))
    run = fp.Cell(**options).run(stages=stages, samples=31)
    assert run.time_s[-1] == pytest.approx(60 * sum(stage.minutes for stage in stages))
    assert what_does_not_hold(run) == []
    assert run.pH.min() > -1.5
    assert run.pH.max() < 15
    assert run.charge_C[-1] > 0
    assert 0 < len(rounds) < enough
