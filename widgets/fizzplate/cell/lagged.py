"""What changes slowly enough to be recomputed once a step: coefficients, bubbles, metal left.

- Migration and diffusion coefficients follow the composition of the last accepted step.
- Bubbles stir the film: beside a gassing wall an unmixed layer of ``d_b = d_1 (j_1 / j)^(1/2)`` is
  left, ``j`` the gas-making current density. With the film's own thickness ``d`` its resistance to
  diffusion falls as ``1 / d + 1 / d_b``; the mixing coefficient ``D_ref d / d_b`` in the film does
  that. The curtain of bubbles forms and fades with a time constant.
- Metal that an earlier stage plated dissolves until it is gone.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.chemistry.constants import FARADAY_C_MOL

if TYPE_CHECKING:
    from collections.abc import Sequence

    import numpy as np

    from fizzplate.cell.transport import Transport
    from fizzplate.chemistry.mobility import Mobilities

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

REFERENCE_DIFFUSION_M2_S = 1e-9
REFERENCE_DENSITY_A_M2 = 1e4
BUBBLES = ("H2", "O2")  # chlorine dissolves as it is made and stirs only once it leaves
LAST_METAL_S = 1.0  # the last of a deposit dissolves in about this time


class Lagged:
    """Recomputes the slow parts of one stage's equations after every step.

    Parameters
    ----------
    mobilities
        Coefficients by composition.
    stirring
        Extra mixing in the film at electrode 0 and 1 at the start, m2/s.
    plated_mol
        Metal on electrode 0 and 1 that is not the electrode's own, at the start.
    """

    def __init__(
        self, mobilities: Mobilities, stirring: Sequence[float], plated_mol: Sequence[float]
    ) -> None:
        self.mobilities = mobilities
        self.stirring = list(stirring)
        self.plated_mol = tuple(plated_mol)
        self._thinnest_m = data.find("model", quantity="bubble film").value * 1e-6
        self._build_up_s = data.find("model", quantity="bubble build-up").value

    def refresh(
        self,
        transport: Transport,
        concentration_mol_m3: Array,
        extent_mol_s: tuple[Array, Array],
        step_s: float,
    ) -> None:
        """Take the state after a step of ``step_s`` over into the equations."""
        transport.flow.set_coefficients(*self.mobilities.evaluate(concentration_mol_m3))
        for side, electrode in enumerate(transport.electrodes):
            gas_A = sum(
                FARADAY_C_MOL * reaction.electrons * max(float(rate), 0.0)
                for reaction, rate in zip(electrode.reactions, extent_mol_s[side], strict=True)
                if reaction.product in BUBBLES
            )
            wanted = self._mixing_m2_s(gas_A / transport.grid.area_m2, transport.grid.film_m)
            keep = math.exp(-step_s / self._build_up_s)
            self.stirring[side] = keep * self.stirring[side] + (1 - keep) * wanted
        transport.flow.set_film_mixing(*self.stirring)

    def limit_metal(
        self, transport: Transport, extent_mol: tuple[Array, Array], step_s: float
    ) -> None:
        """Let a step dissolve no more plated metal than there is left."""
        for side, electrode in enumerate(transport.electrodes):
            for k, reaction in enumerate(electrode.reactions):
                if reaction.deposit and reaction.deposit != electrode.own_metal:
                    left_mol = max(self.plated_mol[side] - float(extent_mol[side][k]), 0.0)
                    charge_C = reaction.electrons * FARADAY_C_MOL * left_mol
                    time_s = max(step_s, LAST_METAL_S)
                    electrode.metal_limit_A_m2[k] = charge_C / (time_s * transport.grid.area_m2)

    def _mixing_m2_s(self, gas_A_m2: float, film_m: float) -> float:
        bubble_film_per_m = math.sqrt(gas_A_m2 / REFERENCE_DENSITY_A_M2) / self._thinnest_m
        return REFERENCE_DIFFUSION_M2_S * film_m * bubble_film_per_m
