"""Vapour pressure and solubility of gases against published values."""

from __future__ import annotations

import chemicals
import pytest
from tests.published.databases import log_K

from fizzplate.chemistry.substances.gases import gas_volume_cm3, saturation_mol_m3
from fizzplate.chemistry.substances.water import vapour_pressure_kPa


@pytest.mark.parametrize(("celsius", "printed_Pa"), [(20, 2339.0), (25, 3170.0)])
def test_vapour_pressure_of_water(celsius, printed_Pa):
    """IAPWS-95, as given by the package chemicals."""
    assert 1e3 * vapour_pressure_kPa(celsius) == pytest.approx(printed_Pa, rel=2e-3)
    assert chemicals.iapws.iapws95_Psat(273.15 + celsius) == pytest.approx(printed_Pa, rel=1e-3)


@pytest.mark.parametrize(("gas", "equation"), [("O2", "O2 = O2"), ("H2", "H2 = H2")])
def test_saturation(gas, equation):
    """At one atmosphere the Henry constant of phreeqc.dat (USGS), in mol/kg, for a kilogram a litre."""
    assert saturation_mol_m3(gas) == pytest.approx(
        1e3 * 10 ** log_K("phreeqc.dat", equation), rel=2e-3
    )


def test_molar_volume():
    """24.465 dm3 at 25 °C and one atmosphere: the ideal gas law with R of CODATA 2018 (computed)."""
    assert float(gas_volume_cm3(1.0)) == pytest.approx(24465, rel=1e-4)


def test_a_dry_volume_taken_for_a_wet_one_fails():
    with pytest.raises(AssertionError):
        assert float(gas_volume_cm3(1.0, over_water=True)) == pytest.approx(24465, rel=5e-3)
