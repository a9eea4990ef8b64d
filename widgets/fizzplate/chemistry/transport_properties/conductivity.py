"""Conductivity of a solution."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from fizzplate.chemistry.constants import FARADAY_C_MOL, GAS_J_MOL_K
from fizzplate.chemistry.transport_properties.ion_pairs import hydrogensulfate_constant_mol_m3
from fizzplate.chemistry.transport_properties.mobility import REFERENCE_K, Mobilities

if TYPE_CHECKING:
    from collections.abc import Mapping

__all__ = ["conductivity_S_m", "hydrogensulfate_constant_mol_m3"]


def conductivity_S_m(ions_mol_m3: Mapping[str, float], temperature_K: float = REFERENCE_K) -> float:
    """Return the conductivity of a solution of these ions, S/m.

    Parameters
    ----------
    ions_mol_m3
        Total concentration of each ion, mol/m3; ion pairs are computed here.
    temperature_K
        Temperature.

    Examples
    --------
    >>> round(conductivity_S_m({"Na+": 100.0, "Cl-": 100.0}), 2)
    1.07
    """
    mobilities = Mobilities(tuple(ions_mol_m3), temperature_K)
    concentration = np.array([[value] for value in ions_mol_m3.values()])
    migration, _ = mobilities.evaluate(concentration)
    conduction = (mobilities.charge[:, None] ** 2 * migration * concentration).sum()
    return float(FARADAY_C_MOL**2 / (GAS_J_MOL_K * temperature_K) * conduction)
