"""Conductivity of a solution."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from fizzplate.chemistry.constants import FARADAY_C_MOL, GAS_J_MOL_K
from fizzplate.chemistry.equilibria import ChemicalSystem, dissolve
from fizzplate.chemistry.transport_properties.mobility import REFERENCE_K, Mobilities

if TYPE_CHECKING:
    from collections.abc import Mapping


def conductivity_S_m(ions_mol_m3: Mapping[str, float], temperature_K: float = REFERENCE_K) -> float:
    """Return the conductivity of a solution of these ions, S/m.

    Parameters
    ----------
    ions_mol_m3
        Total concentration of each ion, mol/m3; pairs and complexes are computed here.
    temperature_K
        Temperature.

    Examples
    --------
    >>> round(conductivity_S_m({"Na+": 100.0, "Cl-": 100.0}), 2)
    1.07
    """
    system = ChemicalSystem.of(ions_mol_m3, oxidised=False)
    species = dissolve(system, ions_mol_m3)
    names = [member.formula for member in system.species]
    mobilities = Mobilities(system, names, np.eye(len(names)), temperature_K)
    migration, _ = mobilities.evaluate(species[:, None])
    charge = np.array([float(member.charge) for member in system.species])
    conduction = (charge**2 * migration[:, 0] * species).sum()
    return float(FARADAY_C_MOL**2 / (GAS_J_MOL_K * temperature_K) * conduction)
