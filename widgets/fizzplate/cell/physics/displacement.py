"""Where an electrode reacts with the liquid without any current: a metal displaces less active ones.

The model leaves out what this makes and uses up; at such an electrode it only knows the mixed potential.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.chemistry import electrodes, species_name

if TYPE_CHECKING:
    from fizzplate.cell.physics.cell_like import CellLike

MIN_DISPLACED_MOL_DM3 = 1e-3


@dataclass(frozen=True, slots=True)
class Displacement:
    """A metal that dissolves without a current while ions of the liquid are discharged on it.

    Parameters
    ----------
    role, material
        Of the electrode.
    gives, meets
        The ion that the metal gives, and the ion that it meets.
    """

    role: str
    material: str
    gives: str
    meets: str

    @property
    def reactant(self) -> str:
        """What it reacts with, in words."""
        return "acid" if self.meets == "H+" else f"{species_name(self.meets)} ions"

    @property
    def seen(self) -> str:
        """What is seen of it, naming no product."""
        return data.find("displacement", metal=self.gives, ion=self.meets).text


def displacements(cell: CellLike) -> tuple[Displacement, ...]:
    """List where an electrode reacts without any current.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> (found,) = displacements(Cell("HCl", cathode="zinc", anode="copper"))
    >>> found.role, found.reactant, found.seen
    ('cathode', 'acid', 'bubbles of a colourless gas form on it')
    """
    if cell.melt is not None:
        return ()
    place = {row["ion"]: row.value for row in data.rows("reactivity")}
    return tuple(
        Displacement(role, material, own, ion)
        for role, material in (("cathode", cell.cathode), ("anode", cell.anode))
        if (own := electrodes()[material].dissolves_as)
        # the further down the series, the larger the place
        for ion, c in cell.ions_mol_dm3.items()
        if c >= MIN_DISPLACED_MOL_DM3 and place.get(ion, 0.0) > place[own]
    )
