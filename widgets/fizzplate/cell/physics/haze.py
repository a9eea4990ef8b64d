"""How solids that cloud the liquid move: they spread, make room for each other, and settle.

In free liquid convection carries particles off the face where they form, as a small spreading coefficient
beside the mixing does, and they sink to the bottom: ``ds/dt = -(v / depth) s``. Fibres of a paper strip
hold them. Anywhere, particles that fill the share ``phi`` of the liquid push each other aside: they spread by
``D phi^4`` besides.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data
from fizzplate.chemistry import molar_mass_g_mol

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.cell.physics.geometry import Geometry

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

POWER = 4


def molar_volume_m3(solid: str) -> float:
    """Return the volume of a mole of a pure solid, m3.

    Examples
    --------
    >>> round(1e6 * molar_volume_m3("CuCl"), 1)
    24.1
    """
    return 1e-6 * molar_mass_g_mol(solid) / data.find("densities", solid=solid).value


def spreading_m2_s(grids: Sequence[Geometry]) -> Array:
    """Return by how much particles spread in the liquid of each vessel, besides its mixing, (B,)."""
    spreading = data.find("model", quantity="haze spreading").value
    return np.array([spreading if np.isfinite(grid.depth_m) else 0.0 for grid in grids])


def settling_per_s(grids: Sequence[Geometry]) -> Array:
    """Return which share of the particles reaches the bottom of each vessel in a second, (B,)."""
    speed_m_s = 1e-3 * data.find("model", quantity="haze settling").value
    return np.array([speed_m_s / grid.depth_m for grid in grids])


class Crowding:
    """Particles that make room for each other.

    Parameters
    ----------
    solids
        Formulae.
    """

    def __init__(self, solids: Sequence[str]) -> None:
        #: of each solid, m3/mol, (1, solids)
        self.molar_volume_m3 = np.array([[molar_volume_m3(solid) for solid in solids]])
        self._largest_m2_s = data.find("model", quantity="haze crowding").value

    def filled(self, values: Array) -> Array:
        """Return the share of the volume that solids take, (B, N), or its derivatives, (M, B, N).

        ``values`` are mol/m3, (solids, B, N), or their derivatives, (solids, M, B, N).
        """
        flat = self.molar_volume_m3 @ values.reshape(len(values), -1)
        return np.asarray(flat.reshape(values.shape[1:]))

    def spread_m2_s(self, filled: Array) -> tuple[Array, Array]:
        """Return the coefficient at the faces and its derivative by the share at either node, (B, N - 1)."""
        face = np.maximum(0.5 * (filled[..., :-1] + filled[..., 1:]), 0.0)
        cubed = self._largest_m2_s * face ** (POWER - 1)
        return cubed * face, 0.5 * POWER * cubed
