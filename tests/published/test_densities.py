"""How much heavier ions make water: against PHREEQC's molar volumes, and densities of solutions."""

from __future__ import annotations

import phreeqc
import pytest
from tests.published.databases import DATABASES, as_phreeqc_writes

from fizzplate import data
from fizzplate.chemistry.equilibria import ChemicalSystem
from fizzplate.chemistry.transport_properties import density_change_kg_mol

COMPUTED = [row for row in data.rows("volumes") if row.source == "phreeqc"]
# kg/m3 above water at 20 to 25 degrees, 0.5 mol/dm3: CRC Handbook, from memory
HEAVIER = {
    ("Na+", "Cl-"): 20.5,
    ("Cu2+", "SO4^2-"): 78.0,
    ("Zn2+", "SO4^2-"): 79.0,
    ("K+", "I-"): 60.0,
    ("Ag+", "NO3-"): 69.0,
    ("Na+", "OH-"): 22.0,
    ("K+", "NO3-"): 31.0,
}


@pytest.fixture(scope="module")
def volumes_cm3_mol():
    """Give the volumes that PHREEQC works out from phreeqc.dat in next to pure water at 25 °C."""
    engine = phreeqc.Phreeqc()
    assert not engine.LoadDatabase(str(DATABASES / "phreeqc.dat"))
    names = [row["species"] for row in COMPUTED]
    written = [as_phreeqc_writes(name) for name in names]
    totals = ("Na", "K", "Mg", "Ca", "Cu", "Zn", "Fe", "Pb", "Cl", "Br", "F", "N(5)", "S(6)")
    lines = ["SOLUTION 1", "-units mmol/kgw", "pH 7", *(f"{name} 1e-4" for name in totals)]
    lines += ["SELECTED_OUTPUT", "-reset false", "USER_PUNCH"]
    lines += ["-headings " + " ".join(f"v{k}" for k in range(len(names)))]
    lines += ["10 PUNCH " + ", ".join(f'VM("{each}")' for each in written), "END"]
    assert not engine.RunString("\n".join(lines)), engine.GetErrorString()
    last = engine.GetSelectedOutputRowCount() - 1
    return {name: engine.GetSelectedOutputValue(last, k) for k, name in enumerate(names)}


@pytest.mark.parametrize("row", COMPUTED, ids=lambda row: row["species"])
def test_volumes_are_those_of_phreeqc(row, volumes_cm3_mol):
    assert volumes_cm3_mol[row["species"]] != 0
    assert row.value == pytest.approx(volumes_cm3_mol[row["species"]], abs=0.1)


@pytest.mark.parametrize("ions", HEAVIER, ids=" ".join)
def test_half_a_mole_makes_water_as_heavy_as_a_handbook_says(ions):
    system = ChemicalSystem.of([ion for ion in ions if ion != "OH-"])
    change = dict(
        zip([each.formula for each in system.species], density_change_kg_mol(system), strict=True)
    )
    heavier = 500 * sum(change[ion] for ion in ions)
    # ions that pair take more room than the table says
    assert heavier == pytest.approx(HEAVIER[ions], rel=0.12 if "SO4^2-" in ions else 0.05)


def test_a_pair_is_as_heavy_as_its_ions():
    system = ChemicalSystem.of(["Cu2+", "SO4^2-"])
    names = [each.formula for each in system.species]
    change = dict(zip(names, density_change_kg_mol(system), strict=True))
    assert change["CuSO4"] == pytest.approx(change["Cu2+"] + change["SO4^2-"])
