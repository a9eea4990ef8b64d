"""The species at a node follow from its totals alone, wherever the search for them starts."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fizzplate.cell.physics.speciation import Speciation
from fizzplate.cell.physics.species import ACID

amount = st.floats(1e-6, 2000.0)
guess = st.floats(-30.0, 8.0)


def speciation(*ions):
    return Speciation(ions, hydrogensulfate_constant_mol_m3=40.0)


@given(metal=amount, sulfate=amount, start=guess, other=guess)
def test_copper_that_partly_precipitates_has_one_answer(metal, sulfate, start, other):
    model = speciation("Cu2+", "SO4^2-")
    # electroneutral with any metal in excess held as hydroxide
    totals = {"Cu2+": metal, "SO4^2-": sulfate, ACID: 2 * (sulfate - metal)}
    solved = np.array([[totals[name]] for name in model.solved])
    first = model.speciate(solved, np.array([start]))
    second = model.speciate(solved, np.array([other]))
    assert first.ln_hydrogen == pytest.approx(second.ln_hydrogen, abs=1e-6)
    charge = model.charge @ first.concentration_mol_m3
    assert abs(charge[0]) < 1e-9 * (metal + sulfate)
    held = first.concentration_mol_m3[model.at["Cu2+"], 0] + first.precipitate_mol_m3[0, 0]
    assert held == pytest.approx(metal, rel=1e-9)


@given(oxidised=amount, acid=st.floats(-500.0, 500.0), start=guess)
def test_chlorine_in_acid_or_alkali_keeps_its_equilibria(oxidised, acid, start):
    model = speciation("Na+", "Cl-")
    totals = {"Cl-": 3000.0, "oxidised chlorine": oxidised, ACID: acid}
    solved = np.array([[totals[name]] for name in model.solved])
    made = model.speciate(solved, np.array([start])).concentration_mol_m3[:, 0]
    c = dict(zip(model.species, made, strict=True))
    assert c["Cl2"] + c["HClO"] + c["ClO-"] == pytest.approx(oxidised, rel=1e-9)
    hydrolysis = c["HClO"] * c["H+"] * c["Cl-"]
    assert hydrolysis == pytest.approx(model.chlorine * c["Cl2"], rel=1e-6)
    assert c["ClO-"] * c["H+"] == pytest.approx(model.hypochlorous_acid * c["HClO"], rel=1e-6)


@pytest.mark.parametrize(
    "ions",
    [
        ("Na+", "Cl-"),
        ("Na+", "SO4^2-"),
        ("Cu2+", "SO4^2-"),
        ("Na+", "Cu2+", "Cl-"),
        ("Na+", "I-"),
        ("K+", "Br-", "NO3-"),
        ("Na+", "Zn2+", "SO4^2-"),
        ("Ag+", "NO3-"),
    ],
    ids=" ".join,
)
def test_species_answer_to_the_totals_as_finite_differences_say(ions):
    """The slopes lead Newton's method, in which a wrong one would only cost time."""
    model, random = speciation(*ions), np.random.default_rng(5)
    drawn = 10 ** random.uniform(0, 3, (len(model.solved), 400))
    drawn[list(model.solved).index(ACID)] = random.uniform(-300, 300, 400)
    whole = model.all_totals(drawn)
    is_amount = [name != ACID for name in model.totals]
    solved = drawn[:, (whole[is_amount] > 1).all(axis=0)]
    assert solved.shape[1] > 40
    begin = np.full(solved.shape[1], -10.0)
    made = model.speciate(solved, begin)
    for total, name in enumerate(model.solved):
        step = 1e-3 * np.eye(len(model.solved))[:, total, None]
        above, below = (model.speciate(solved + s, made.ln_hydrogen) for s in (step, -step))
        for slope, high, low in (
            (made.carried_slope[:, total], above.carried_mol_m3, below.carried_mol_m3),
            (made.ln_hydrogen_slope[None, total], above.ln_hydrogen, below.ln_hydrogen),
        ):
            difference = (high - low) / (2 * step.max())
            close = np.isclose(slope, difference, rtol=1e-3, atol=1e-4 * (1 + abs(slope).max()))
            assert close.mean() > 0.98, (name, slope[~close][:3], difference[~close][:3])
