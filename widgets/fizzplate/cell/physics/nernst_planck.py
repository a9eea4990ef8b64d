"""The Nernst-Planck equation between neighbouring nodes: diffusion, migration and mixing of every species.

``J = -D dc/dx - z u c dphi/dx`` in a liquid; here, at every face between two nodes, each species flows as

``J = -G [E Q(p) (c2 - c1) + z M u (c1 + c2) / 2]``  (mol/s)

with the conductance ``G`` (area over length, m), the diffusion and mixing coefficient ``E`` and the
migration coefficient ``M`` (both m2/s, corrected separately), the potential step ``u`` in units of RT/F,
``p = z M u / E`` and ``Q = (1 + (p/2)^4)^(1/4)``: central where p is small, upwind where it is
large. The current through every face is the same and fixes ``u``: one Newton update an iteration,
eliminated on the spot.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell.physics.haze import Crowding, spreading_m2_s

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.cell.physics.geometry import Geometry
    from fizzplate.cell.physics.speciation import Speciation
    from fizzplate.cell.physics.species import SpeciesProfile

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    Places = np.ndarray[tuple[int, ...], np.dtype[np.int_]]

MIN_SPREAD_M2_S = 1e-15  # stands for zero in a divisor
FILLED = 1e-4  # of the volume: particles that take less do not crowd
ALL_CELLS = slice(None)


@dataclass(frozen=True, slots=True)
class Flows:
    """Flows of the M solved totals through the N - 1 faces of B cells, with ``u`` eliminated.

    Parameters
    ----------
    totals
        Flow towards electrode 1, (M, B, N - 1), mol/s.
    by_before, by_after
        Derivatives by the solved totals on either side, (M, M, B, N - 1), m3/s.
    by_ln_current
        Derivative by the logarithm of the current, (M, B, N - 1), mol/s.
    u_change
        What ``u`` changes by at fixed concentrations and current, (B, N - 1).
    u_by_ln_current, u_by_before, u_by_after
        How ``u`` answers, (B, N - 1), (M, B, N - 1), (M, B, N - 1).
    by_mixing, u_by_mixing
        Derivatives by the extra mixing in the film at electrode 0 and 1, (2, M, B, N - 1) in mol/m2
        and (2, B, N - 1) in s/m2.
    """

    totals: Array
    by_before: Array
    by_after: Array
    by_ln_current: Array
    u_change: Array
    u_by_ln_current: Array
    u_by_before: Array
    u_by_after: Array
    by_mixing: Array
    u_by_mixing: Array


class FlowModel:
    """Flows in B vessels with the same number of nodes; coefficients are updated once a step.

    Parameters
    ----------
    grids, model
        Geometries and speciation.
    """

    def __init__(self, grids: Sequence[Geometry], model: Speciation) -> None:
        self._conductance = -np.array([grid.conductance_m for grid in grids])
        self._vessel_mixing = np.array([grid.mixing_m2_s for grid in grids])
        self._mixing = self._vessel_mixing.copy()
        self._in_film = np.array([_in_film(grid) for grid in grids]).swapaxes(0, 1)
        self._charge = model.charge[:, None, None]
        solids = len(model.carried) - len(model.species)
        parts = np.array([model.solved_parts(name) for name in model.carried]).T
        # what one mole of each carries of each solved total, and in the last row its charge
        self._carried = np.vstack([parts, np.append(model.charge, np.zeros(solids))])
        self._species = len(model.species)
        self._spread = np.tile(self._mixing, (len(model.carried), 1, 1))
        # the field does not move a haze, which goes with the liquid
        self._hazes_spread = spreading_m2_s(grids)[:, None]
        self._crowding = Crowding(model.solids)
        self._drift = np.zeros_like(self._spread)

    def keep(self, members: Places) -> None:
        """Keep only these cells."""
        self._conductance = self._conductance[members]
        self._vessel_mixing = self._vessel_mixing[members]
        self._mixing = self._mixing[members]
        self._hazes_spread = self._hazes_spread[members]
        self._in_film = self._in_film[:, members]
        self._spread = self._spread[:, members]
        self._drift = self._drift[:, members]

    def set_convection(self, mixing_m2_s: Array, members: Places | slice = ALL_CELLS) -> None:
        """Take over what free convection mixes at the faces of some cells, (cells, N - 1), m2/s.

        It holds from when their coefficients are next set.
        """
        self._mixing[members] = self._vessel_mixing[members] + mixing_m2_s

    def set_coefficients(
        self, migration_m2_s: Array, diffusion_m2_s: Array, members: Places | slice = ALL_CELLS
    ) -> None:
        """Take coefficients at the nodes of some cells, (species, cells, N) each, m2/s, to the faces."""
        face = 0.5 * (diffusion_m2_s[..., :-1] + diffusion_m2_s[..., 1:])
        self._spread[: self._species, members] = face + self._mixing[members]
        self._spread[self._species :, members] = self._mixing[members] + self._hazes_spread[members]
        mean = 0.5 * (migration_m2_s[..., :-1] + migration_m2_s[..., 1:])
        self._drift[: self._species, members] = self._charge * mean

    def _stirred(self, mixing_m2_s: Array) -> Array:
        """Return the extra mixing (B, 2) at the faces in the films, (B, N - 1)."""
        return np.asarray((self._in_film * mixing_m2_s.T[:, :, None]).sum(0))

    def _carry(self, values: Array) -> Array:
        """Add up over the carried what each brings of the totals and of charge: first axis to M + 1."""
        return (self._carried @ values.reshape(len(values), -1)).reshape(-1, *values.shape[1:])

    def steps_carrying(
        self, concentration_mol_m3: Array, current_mol_s: Array, mixing_m2_s: Array
    ) -> Array:
        """Return the steps ``u`` (B, N - 1) that carry a current through a composition, central form."""
        before, after = concentration_mol_m3[..., :-1], concentration_mol_m3[..., 1:]
        drift = self._drift[: self._species]
        conductance = (self._charge * drift * (before + after)).sum(0) / 2
        spread = self._spread[: self._species] + self._stirred(mixing_m2_s)
        diffusion = (self._charge * spread * (after - before)).sum(0)
        wanted = current_mol_s[:, None] / self._conductance
        return np.asarray((wanted - diffusion) / conductance)

    def flows(
        self, speciated: SpeciesProfile, u: Array, current_mol_s: Array, mixing_m2_s: Array
    ) -> Flows:
        """Return all flows at the steps ``u``.

        Parameters
        ----------
        speciated
            The liquids.
        u
            Potential steps, (B, N - 1).
        current_mol_s
            Charge that flows to electrode 1, mol/s, (B,).
        mixing_m2_s
            Extra mixing in the film at electrode 0 and 1, (B, 2).
        """
        c, slope = speciated.carried_mol_m3, speciated.carried_slope
        m = slope.shape[1]
        current = current_mol_s[:, None]
        difference, mean = c[..., 1:] - c[..., :-1], 0.5 * (c[..., 1:] + c[..., :-1])
        migration = self._drift * u
        still = self._spread + self._stirred(mixing_m2_s)
        half = 0.5 * migration / np.maximum(still, MIN_SPREAD_M2_S)  # p / 2
        square = half * half
        q2 = np.sqrt(1 + square * square)
        q = np.sqrt(q2)
        spread = still * q
        flow = self._conductance * (spread * difference + migration * mean)
        q_by_p = 0.5 * square * half / (q2 * q)
        by_u = self._conductance * self._drift * (q_by_p * difference + mean)
        half_migration = 0.5 * migration
        by_before = self._conductance * (half_migration - spread)
        by_after = self._conductance * (half_migration + spread)

        crowded = self._crowd(c[self._species :], difference, flow, by_before, by_after)
        carried = self._carry(flow)
        carried_by_u = self._carry(by_u)
        charge_by_u = carried_by_u[m]
        u_change = (current - carried[m]) / charge_by_u
        u_by_ln = current / charge_by_u
        a = self._carry(by_before[:, None] * slope[..., :-1])
        b = self._carry(by_after[:, None] * slope[..., 1:])
        if crowded is not None:
            filled = self._crowding.filled(slope[self._species :])
            a += crowded[:, None] * filled[..., :-1]
            b += crowded[:, None] * filled[..., 1:]
        totals_by_u = carried_by_u[:m]
        u_by_before, u_by_after = -a[m] / charge_by_u, -b[m] / charge_by_u
        # d(E Q)/dE = Q - p Q', in the film alone
        by_still = self._carry(self._conductance * (q - 2 * half * q_by_p) * difference)
        u_by_still = -by_still[m] / charge_by_u
        return Flows(
            totals=carried[:m] + totals_by_u * u_change,
            by_before=a[:m] + totals_by_u[:, None] * u_by_before,
            by_after=b[:m] + totals_by_u[:, None] * u_by_after,
            by_ln_current=totals_by_u * u_by_ln,
            u_change=u_change,
            u_by_ln_current=u_by_ln,
            u_by_before=u_by_before,
            u_by_after=u_by_after,
            by_mixing=(by_still[:m] + totals_by_u * u_by_still) * self._in_film[:, None],
            u_by_mixing=u_by_still * self._in_film,
        )

    def _crowd(
        self, solids: Array, difference: Array, flow: Array, by_before: Array, by_after: Array
    ) -> Array | None:
        """Add to the flows of solids, and to their derivatives, what makes room for others.

        Returns how all totals' flows answer to the share filled at either node, (M + 1, B, N - 1), or None
        where nothing is crowded.
        """
        if not len(solids):
            return None
        filled = self._crowding.filled(solids)
        if filled.max() < FILLED:
            return None
        spread, by_filled = self._crowding.spread_m2_s(filled)
        spread, by_filled = self._conductance * spread, self._conductance * by_filled
        flow[self._species :] += spread * difference[self._species :]
        by_before[self._species :] -= spread
        by_after[self._species :] += spread
        by_filled = by_filled * difference[self._species :]
        solid = self._carried[:, self._species :] @ by_filled.reshape(len(solids), -1)
        return np.asarray(solid.reshape(-1, *by_filled.shape[1:]))


def _in_film(grid: Geometry) -> Array:
    """Return 1 for every face in the film at electrode 0 and at the other, (2, N - 1)."""
    reach_m = 1.0001 * grid.film_m
    near = grid.position_m[1:] <= reach_m
    far = grid.position_m[:-1] >= grid.position_m[-1] - reach_m
    return np.array([near, far], dtype=np.float64)
