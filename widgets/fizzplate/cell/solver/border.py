"""The five unknowns that border the liquid of a cell: both potentials, ln of the current, both mixings.

Their equations are the current densities that add up to ``I / area`` at each electrode, the voltage loop or
the current that the supply holds, and at each electrode the mixing that follows the gas made there.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell.physics import CURRENT_EXPONENT, REFERENCE_DIFFUSION_M2_S, Stirring
from fizzplate.chemistry import FARADAY_C_MOL, GAS_J_MOL_K

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.cell.physics import Faces, Flows, Lamp
    from fizzplate.cell.solver.state import Step, Unknowns

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    Places = np.ndarray[tuple[int, ...], np.dtype[np.int_]]

BORDER = 5
SIDES = np.arange(2)


class Border:
    """The equations of electrodes, circuit and stirring of B cells.

    Parameters
    ----------
    shape
        Nodes and totals solved for, (N, M).
    area_m2
        Of an electrode of each cell, (B,).
    film_m
        Thickness of the unmixed layers.
    bubbles
        Gas that each reaction makes at electrode 0 and 1, as the face model has it.
    direction
        +1 while electrode 0 is the cathode, -1 while it is the anode, 0 with the switch open.
    lamps
        In series in each cell, or None.
    temperature_K
        Of all cells.
    film_factors
        By what each cell's unmixed layers are thicker.
    """

    def __init__(
        self,
        shape: tuple[int, int],
        area_m2: Array,
        film_m: float,
        bubbles: Array,
        *,
        direction: int,
        lamps: Sequence[Lamp | None],
        temperature_K: float,
        film_factors: Sequence[float],
    ) -> None:
        self.direction = direction
        self.thermal_V = GAS_J_MOL_K * temperature_K / FARADAY_C_MOL
        self.area_m2 = area_m2
        self.stirring = Stirring.of(film_m, film_factors)
        #: layer that free convection alone leaves at electrode 0 and 1, lagged a step, (B, 2)
        self.still_m = np.full((len(area_m2), 2), film_m)
        self._bubbles = bubbles
        self._lamp_V = np.array([lamp.rated_V if lamp else 0.0 for lamp in lamps])
        self._lamp_A = np.array([lamp.rated_A if lamp else 1.0 for lamp in lamps])
        self._by_totals = np.zeros((len(area_m2), BORDER, *shape))

    def keep(self, members: Places) -> None:
        """Keep only these cells."""
        self.area_m2, self.still_m = self.area_m2[members], self.still_m[members]
        self._lamp_V, self._lamp_A = self._lamp_V[members], self._lamp_A[members]
        self._by_totals = self._by_totals[: len(members)]
        self.stirring = self.stirring.keep(members)

    def lamp_voltage_V(self, ln_current: Array) -> Array:
        """Return the voltage across the lamp of each cell, V, (B,)."""
        ratio = np.exp(ln_current) / self._lamp_A
        return np.asarray(self._lamp_V * ratio ** (1 / CURRENT_EXPONENT))

    def supply_voltage_V(self, now: Unknowns) -> Array:
        """Return the voltage that each supply gives, V, (B,)."""
        across_V = now.potential_V[:, 1] - now.potential_V[:, 0]
        cell_V = self.direction * (across_V + self.thermal_V * now.u.sum(axis=1))
        return np.asarray(cell_V + self.lamp_voltage_V(now.ln_current))

    def current_mol_s(self, ln_current: Array) -> Array:
        """Return the charge that flows to electrode 1 through the liquid, mol/s, (B,)."""
        if not self.direction:
            return np.zeros_like(ln_current)
        return -self.direction * np.exp(ln_current) / FARADAY_C_MOL

    def equations(
        self, now: Unknowns, flows: Flows, faces: Faces, step: Step
    ) -> tuple[Array, Array, Array]:
        """Return the derivatives by the border (B, 5, 5) and by the totals (B, 5, N, M), and the miss (B, 5).

        The second holds until the next call.
        """
        cells = len(now.u)
        matrix = np.zeros((cells, BORDER, BORDER))
        matrix[:, SIDES, SIDES] = matrix[:, 2, 2] = 1.0
        gradient = self._by_totals
        gradient[...] = 0.0
        miss = np.zeros((cells, BORDER))
        self._mixing_rows(now, faces, step, matrix, gradient, miss)
        if faces.rates is None:
            miss[:, 2] = now.ln_current - step.supply_control.value
            return matrix, gradient, miss
        matrix[:, SIDES, SIDES] = faces.rates.miss_by_E
        matrix[:, :2, 2] = faces.rates.miss_by_ln_density
        gradient[:, 0, 0] = faces.miss_by_totals[:, 0]
        gradient[:, 1, -1] = faces.miss_by_totals[:, 1]
        miss[:, :2] = faces.rates.miss
        supply_control = step.supply_control
        turn_V = self.direction * self.thermal_V
        lamp_V = self.lamp_voltage_V(now.ln_current)
        loop = np.empty((cells, BORDER))
        loop[:, 0], loop[:, 1] = -self.direction, self.direction
        loop[:, 2] = turn_V * flows.u_by_ln_current.sum(axis=1) + lamp_V / CURRENT_EXPONENT
        loop[:, 3:] = turn_V * REFERENCE_DIFFUSION_M2_S * flows.u_by_mixing.sum(axis=2).T
        short_V = (
            self.supply_voltage_V(now) - supply_control.value + turn_V * flows.u_change.sum(axis=1)
        )
        of_voltage = supply_control.voltage[:, None]
        matrix[:, 2] = np.where(of_voltage, loop, matrix[:, 2])
        miss[:, 2] = np.where(
            supply_control.voltage, short_V, now.ln_current - supply_control.value
        )
        turn = np.where(of_voltage, turn_V, 0.0)[:, :, None]
        gradient[:, 2, :-1] += turn * flows.u_by_before.transpose(1, 2, 0)
        gradient[:, 2, 1:] += turn * flows.u_by_after.transpose(1, 2, 0)
        return matrix, gradient, miss

    def _mixing_rows(
        self,
        now: Unknowns,
        faces: Faces,
        step: Step,
        matrix: Array,
        gradient: Array,
        miss: Array,
    ) -> None:
        """Fill in ``d(mixing)/dt = (wanted - mixing) / build-up time`` at both electrodes."""
        build_up_s = self.stirring.build_up_s
        own = (step.leading * build_up_s + 1.0)[:, None]
        matrix[:, 3 + SIDES, 3 + SIDES] = own
        miss[:, 3:] = own * now.mixing + step.mixing * build_up_s
        if faces.rates is None:
            return
        bubbles = self._bubbles
        density = (np.exp(now.ln_current) / self.area_m2)[:, None]
        gas = density * (bubbles * faces.rates.share).sum(axis=2)
        wanted, slope = self.stirring.wanted_m2_s(gas, self.still_m)
        slope = slope / REFERENCE_DIFFUSION_M2_S
        miss[:, 3:] -= wanted / REFERENCE_DIFFUSION_M2_S
        by_E = (bubbles * faces.rates.share_by_E).sum(axis=2)
        matrix[:, 3 + SIDES, SIDES] = -slope * density * by_E
        matrix[:, 3:, 2] = -slope * gas
        by_totals = (bubbles[:, None] @ faces.share_by_totals)[:, :, 0]
        by_totals = (-slope * density)[..., None] * by_totals
        gradient[:, 3, 0] = by_totals[:, 0]
        gradient[:, 4, -1] = by_totals[:, 1]
