"""The liquid of a cell as it was made, before any current flows."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell.known_species import KnownSpecies
from fizzplate.cell.solver import Model
from fizzplate.words import choice

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fizzplate.cell.physics import CellLike

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]


@dataclass(frozen=True)
class Liquid:
    """The liquid of a cell whose switch is open. N places from the cathode's face to the anode's.

    Parameters
    ----------
    cell
        The cell.
    ions, dissolved
        Formulae of the ions, and of the products that may dissolve.
    position_m
        Places along the gap, the cathode's face at 0, (N,).
    hazes
        Formulae of the solids that can cloud it.
    pH
        At every place, from the activity of hydrogen ions, (N,).

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> liquid = Liquid.of(Cell("CuSO4", concentration_mol_dm3=0.5))
    >>> liquid.ions
    ('Cu2+', 'SO4^2-', 'H+', 'OH-', 'HSO4-')
    """

    cell: CellLike
    ions: tuple[str, ...]
    dissolved: tuple[str, ...]
    position_m: Array
    hazes: tuple[str, ...]
    pH: Array
    _concentration: Mapping[str, Array] = field(repr=False)
    _haze: Mapping[str, Array] = field(repr=False)

    @classmethod
    def of(cls, cell: CellLike) -> Liquid:
        """Return the liquid of a cell."""
        model = Model.of(cell)
        speciation = model.speciation
        species = speciation.at_own_strength(model.start_totals, model.start_equilibrium)
        every = dict(zip(speciation.species, species.concentration_mol_m3, strict=True))
        known = KnownSpecies.of(speciation)
        return cls(
            cell=cell,
            ions=known.ions,
            dissolved=known.dissolved,
            position_m=cell.geometry.position_m,
            hazes=tuple(speciation.solids),
            pH=speciation.constants.pH(species.system_mol_m3),
            _concentration=known.concentrations(every),
            _haze=dict(zip(speciation.solids, species.precipitate_mol_m3, strict=True)),
        )

    def concentration(self, name: str) -> Array:
        """Return the concentration of an ion or a molecule, its complexes counted in, (N,), mol/m3."""
        return self._concentration[choice("name", name, self._concentration)]

    def haze_mol_m3(self, formula: str) -> Array:
        """Return how much of a solid clouds each place, (N,), mol/m3 of liquid."""
        return self._haze.get(formula, np.zeros(self.position_m.size))
