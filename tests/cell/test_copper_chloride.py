"""Copper(I) in chloride: dissolved, white chloride, orange oxide."""

import numpy as np
import pytest
from fizzplate.cell.physics.copper_chloride import CopperInChloride

import fizzplate as fp

K, K_OXIDE = 0.065, 6.3e-10
EQUILIBRIA = CopperInChloride(K, K_OXIDE)
WATER = 1e-8  # mol2/m6


def split(copper, chloride, ln_hydrogen):
    arrays = (np.atleast_1d(np.asarray(value, dtype=float)) for value in (copper, chloride))
    return EQUILIBRIA.split(*arrays, WATER / np.exp(np.atleast_1d(ln_hydrogen)))


def test_a_little_stays_dissolved():
    held = split(1.0, 500.0, np.log(1.0))
    assert held.dissolved.value[0] == pytest.approx(1.0, rel=1e-6)
    assert held.free_chloride.value[0] == pytest.approx(498.0, rel=1e-6)


def test_beside_the_chloride_its_constant_holds():
    held = split(200.0, 500.0, np.log(1.0))
    assert held.oxide.value[0] < 0.1
    assert held.dissolved.value[0] == pytest.approx(K * held.free_chloride.value[0], rel=1e-2)


def test_beside_the_oxide_its_constant_holds():
    hydroxide = 1e-2
    held = split(20.0, 500.0, np.log(WATER / hydroxide))
    assert held.chloride.value[0] < 1e-3
    free = held.free_chloride.value[0]
    assert held.dissolved.value[0] * hydroxide == pytest.approx(K_OXIDE * free**2, rel=1e-2)


def test_matter_is_conserved_and_nothing_is_negative():
    random = np.random.default_rng(5)
    chloride = 10 ** random.uniform(-3, 3.3, 500)
    copper = chloride * random.uniform(0, 0.99, 500)
    held = split(copper, chloride, random.uniform(-25, 8, 500))
    parts = (held.dissolved.value, held.chloride.value, held.oxide.value)
    assert all((part >= -1e-12 * copper).all() for part in parts)
    assert held.free_chloride.value.min() > 0
    np.testing.assert_allclose(sum(parts), copper, rtol=1e-12)
    bound = 2 * parts[0] + parts[1] + held.free_chloride.value
    np.testing.assert_allclose(bound, chloride, rtol=1e-12)


@pytest.mark.parametrize("part", ["dissolved", "chloride", "oxide", "free_chloride"])
def test_slopes_are_those_of_finite_differences(part):
    random = np.random.default_rng(6)
    chloride = random.uniform(100, 1000, 200)
    copper = chloride * random.uniform(0.001, 0.9, 200)
    ln_hydrogen = random.uniform(-16, 2, 200)
    held = getattr(split(copper, chloride, ln_hydrogen), part)
    h = 1e-5
    for slope, shifts in (
        (held.by_ln_hydrogen, (0, 0, h)),
        (held.by_copper, (h, 0, 0)),
        (held.by_chloride, (0, h, 0)),
    ):
        d_copper, d_chloride, d_ln_hydrogen = shifts
        above = getattr(
            split(copper + d_copper, chloride + d_chloride, ln_hydrogen + d_ln_hydrogen), part
        )
        below = getattr(
            split(copper - d_copper, chloride - d_chloride, ln_hydrogen - d_ln_hydrogen), part
        )
        difference = (above.value - below.value) / (2 * h)
        np.testing.assert_allclose(slope, difference, rtol=1e-4, atol=1e-5 * chloride.max())


def test_a_copper_anode_in_brine_dissolves_largely_as_copper_one():
    run = fp.Cell("NaCl", anode="copper", lamp=fp.Lamp(6.0, 0.06)).run(minutes=10)
    assert run.anode.products[0] == "CuCl2-"
    assert float(run.anode.share("CuCl2-")[-1]) > 0.75
    white, orange = (float(run.haze_mol(solid)[-1]) for solid in ("CuCl", "Cu2O"))
    assert white > 1e-5
    assert orange > 1e-5
    where = run.concentration("CuCl2-")[-1]
    assert where[-1] > 10 * where[0]


def test_copper_two_chloride_still_gives_copper_with_a_little_copper_one():
    run = fp.Cell("CuCl2", lamp=fp.Lamp(6.0, 0.06)).run(minutes=5)
    assert run.cathode.products[0] == "Cu"
    assert 0.001 < float(run.cathode.share("CuCl2-")[-1]) < 0.05
