"""What is dissolved in a liquid, by the ions and molecules that a class knows.

A species that the table ``species`` names stands for itself. Every other one is a complex of a metal and
counts as what it holds: CuOH+ as Cu2+ and OH-, CuCl3^2- as CuCl2- and Cl-, as a pair of ions counts as its
two ions already where it moves. So all dissolved copper(II) is ``Cu2+``, and no charge or atom is lost.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fizzplate.cell.physics import Speciation

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

#: charged forms of the halogens that an anode makes
MADE = ("ClO-", "BrO-", "Br3^-", "IO-", "IO3-", "I3^-")


@dataclass(frozen=True, slots=True)
class KnownSpecies:
    """The known species of a liquid.

    Parameters
    ----------
    ions
        The ions but for those that only an anode makes.
    dissolved
        What is dissolved besides: molecules, and what an anode makes.
    counts
        Formula of every species of the liquid, and what one mole of it counts as: moles of known species.

    Examples
    --------
    >>> from fizzplate.cell.physics import Speciation
    >>> known = KnownSpecies.of(Speciation(["Cu2+", "Cl-"]))
    >>> known.ions
    ('Cu2+', 'Cl-', 'H+', 'OH-', 'CuCl2-')
    >>> known.counts["Cu2(OH)2^2+"], known.counts["CuCl3^2-"]
    ({'Cu2+': 2.0, 'OH-': 2.0}, {'CuCl2-': 1.0, 'Cl-': 1.0})
    """

    ions: tuple[str, ...]
    dissolved: tuple[str, ...]
    counts: Mapping[str, Mapping[str, float]]

    @classmethod
    def of(cls, speciation: Speciation) -> KnownSpecies:
        """Return the known species of what can be in a liquid."""
        table = {row["species"] for row in data.rows("species")}
        named = [name for name in speciation.species if name in table]
        counts = {
            name: {name: 1.0} if name in table else _held(name, named, speciation)
            for name in speciation.species
        }
        charge = dict(zip(speciation.species, speciation.charge.tolist(), strict=True))
        ions = tuple(name for name in named if charge[name] and name not in MADE)
        return cls(ions, tuple(name for name in named if name not in ions), counts)

    def concentrations(self, every_mol_m3: Mapping[str, Array]) -> dict[str, Array]:
        """Return the concentration of each known species, with what complexes hold of it."""
        found = {name: every_mol_m3[name] for name in (*self.ions, *self.dissolved)}
        for name, held in self.counts.items():
            if name not in held:
                for known, moles in held.items():
                    found[known] = found[known] + moles * every_mol_m3[name]
        return found


def _held(name: str, named: list[str], speciation: Speciation) -> dict[str, float]:
    """Return what a complex holds: the named species of its metal that leaves the fewest other ions."""
    own = speciation.parts(name)
    is_metal = (speciation.total_charge > 0) & (np.arange(own.size) > 0)  # the first is H+
    metal = int(np.flatnonzero(is_metal & (own > 0))[0])
    ways = []
    for core in named:
        parts = speciation.parts(core)
        if parts[metal] > 0:
            moles = float(own[metal] / parts[metal])
            rest = own - moles * parts
            rest[0] = -rest[0]  # what lacks H+ holds OH-
            ways.append(((rest < 0).any(), float(np.abs(rest).sum()), core, moles, rest))
    _, _, core, moles, rest = min(ways, key=lambda way: way[:2])
    others = ("OH-", *speciation.totals[1:])
    return {core: moles} | {other: float(n) for other, n in zip(others, rest, strict=True) if n}
