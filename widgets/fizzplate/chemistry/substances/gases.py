"""Gases: how much room they take, and how much of them water holds."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data
from fizzplate.chemistry.constants import GAS_J_MOL_K, STANDARD_PRESSURE_KPA, ZERO_CELSIUS_K
from fizzplate.chemistry.substances.water import vapour_pressure_kPa

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]


#: every gas that can leave a cell: those with a Henry constant
GASES = tuple(row["species"] for row in data.rows("gases") if row["quantity"] == "Henry constant")


def gas_volume_cm3(
    moles: ArrayLike,
    *,
    temperature_C: float = 25.0,
    pressure_kPa: float = STANDARD_PRESSURE_KPA,
    over_water: bool = False,
) -> Array:
    """Return the volume of an ideal gas, cm3: ``V = n R T / p``.

    Over water its own pressure is the room's less the vapour pressure of water.

    Examples
    --------
    >>> round(float(gas_volume_cm3(1.0)))
    24465
    """
    own_kPa = pressure_kPa - (vapour_pressure_kPa(temperature_C) if over_water else 0.0)
    per_mole = GAS_J_MOL_K * (temperature_C + ZERO_CELSIUS_K) / (own_kPa * 1e3) * 1e6
    return np.asarray(moles, dtype=np.float64) * per_mole


def saturation_mol_m3(substance: str, *, pressure_kPa: float = STANDARD_PRESSURE_KPA) -> float:
    """Return the largest concentration of a substance's molecules in water, mol/m3, at 25 °C.

    Of a gas beneath its own at the pressure given: Henry's law, with one kilogram of water taken as
    one cubic decimetre (within 0.3 %). Of bromine and iodine in water saturated with them.

    Examples
    --------
    >>> round(saturation_mol_m3("O2"), 2), saturation_mol_m3("I2")
    (1.26, 1.33)
    """
    row = next(row for row in data.rows("gases") if row["species"] == substance)
    if row["quantity"] == "saturation":
        return row.value
    return row.value * 1e3 * pressure_kPa / STANDARD_PRESSURE_KPA
