"""What changes slowly enough to be recomputed once a step: coefficients, and the metal left.

- Migration and diffusion coefficients follow the composition of the last accepted step.
- Metal that an earlier stage plated dissolves until it is gone.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.chemistry.constants import FARADAY_C_MOL

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    import numpy as np

    from fizzplate.cell.transport import Transport
    from fizzplate.chemistry.mobility import Mobilities

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

OVERDRAFT = 1e-6  # of what was plated
LAST_METAL_S = 1.0  # the last of a deposit dissolves in about this time


class Lagged:
    """Recomputes the slow parts of one stage's equations after every step.

    Parameters
    ----------
    mobilities
        Coefficients by composition.
    plated_mol
        Metal on electrode 0 and 1 that is not the electrode's own, at the start.
    """

    def __init__(self, mobilities: Mobilities, plated_mol: Sequence[float]) -> None:
        self.mobilities = mobilities
        self.plated_mol = tuple(plated_mol)

    def refresh(self, transport: Transport, concentration_mol_m3: Array) -> None:
        """Take the composition after a step over into the equations."""
        transport.flow.set_coefficients(*self.mobilities.evaluate(concentration_mol_m3))

    def limit_metal(
        self, transport: Transport, extent_mol: tuple[Array, Array], step_s: float
    ) -> None:
        """Let a step dissolve no more plated metal than there is left."""
        for side, k, left_mol in self._metal_left(transport, extent_mol):
            electrode = transport.electrodes[side]
            charge_C = electrode.reactions[k].electrons * FARADAY_C_MOL * max(left_mol, 0.0)
            time_s = max(step_s, LAST_METAL_S)
            electrode.metal_limit_A_m2[k] = charge_C / (time_s * transport.grid.area_m2)

    def overdrawn(self, transport: Transport, extent_mol: tuple[Array, Array]) -> bool:
        """Return whether more plated metal has dissolved than there was."""
        return any(
            left_mol < -OVERDRAFT * self.plated_mol[side]
            for side, _, left_mol in self._metal_left(transport, extent_mol)
        )

    def _metal_left(
        self, transport: Transport, extent_mol: tuple[Array, Array]
    ) -> Iterator[tuple[int, int, float]]:
        for side, electrode in enumerate(transport.electrodes):
            for k, reaction in enumerate(electrode.reactions):
                if reaction.deposit and reaction.deposit != electrode.own_metal:
                    yield side, k, self.plated_mol[side] - float(extent_mol[side][k])
