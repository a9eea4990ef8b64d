"""How much heavier dissolved species make water: by their molar mass and the volume that they take.

One mole that displaces the volume ``V`` makes one cubic metre heavier by ``M - rho V``, with the density
``rho`` of water: the volumes at infinite dilution add up, which is right to 5 % at 0.5 mol/dm3, to 12 % in
sulfates of metals, whose ions pair. A complex or pair without a row of its own is as heavy as its parts, less
water that it sets free.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data
from fizzplate.chemistry.formula import molar_mass_g_mol

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fizzplate.chemistry.equilibria import ChemicalSystem

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

WATER_KG_M3 = 997.05  # 25 °C


@cache
def _of_rows() -> Mapping[str, float]:
    return {
        row["species"]: 1e-3 * molar_mass_g_mol(row["species"]) - 1e-6 * WATER_KG_M3 * row.value
        for row in data.rows("volumes")
    }


def density_change_kg_mol(system: ChemicalSystem) -> Array:
    """Return what a mole of each species of a system adds to the mass of a volume of liquid, kg/mol, (S,).

    Multiplied by concentrations in mol/m3 it gives the difference from the density of water, kg/m3.

    Examples
    --------
    >>> from fizzplate.chemistry.equilibria import ChemicalSystem
    >>> system = ChemicalSystem.of(["Na+", "Cl-"])
    >>> change = density_change_kg_mol(system)
    >>> at = {member.formula: k for k, member in enumerate(system.species)}
    >>> float(round(change[at["Na+"]] + change[at["Cl-"]], 4))
    0.042
    """
    known = _of_rows()
    # an ion without a row counts with its mass alone
    own = {name: known.get(name, 1e-3 * molar_mass_g_mol(name)) for name in system.components}
    return np.array(
        [
            known.get(
                member.formula, sum(amount * own[name] for name, amount in member.parts.items())
            )
            for member in system.species
        ]
    )
