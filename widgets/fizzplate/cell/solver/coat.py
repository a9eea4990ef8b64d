"""The coat of another metal that keeps a cathode's own metal from dissolving, worked out once a step."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.chemistry import electrodes
from fizzplate.data import find

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    import numpy as np

    from fizzplate.cell.solver.transport import Transport

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    Solids = Sequence[Mapping[str, float]]

MOST_LAYERS = 100.0  # of a coat that seals: a metal under more has long stopped dissolving


class Coat:
    """How much of each cathode's own metal is still bare."""

    def __init__(self) -> None:
        self._sealing_mol_m2 = find("model", quantity="coat that seals").value
        self._adhering_A_m2 = find("model", quantity="current density of a coat").value

    def cover(
        self,
        transport: Transport,
        member: int,
        solids_mol: Solids,
        extent_mol: Array,
        current_A: float,
    ) -> None:
        """Let what is plated on a cathode keep its own metal from dissolving.

        Parameters
        ----------
        transport, member
            The equations, and which of their cells.
        solids_mol
            What was on electrode 0 and 1 at the start of the stage, mol by formula.
        extent_mol
            What has reacted in this stage, (2, R).
        current_A
            That flows now. What a small one plates is no coat: what plates without a current, at both
            electrodes alike, lifts it off.
        """
        against = transport.kinetics.opposing
        if against is None:
            return
        area_m2 = float(transport.border.area_m2[member])
        adheres = current_A / (current_A + self._adhering_A_m2 * area_m2)
        for side, electrode in enumerate(transport.electrodes):
            if transport.kinetics.sigma[side] > 0:
                continue
            own = electrodes()[electrode.material].formula
            plating = {
                reaction.product
                for reaction in electrode.reactions
                if reaction.product != own and reaction.solids.get(reaction.product, 0) > 0
            }
            before_mol = sum(solids_mol[side].get(metal, 0.0) for metal in plating)
            gained_mol = sum(
                float(extent) * reaction.solids[reaction.product]
                for reaction, extent in zip(electrode.reactions, extent_mol[side], strict=False)
                if reaction.product in plating and reaction.product in reaction.solids
            )
            coat_mol_m2 = max(before_mol + adheres * gained_mol, 0.0) / area_m2
            layers = min(coat_mol_m2 / self._sealing_mol_m2, MOST_LAYERS)
            # what is plated first stands in islands
            against.ln_bare[member, side] = -(layers**3) / (1 + layers**2)
