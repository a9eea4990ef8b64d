"""What flows between neighbouring nodes, and how it answers to the concentrations and the current.

At every face between two nodes each species flows as

``J = -G [E Q(p) (c2 - c1) + z M u (c1 + c2) / 2]``  (mol/s)

with the conductance ``G`` (area over length, m), the diffusion and mixing coefficient ``E`` and the
migration coefficient ``M`` (both m2/s, corrected apart), the potential step ``u`` in units of RT/F,
``p = z M u / E`` and ``Q = (1 + (p/2)^4)^(1/4)``: central where p is small, upwind where it is
large. The current through every face is the same and fixes ``u``: one Newton update an iteration,
eliminated on the spot.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from fizzplate.cell.geometry import Geometry
    from fizzplate.cell.speciation import Speciated, Speciation

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

LEAST_SPREAD_M2_S = 1e-15  # stands for none where something is divided by it


@dataclass(frozen=True, slots=True)
class Flows:
    """Flows of the M solved totals through the N - 1 faces, with ``u`` eliminated.

    Parameters
    ----------
    totals
        Flow towards electrode 1, (M, N - 1), mol/s.
    by_before, by_after
        Derivatives by the solved totals on either side, (M, M, N - 1), m3/s.
    by_ln_current
        Derivative by the logarithm of the current, (M, N - 1), mol/s.
    u_change
        What ``u`` changes by at fixed concentrations and current, (N - 1,).
    u_by_ln_current, u_by_before, u_by_after
        How ``u`` answers, (N - 1,), (M, N - 1), (M, N - 1).
    by_mixing, u_by_mixing
        Derivatives by the extra mixing in the film at electrode 0 and 1, (M, N - 1, 2) in mol/m2 and
        (N - 1, 2) in s/m2.
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
    """Flows on one grid; coefficients are taken over once a step.

    Parameters
    ----------
    grid, model
        Geometry and speciation.
    """

    def __init__(self, grid: Geometry, model: Speciation) -> None:
        self._conductance = -grid.conductance_m
        self._vessel_mixing = grid.mixing_m2_s
        reach_m = 1.0001 * grid.film_m
        self._in_film = np.array(
            [
                grid.position_m[1:] <= reach_m,
                grid.position_m[:-1] >= grid.position_m[-1] - reach_m,
            ],
            dtype=np.float64,
        ).T
        self._charge = model.charge[:, None]
        solids = len(model.carried) - len(model.species)
        parts = np.array([model.solved_parts(name) for name in model.carried]).T
        # what one mole of each carries of each solved total, and in the last row its charge
        self._carried = np.vstack([parts, np.append(model.charge, np.zeros(solids))])
        self._species = len(model.species)
        # a haze neither diffuses nor drifts: it goes with the liquid
        self._spread = np.tile(grid.mixing_m2_s, (len(model.carried), 1))
        self._drift = np.zeros((len(model.carried), grid.conductance_m.size))

    def set_coefficients(self, migration_m2_s: Array, diffusion_m2_s: Array) -> None:
        """Take coefficients at the nodes, (species, N) each, m2/s, over to the faces."""
        face = 0.5 * (diffusion_m2_s[:, :-1] + diffusion_m2_s[:, 1:])
        self._spread[: self._species] = face + self._vessel_mixing
        mean = 0.5 * (migration_m2_s[:, :-1] + migration_m2_s[:, 1:])
        self._drift[: self._species] = self._charge * mean

    def steps_carrying(
        self, concentration_mol_m3: Array, current_mol_s: float, mixing_m2_s: Array
    ) -> Array:
        """Return the steps ``u`` (N - 1,) that carry a current through a composition, central form."""
        before, after = concentration_mol_m3[:, :-1], concentration_mol_m3[:, 1:]
        drift = self._drift[: self._species]
        conductance = (self._charge * drift * (before + after)).sum(0) / 2
        spread = self._spread[: self._species] + self._in_film @ mixing_m2_s
        diffusion = (self._charge * spread * (after - before)).sum(0)
        return np.asarray((current_mol_s / self._conductance - diffusion) / conductance)

    def flows(
        self, speciated: Speciated, u: Array, current_mol_s: float, mixing_m2_s: Array
    ) -> Flows:
        """Return all flows at the steps ``u``.

        Parameters
        ----------
        speciated
            The liquid.
        u
            Potential steps, (N - 1,).
        current_mol_s
            Charge that flows to electrode 1, mol/s.
        mixing_m2_s
            Extra mixing in the film at electrode 0 and 1, (2,).
        """
        c, slope = speciated.carried_mol_m3, speciated.carried_slope
        species, m, _ = slope.shape
        difference, mean = c[:, 1:] - c[:, :-1], 0.5 * (c[:, 1:] + c[:, :-1])
        migration = self._drift * u
        still = self._spread + self._in_film @ mixing_m2_s
        half = 0.5 * migration / np.maximum(still, LEAST_SPREAD_M2_S)  # p / 2
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

        carried = self._carried @ flow
        carried_by_u = self._carried @ by_u
        charge_by_u = carried_by_u[m]
        u_change = (current_mol_s - carried[m]) / charge_by_u
        u_by_ln = current_mol_s / charge_by_u
        shape = (m + 1, m, u.size)
        a = (self._carried @ (by_before[:, None] * slope[:, :, :-1]).reshape(species, -1)).reshape(
            shape
        )
        b = (self._carried @ (by_after[:, None] * slope[:, :, 1:]).reshape(species, -1)).reshape(
            shape
        )
        totals_by_u = carried_by_u[:m]
        u_by_before, u_by_after = -a[m] / charge_by_u, -b[m] / charge_by_u
        # d(E Q)/dE = Q - p Q', in the film alone
        by_still = self._carried @ (self._conductance * (q - 2 * half * q_by_p) * difference)
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
            by_mixing=(by_still[:m] + totals_by_u * u_by_still)[:, :, None] * self._in_film,
            u_by_mixing=u_by_still[:, None] * self._in_film,
        )
