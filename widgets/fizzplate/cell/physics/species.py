"""Species at the nodes, and how they answer to the conserved totals."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from fizzplate.chemistry.equilibria import Equilibrium

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

ACID = "acid excess"  #: name of the total of H+: ``c(H+) - c(OH-) + ...``


@dataclass(frozen=True, slots=True)
class SpeciesProfile:
    """Species at N nodes, of B cells or of one, and how they answer to the M totals solved for.

    Parameters
    ----------
    carried_mol_m3
        Carried species and then solids, per volume of liquid, (carried, B, N).
    carried_slope
        Derivative of each by each total, (carried, M, B, N).
    species
        How many of them are dissolved.
    system_mol_m3
        Every species of the chemical system, pairs of ions by themselves, (S, B, N).
    ln_strength
        Logarithm of the ionic strength in mol/dm3, (B, N).
    found
        The equilibria at all B N nodes.
    """

    carried_mol_m3: Array
    carried_slope: Array
    species: int
    system_mol_m3: Array
    ln_strength: Array
    found: Equilibrium

    @property
    def concentration_mol_m3(self) -> Array:
        """Concentrations of the dissolved, (species, B, N)."""
        return self.carried_mol_m3[: self.species]

    @property
    def slope(self) -> Array:
        """Derivative of each of those concentrations by each total, (species, M, B, N)."""
        return self.carried_slope[: self.species]

    @property
    def equilibrium(self) -> Array:
        """What is known of the equilibrium and a neighbouring one is found from, (unknowns, B, N)."""
        return self._known(self.found.unknowns)

    def equilibrium_after(self, change: Array) -> Array:
        """Return the same after a change of the totals solved for, (M, B, N)."""
        return self._known(self.found.unknowns_after(change.reshape(len(change), -1)))

    def _known(self, unknowns: Array) -> Array:
        known = np.concatenate([unknowns, self.ln_strength.reshape(1, -1)])
        return known.reshape(-1, *self.ln_strength.shape)

    @property
    def precipitate_mol_m3(self) -> Array:
        """Moles of each solid per volume of liquid, (solids, B, N)."""
        return self.carried_mol_m3[self.species :]
