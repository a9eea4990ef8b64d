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
