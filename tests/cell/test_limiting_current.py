"""Beyond its limiting current copper still plates, as a dark sponge, while hydrogen forms beside it."""

from __future__ import annotations

import numpy as np
import pytest

import fizzplate as fp

BESIDE_V = {"anode": "platinum", "cathode": "copper"}


@pytest.mark.parametrize(
    ("solution", "current_A"),
    [({"CuSO4": 0.1}, 0.5), ({"CuSO4": 0.1, "Na2SO4": 0.5}, 0.3), ({"Cu(NO3)2": 0.1}, 0.3)],
)
def test_copper_goes_on_plating_beside_the_hydrogen(solution, current_A):
    """Alkali from the hydrogen turns copper ions into a haze; what of it reaches the metal is reduced."""
    run = fp.Cell(solution, current_A=current_A, **BESIDE_V).run(minutes=5, samples=6)
    assert run.cathode.share("Cu")[-1] > 0.15
    assert run.cathode.share("H2")[-1] > 0.15
    assert float(run.haze_mol("Cu(OH)2")[-1]) > 1e-6
    assert any("dark and spongy" in each for each in run.warnings)


def test_what_of_a_haze_is_reduced_is_no_longer_in_the_liquid():
    run = fp.Cell({"CuSO4": 0.1, "Na2SO4": 0.5}, current_A=0.3, **BESIDE_V).run(
        minutes=5, samples=6
    )
    inside = run.amount_mol("Cu2+") + run.haze_mol("Cu(OH)2")
    plated_mol = run.cathode.mass_g("Cu") / 63.546
    assert inside + plated_mol == pytest.approx(np.full(6, inside[0]), rel=1e-6)
    assert plated_mol[-1] > 5e-5


def test_with_no_hydrogen_nothing_is_reduced_but_ions():
    run = fp.Cell("CuSO4", lamp=fp.Lamp(6.0, 0.06)).run(minutes=5, samples=6)
    assert run.cathode.share("Cu")[-1] > 0.999
    assert not any("spongy" in each for each in run.warnings)
