"""What forms on an electrode that a product covers within seconds."""

from __future__ import annotations

import pytest

from fizzplate import Cell, Lamp


@pytest.mark.parametrize("material", ["graphite", "platinum"])
def test_on_the_oxide_that_covers_an_anode_lead_nitrate_gives_little_oxygen(material):
    """Common practice: a brown layer and hardly a bubble, while lead(II) ions last."""
    cell = Cell("Pb(NO3)2", anode=material, cathode=material, lamp=Lamp(6.0, 0.06))
    anode = cell.run(minutes=5, samples=3).anode
    whole = sum(float(anode.charge_C(product)[-1]) for product in anode.products)
    assert float(anode.charge_C("PbO2")[-1]) > 0.9 * whole


def test_covered_carbon_does_not_burn():
    assert "CO2" in Cell("Na2SO4").run(minutes=1, samples=3).anode.products
    assert "CO2" not in Cell("Pb(NO3)2").run(minutes=1, samples=3).anode.products


@pytest.mark.parametrize(
    ("strength", "current_A"), [(0.1, 0.01), (0.5, 0.05), (0.5, 0.3), (1.0, 0.3)]
)
def test_lead_oxide_takes_most_of_the_current_at_any_strength_until_supply_limits_it(
    strength, current_A
):
    cell = Cell("Pb(NO3)2", concentration_mol_dm3=strength, anode="platinum", current_A=current_A)
    anode = cell.run(minutes=5, samples=6).anode
    assert anode.share("PbO2").min() > 0.9
    assert (
        1.5 < anode.potential_V[-1] < 2.0
    )  # baths at larger current densities 1.6 to 1.8 V (remembered)
