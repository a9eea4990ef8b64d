"""What changes slowly enough to be computed once or twice a step: coefficients, and the solid left.

- Migration and diffusion coefficients, and the share of bubbles that dissolve again, follow the composition
  at the step's predicted end, and at the first solution where that is far off. In concentrated liquid they
  depend so steeply on it that steps would swing to and fro: there only half of every change is taken over.
- A solid that an earlier stage left, or an electrode of a given mass, dissolves until it is gone.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell.solver.coat import Coat
from fizzplate.chemistry import FARADAY_C_MOL

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from fizzplate.cell.solver.transport import Transport
    from fizzplate.chemistry.transport_properties import Mobilities

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    Places = np.ndarray[tuple[int, ...], np.dtype[np.int_]]
    Solids = Sequence[Mapping[str, float]]

OVERDRAFT = 1e-6  # of what there was
LAST_SOLID_S = 1.0  # the last of a deposit dissolves in about this time
CONCENTRATED_MOL_M3 = 4000.0  # of all that is dissolved
TAKEN_OVER = 0.5  # of a change of the coefficients in liquid that is more concentrated
MIN_DENSITY_A_M2 = 1e-30  # stands for zero in a logarithm


class LaggedCoefficients:
    """Works out the slow parts of the equations of one stage, once a step of each of B cells.

    Parameters
    ----------
    mobilities
        Coefficients by composition.
    solids_mol
        For each cell, solids on electrode 0 and 1 at the start, mol by formula; one that is not named
        has no end.
    """

    def __init__(self, mobilities: Mobilities, solids_mol: Sequence[Solids]) -> None:
        self.mobilities = mobilities
        self.solids_mol = list(solids_mol)
        #: coefficients for migration and for diffusion that the equations have, (2, species, B, N)
        self._in_use: Array | None = None
        self._coat = Coat()

    def keep(self, members: Sequence[int]) -> None:
        """Keep only these cells."""
        if self._in_use is not None:
            self._in_use = self._in_use[:, :, members]
        self.solids_mol = [self.solids_mol[k] for k in members]

    def refresh(self, transport: Transport, system_mol_m3: Array, members: Places | slice) -> None:
        """Take the composition of some cells, (S, cells, N), over into the equations."""
        places = system_mol_m3.shape[1:]
        flat = system_mol_m3.reshape(len(system_mol_m3), -1)
        coefficients = np.array(self.mobilities.evaluate(flat)).reshape(2, -1, *places)
        if self._in_use is None:
            self._in_use = coefficients
        else:
            before = self._in_use[:, :, members]
            concentrated = system_mol_m3.sum(axis=0) > CONCENTRATED_MOL_M3
            if concentrated.any():
                part = np.where(concentrated, TAKEN_OVER, 1.0)
                coefficients = before + part * (coefficients - before)
            self._in_use[:, :, members] = coefficients
        transport.flow.set_coefficients(coefficients[0], coefficients[1], members)
        transport.set_constants(transport.model.constants_at(system_mol_m3), members)
        transport.let_bubbles_rise(system_mol_m3, members)

    def limit_solids(
        self, transport: Transport, member: int, extent_mol: Array, step_s: float
    ) -> None:
        """Let a step of a cell use up no more of a solid than there is left; extents are (2, R)."""
        for side, solid, left_mol in self._left(transport, member, extent_mol):
            time_s = max(step_s, LAST_SOLID_S)
            rate_mol_s_m2 = max(left_mol, 0.0) / (time_s * float(transport.border.area_m2[member]))
            for k, reaction in enumerate(transport.electrodes[side].reactions):
                if reaction.solid == solid:
                    times_mol_s_m2 = rate_mol_s_m2 / reaction.consumed[solid]
                    limit_A_m2 = reaction.electrons * FARADAY_C_MOL * times_mol_s_m2
                    transport.kinetics.ln_solid_limit[member, side, k] = math.log(
                        max(limit_A_m2, MIN_DENSITY_A_M2)
                    )

    def cover(self, transport: Transport, member: int, extent_mol: Array, current_A: float) -> None:
        """Let a coat of another metal keep a cathode's own from dissolving; extents are (2, R)."""
        self._coat.cover(transport, member, self.solids_mol[member], extent_mol, current_A)

    def overdrawn(self, transport: Transport, member: int, extent_mol: Array) -> bool:
        """Return whether more of a solid has been used up in a cell than there was."""
        return any(
            left_mol < -OVERDRAFT * self.solids_mol[member][side][solid]
            for side, solid, left_mol in self._left(transport, member, extent_mol)
        )

    def _left(
        self, transport: Transport, member: int, extent_mol: Array
    ) -> Iterator[tuple[int, str, float]]:
        for side, electrode in enumerate(transport.electrodes):
            for solid, start_mol in self.solids_mol[member][side].items():
                change_mol = sum(
                    float(extent) * (r.formed.get(solid, 0) - r.consumed.get(solid, 0))
                    for r, extent in zip(electrode.reactions, extent_mol[side], strict=False)
                )
                yield side, solid, start_mol + change_mol
