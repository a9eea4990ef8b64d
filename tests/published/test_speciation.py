"""Equilibria of random mixtures against PHREEQC (USGS), given the same constants and activity law."""

import pytest
from tests.published.speciation_by_phreeqc import MIXTURES, compare


@pytest.mark.parametrize("ions", MIXTURES, ids=" ".join)
def test_species_and_solids_are_those_of_phreeqc(ions):
    """Species above a hundredth of their total within 0.1 %, pH within 0.01, the same solids."""
    for difference in compare(ions, 4, seed=3):
        assert difference.relative < 1e-3, difference
        assert difference.pH < 0.01
        assert difference.same_solids, difference


def test_a_tenth_more_of_one_constant_fails(monkeypatch):
    monkeypatch.setattr("fizzplate.chemistry.equilibria.activity.LN_10", 1.02 * 2.302585093)
    assert max(each.relative for each in compare(("Zn2+", "SO4^2-"), 2, seed=3)) > 1e-2
