"""Salts that diffuse into each other, beside PHREEQC's multicomponent diffusion (USGS).

Both couple the ions by electroneutrality; PHREEQC has its own coefficients and activities. Half of a
still column holds sodium chloride, the other half potassium chloride, and no current flows.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import phreeqc
import pytest

import fizzplate as fp
from fizzplate.cell.solver import batch as engine

CELLS, LENGTH_M, SECONDS = 40, 1e-2, 6000
SODIUM, POTASSIUM = 0.1, 0.02  # mol/dm3 of chloride in the two halves


def by_phreeqc(element):
    """Return cell centres, m, and concentrations of an element, mol/m3."""
    half, step_s = CELLS // 2, 60
    script = f"""
SOLUTION 1-{half}
units mol/kgw
Na {SODIUM}
Cl {SODIUM}
SOLUTION {half + 1}-{CELLS}
units mol/kgw
K {POTASSIUM}
Cl {POTASSIUM}
SELECTED_OUTPUT
-reset false
-totals {element}
END
TRANSPORT
-cells {CELLS}
-lengths {LENGTH_M / CELLS}
-shifts {SECONDS // step_s}
-time_step {step_s}
-flow_direction diffusion_only
-boundary_conditions closed closed
-multi_d true 1e-9 1.0 0.0 0.0
-punch_cells 1-{CELLS}
-punch_frequency {SECONDS // step_s}
END
"""
    solver = phreeqc.Phreeqc()
    solver.LoadBuiltInDatabase("phreeqc.dat")
    failures = solver.RunString(script)
    assert failures == 0, solver.GetErrorString()
    rows = solver.GetSelectedOutputRowCount()
    last = [float(solver.GetSelectedOutputValue(r, 0)) for r in range(rows - CELLS, rows)]
    centres = (np.arange(CELLS) + 0.5) * LENGTH_M / CELLS
    return centres, 1e3 * np.array(last)


def by_us(ion, monkeypatch):
    """Return the package's profile with the switch open from the same halves."""
    usual = engine.Model.of

    def halves(cell):
        model = usual(cell)
        position_m = cell.geometry.position_m
        # a node at the seam holds half of each
        first = np.clip((LENGTH_M / 2 - position_m) / 1e-4 + 0.5, 0.0, 1.0)
        amounts = {
            "Na+": 1e3 * SODIUM * first,
            "K+": 1e3 * POTASSIUM * (1 - first),
            "Cl-": 1e3 * (SODIUM * first + POTASSIUM * (1 - first)),
        }
        totals = np.array(
            [amounts.get(name, np.zeros_like(first)) for name in model.speciation.solved]
        )
        return replace(model, start_totals=totals)

    monkeypatch.setattr(engine.Model, "of", halves)
    cell = fp.Cell({"NaCl": SODIUM, "KCl": POTASSIUM}, vessel="still column", gap_cm=1.0)
    run = cell.run(stages=[fp.Stage(SECONDS / 60, off=True)], samples=3)
    return run.position_m, run.concentration(ion)[-1]


@pytest.mark.parametrize(
    ("element", "ion", "half_mol_m3", "tolerance"),
    [("Na", "Na+", 100, 0.02), ("Cl", "Cl-", 100, 0.02), ("K", "K+", 20, 0.03)],
)
def test_ions_that_diffuse_into_each_other(element, ion, half_mol_m3, tolerance, monkeypatch):
    """Within 2 % of the stronger half; 3 % for potassium, which follows the other's activity there."""
    centres, theirs = by_phreeqc(element)
    position_m, ours = by_us(ion, monkeypatch)
    worst = np.abs(np.interp(centres, position_m, ours) - theirs).max()
    assert worst < tolerance * half_mol_m3


def test_a_profile_that_has_not_moved_fails(monkeypatch):
    centres, theirs = by_phreeqc("Na")
    still = np.where(centres < LENGTH_M / 2, 100.0, 0.0)
    with pytest.raises(AssertionError):
        assert np.abs(still - theirs).max() < 0.02 * 100
