"""What changes slowly enough to be worked out once a step: coefficients, and the solid left.

- Migration and diffusion coefficients follow the composition at the step's predicted end.
- A solid that an earlier stage left, or an electrode of a given mass, dissolves until it is gone.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.chemistry.constants import FARADAY_C_MOL

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    import numpy as np

    from fizzplate.cell.transport import Transport
    from fizzplate.chemistry.mobility import Mobilities

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

OVERDRAFT = 1e-6  # of what there was
LAST_SOLID_S = 1.0  # the last of a deposit dissolves in about this time


class Lagged:
    """Works out the slow parts of one stage's equations once a step.

    Parameters
    ----------
    mobilities
        Coefficients by composition.
    solids_mol
        Solids on electrode 0 and 1 at the start, mol by formula; one that is not named has no end.
    """

    def __init__(self, mobilities: Mobilities, solids_mol: Sequence[Mapping[str, float]]) -> None:
        self.mobilities = mobilities
        self.solids_mol = tuple(solids_mol)

    def refresh(self, transport: Transport, concentration_mol_m3: Array) -> None:
        """Take a composition over into the equations."""
        transport.flow.set_coefficients(*self.mobilities.evaluate(concentration_mol_m3))

    def limit_solids(
        self, transport: Transport, extent_mol: tuple[Array, Array], step_s: float
    ) -> None:
        """Let a step use up no more of a solid than there is left."""
        for side, solid, left_mol in self._left(transport, extent_mol):
            electrode = transport.electrodes[side]
            time_s = max(step_s, LAST_SOLID_S)
            rate_mol_s_m2 = max(left_mol, 0.0) / (time_s * transport.grid.area_m2)
            for k, reaction in enumerate(electrode.reactions):
                if reaction.solid == solid:
                    times_mol_s_m2 = rate_mol_s_m2 / reaction.consumed[solid]
                    electrode.solid_limit_A_m2[k] = (
                        reaction.electrons * FARADAY_C_MOL * times_mol_s_m2
                    )

    def overdrawn(self, transport: Transport, extent_mol: tuple[Array, Array]) -> bool:
        """Return whether more of a solid has been used up than there was."""
        return any(
            left_mol < -OVERDRAFT * self.solids_mol[side][solid]
            for side, solid, left_mol in self._left(transport, extent_mol)
        )

    def _left(
        self, transport: Transport, extent_mol: tuple[Array, Array]
    ) -> Iterator[tuple[int, str, float]]:
        for side, electrode in enumerate(transport.electrodes):
            for solid, start_mol in self.solids_mol[side].items():
                change_mol = sum(
                    float(extent) * (r.formed.get(solid, 0) - r.consumed.get(solid, 0))
                    for r, extent in zip(electrode.reactions, extent_mol[side], strict=True)
                )
                yield side, solid, start_mol + change_mol
