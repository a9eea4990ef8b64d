"""How liquid that is lighter or heavier at an electrode than away from it flows and thins the film.

Free convection at a vertical plate of the height ``L`` supplies as much as an unmixed layer ``L / Sh`` thick
with ``Sh = 0.67 (Sc Gr)^(1/4)`` (Wilke, Eisenberg and Tobias 1953), where ``Sc Gr = g d_rho L^3 / (rho nu
D)``. A mixing coefficient that grows with the fourth power of the distance ``x`` from the face,

    ``D_mix = e x^4,    e = (0.67 pi / 2^(3/2))^4 g d_rho / (rho nu L)``,

does exactly that for every diffusion coefficient ``D``, because the integral of ``dx / (D + e x^4)`` from the
face on is ``pi / 2^(3/2) (D / e)^(1/4)``. Next to the face nothing is mixed, so a layer that has only begun
to grow grows by diffusion. The film ends at its greatest thickness, where the liquid is never quite still.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data
from fizzplate.cell.physics.mixing import REFERENCE_DIFFUSION_M2_S
from fizzplate.chemistry.transport_properties import WATER_KG_M3, density_change_kg_mol

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.cell.physics.geometry import Geometry
    from fizzplate.chemistry.equilibria import ChemicalSystem

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    Places = np.ndarray[tuple[int, ...], np.dtype[np.int_]]

GRAVITY_M_S2 = 9.81


class FreeConvection:
    """Free convection at both electrodes of B vessels with the same nodes and film.

    Parameters
    ----------
    grids
        Geometries of N nodes.
    system
        What can be in the liquid, S species.
    film_factors
        By what the layers of each cell are thicker than the correlation says.
    """

    def __init__(
        self,
        grids: Sequence[Geometry],
        system: ChemicalSystem,
        film_factors: Sequence[float] = (1.0,),
    ) -> None:
        film_m = grids[0].film_m
        self.flows = film_m > 0
        self._density_kg_mol = density_change_kg_mol(system)
        position_m = grids[0].position_m
        edge = int(np.abs(position_m - film_m).argmin())
        #: nodes at the face and at the film's edge, of electrode 0 and then of 1
        self._nodes = np.array([0, -1, edge, -1 - edge])
        number, viscosity_m2_s = (
            data.find("model", quantity=name).value
            for name in ("free convection", "viscosity of water")
        )
        factor = (number * math.pi / 2**1.5) ** 4 * GRAVITY_M_S2 / viscosity_m2_s
        #: e for each kg/m3, 1/(m2 s), (B,)
        self._strength = np.array(
            [factor / (WATER_KG_M3 * grid.height_m) if self.flows else 0.0 for grid in grids]
        ) / np.power(film_factors, 4)
        #: e at electrode 0 and 1, 1/(m2 s), (B, 2)
        self._now = np.zeros((len(grids), 2))
        self._steps_m, self._x4_m4 = _film_steps(position_m, edge)

    def keep(self, members: Places) -> None:
        """Keep only these cells."""
        self._strength, self._now = self._strength[members], self._now[members]

    def follow(
        self, system_mol_m3: Array, members: Places | slice, part: float
    ) -> tuple[Array, Array]:
        """Return how the liquid of some cells mixes its films now.

        Parameters
        ----------
        system_mol_m3
            Its composition, (S, cells, N).
        members
            Which cells.
        part
            How much of what changed since the last time is taken.

        Returns
        -------
        mixing_m2_s
            Mixing coefficient at the faces between nodes, (cells, N - 1), m2/s.
        still_m
            The unmixed layer at electrode 0 and 1 that supplies as much, for the reference diffusion
            coefficient, (cells, 2), m.
        """
        at_nodes = system_mol_m3[:, :, self._nodes]
        density = np.tensordot(self._density_kg_mol, at_nodes, axes=1)
        difference = np.abs(density[:, :2] - density[:, 2:])
        wanted = self._strength[members, None] * difference
        strength = self._now[members] + part * (wanted - self._now[members])
        self._now[members] = strength
        mixing = strength[:, :, None] * self._x4_m4
        still = (self._steps_m / (1 + mixing / REFERENCE_DIFFUSION_M2_S)).sum(axis=2)
        return mixing.sum(axis=1), still


def _film_steps(position_m: Array, edge: int) -> tuple[Array, Array]:
    """Return the steps within the film at electrode 0 and 1 and their mean of x^4, (2, N - 1) each."""
    steps = np.zeros((2, position_m.size - 1))
    x4 = np.zeros_like(steps)
    x = position_m[: edge + 1]
    steps[0, :edge] = np.diff(x)
    x4[0, :edge] = np.diff(x**5) / (5 * np.diff(x))
    # both films are alike
    steps[1], x4[1] = steps[0, ::-1], x4[0, ::-1]
    return steps, x4
