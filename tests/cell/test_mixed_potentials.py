"""Two equal electrodes at hardly any voltage drive hardly any current, whatever their metal's ions are."""

from __future__ import annotations

import numpy as np
import pytest

import fizzplate as fp
from fizzplate.cell.physics.butler_volmer import Kinetics
from fizzplate.cell.residual_current import liquid_resistance_ohm
from fizzplate.cell.solver.model import Model

LAMP = fp.Lamp(6.0, 0.06)
METALS = ("zinc", "iron", "nickel", "copper", "silver")
SALTS = ("CuSO4", "ZnSO4", "AgNO3", "H2SO4", "HCl", "FeSO4", "CuCl2", "NaCl", "KI")


def alike(metal, solution, **options):
    return fp.Cell(solution, anode=metal, cathode=metal, **options)


@pytest.mark.parametrize("solution", SALTS)
@pytest.mark.parametrize("metal", METALS)
def test_a_millivolt_drives_no_more_than_the_liquid_lets_pass(metal, solution):
    cell = alike(metal, solution, supply_V=0.001)
    run = cell.run(minutes=5, samples=2)
    assert run.current_A[-1] < 0.0011 / liquid_resistance_ohm(run)


def test_zinc_in_copper_sulfate_sits_between_both_potentials():
    """Zinc dissolves and copper plates at one potential; both electrodes have it."""
    run = alike("zinc", "CuSO4", supply_V=0.001).run(minutes=0.5, samples=2)
    assert -0.72 < run.anode.potential_V[0] < -0.4
    assert run.anode.potential_V[0] - run.cathode.potential_V[0] < 0.001


def test_a_cathode_that_is_plated_soon_has_the_potential_of_its_coat():
    """Iron in copper(II) sulfate: lower than a copper rod at first, the same within three minutes."""
    copper, iron = (
        fp.Cell("CuSO4", cathode=rod, anode="copper", lamp=LAMP).run(minutes=5, samples=11)
        for rod in ("copper", "iron")
    )
    assert iron.cathode.potential_V[0] < copper.cathode.potential_V[0] - 0.1
    assert iron.cathode.potential_V[-1] == pytest.approx(copper.cathode.potential_V[-1], abs=0.01)
    assert iron.current_A[-1] == pytest.approx(copper.current_A[-1], rel=0.01)


def test_where_nothing_corrodes_nothing_opposes():
    for metal, solution in (("copper", "CuSO4"), ("silver", "AgNO3"), ("platinum", "CuCl2")):
        model = Model.of(alike(metal, solution))
        assert not model.electrode("anode", metal).opposing
        assert not model.electrode("cathode", metal).opposing


def test_a_film_that_keeps_a_metal_passive_keeps_it_from_corroding():
    model = Model.of(alike("iron", "NaOH"))
    assert not model.electrode("cathode", "iron").opposing


def test_slopes_are_right_where_a_metal_corrodes():
    model = Model.of(alike("zinc", "CuSO4"))
    electrodes = (model.electrode("cathode", "zinc"), model.electrode("anode", "zinc"))
    names = model.speciation.carried
    kinetics = Kinetics(electrodes, len(names), [{}], 298.15)
    assert kinetics.opposing is not None
    c = np.full((1, 2, len(names)), 1e-3)
    c[..., names.index("Cu2+")] = 100.0
    c[..., names.index("SO4^2-")] = 100.0
    E, ln_density = np.array([[-0.56, -0.55]]), np.log(np.array([[50.0, 50.0]]))
    found = kinetics.rates(E, c, ln_density)
    by_E = (
        kinetics.rates(E + 1e-6, c, ln_density).miss - kinetics.rates(E - 1e-6, c, ln_density).miss
    ) / 2e-6
    assert found.miss_by_E == pytest.approx(by_E, rel=1e-4)
    for side in (0, 1):
        k = names.index("Cu2+")
        step = np.zeros_like(c)
        step[:, side, k] = 1e-4
        after, before = (kinetics.rates(E, c + s * step, ln_density).miss for s in (1, -1))
        assert found.miss_by_c[0, side, k] == pytest.approx(
            (after - before)[0, side] / 2e-4, rel=1e-4
        )
    by_ln = (
        kinetics.rates(E, c, ln_density + 1e-5).miss - kinetics.rates(E, c, ln_density - 1e-5).miss
    ) / 2e-5
    assert found.miss_by_ln_density == pytest.approx(by_ln, rel=1e-4)
