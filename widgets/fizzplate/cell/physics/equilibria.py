"""Which species can occur with the ions of a cell, which totals no reaction changes, and the constants.

The equilibria are rows of the table ``equilibria``: the ionic product of water, the acid constants of
HSO4- and HClO, the hydrolysis of chlorine ``Cl2 + H2O = HClO + H+ + Cl-`` and of metal ions, complexes
and solids. Units: mol/m3 and its powers.
"""

from __future__ import annotations

from copy import copy
from typing import TYPE_CHECKING, Self

import numpy as np

from fizzplate import data
from fizzplate.cell.physics.copper_chloride import (
    CHLORIDE,
    COPPER_ONE,
    DISSOLVED,
    OXIDE,
    CopperInChloride,
)
from fizzplate.cell.physics.precipitation import hydroxides_of
from fizzplate.cell.physics.species import ACID, OXIDISED_CHLORINE
from fizzplate.cell.physics.trihalides import trihalides_of
from fizzplate.chemistry import parse_formula

if TYPE_CHECKING:
    from collections.abc import Container, Iterable

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    Places = np.ndarray[tuple[int, ...], np.dtype[np.int_]]

PREFERRED_ELIMINATED = ("Na+", "K+", "NO3-", "Cl-", "Br-", "I-", "F-", "SO4^2-")


def _constant(kind: str, equation: str) -> float:
    return data.find("equilibria", kind=kind, equation=equation).value


class Equilibria:
    """The species that can occur with the ions given, and their equilibria.

    Parameters
    ----------
    ions
        Ions of the salts and of electrodes that may dissolve, such as ``("Na+", "Cl-")``.
    hydrogensulfate_constant_mol_m3
        Conditional acid constant of the hydrogensulfate ion in this solution, mol/m3; (B,) for B
        solutions of the same ions.
    traces
        Ions of which there is too little to be the one that follows from all others.
    """

    def __init__(
        self,
        ions: Iterable[str],
        *,
        hydrogensulfate_constant_mol_m3: float | Array,
        traces: Container[str] = (),
    ) -> None:
        wanted = [ion for ion in dict.fromkeys(ions) if ion not in {"H+", "OH-", "HSO4-"}]
        self.has_sulfate = "SO4^2-" in wanted
        self.has_chlorine = "Cl-" in wanted
        self.hydroxides = hydroxides_of(wanted)
        self.trihalides = trihalides_of(wanted)
        species = [*wanted, "H+", "OH-"]
        if self.has_sulfate:
            species.append("HSO4-")
        species += [h.complex for h in self.hydroxides if h.complex]
        self.copper = CopperInChloride.of_tables() if {"Cu2+", "Cl-"} <= set(wanted) else None
        if self.copper:
            species.append(DISSOLVED)
        if self.has_chlorine:
            species += ["Cl2", "HClO", "ClO-"]
        for trihalide in self.trihalides:
            species += [trihalide.halogen, trihalide.bound]
        self.species = tuple(species)
        #: what can be solid in the liquid
        self.solids = (
            *(h.solid for h in self.hydroxides),
            *((CHLORIDE, OXIDE) if self.copper else ()),
        )
        self.carried = (*species, *self.solids)
        self.charge = np.array([float(parse_formula(name).charge) for name in species])
        oxidised = [
            *([OXIDISED_CHLORINE] if self.has_chlorine else []),
            *(t.oxidised for t in self.trihalides),
        ]
        self.totals = (ACID, *wanted, *([COPPER_ONE] if self.copper else []), *oxidised)
        charges = {ACID: 1, COPPER_ONE: 1, **dict.fromkeys(oxidised, 0)}
        self.total_charge = np.array(
            [float(charges[t] if t in charges else parse_formula(t).charge) for t in self.totals]
        )
        # With nothing but acid or alkali and water there is no ion left to eliminate.
        self.eliminated = next(
            ion for ion in (*PREFERRED_ELIMINATED, *wanted) if ion in wanted and ion not in traces
        )
        self.solved = tuple(name for name in self.totals if name != self.eliminated)
        self.row = {name: i for i, name in enumerate(self.totals)}
        self.at = {name: i for i, name in enumerate(self.carried)}
        self.expansion = self._expansion()
        self.eliminated_row = self.row[self.eliminated]
        self.solved_rows = [self.row[name] for name in self.solved]
        self.water = _constant("water", "H2O -> H+ + OH-") * 1e6
        constant = np.asarray(hydrogensulfate_constant_mol_m3, dtype=np.float64)
        #: for every node of a cell, or of B
        self.hydrogensulfate: Array = constant[..., None]
        self.chlorine = _constant("halogen", "Cl2 + H2O -> HClO + H+ + Cl-") * 1e6
        self.hypochlorous_acid = _constant("acid", "HClO -> H+ + ClO-") * 1e3

    def of_cells(self, members: Places) -> Self:
        """Return the same for some of B solutions."""
        some = copy(self)
        some.hydrogensulfate = self.hydrogensulfate[members]
        return some

    def _expansion(self) -> Array:
        """Matrix from the totals solved for to all totals: identity but for the eliminated one."""
        gone = self.row[self.eliminated]
        matrix = np.zeros((len(self.totals), len(self.solved)))
        for column, name in enumerate(self.solved):
            matrix[self.row[name], column] = 1.0
            matrix[gone, column] = -self.total_charge[self.row[name]] / self.total_charge[gone]
        return matrix

    def parts(self, species: str) -> Array:
        """Return how much of each total one mole of a species or solid carries, (totals,)."""
        held = {}
        for h in self.hydroxides:
            held[h.solid] = {h.ion: 1.0, ACID: -float(h.hydroxides)}
            if h.complex:
                held[h.complex] = {h.ion: 1.0, ACID: -float(h.complex_hydroxides)}
        for t in self.trihalides:
            held[t.halogen] = {t.oxidised: 1.0}
            held[t.bound] = {t.oxidised: 1.0, t.halide: 1.0}
        known: dict[str, dict[str, float]] = {
            "H+": {ACID: 1},
            "OH-": {ACID: -1},
            "HSO4-": {ACID: 1, "SO4^2-": 1},
            "Cl2": {ACID: 1, "Cl-": 1, OXIDISED_CHLORINE: 1},
            "HClO": {OXIDISED_CHLORINE: 1},
            "ClO-": {OXIDISED_CHLORINE: 1, ACID: -1},
            DISSOLVED: {COPPER_ONE: 1, "Cl-": 2},
            CHLORIDE: {COPPER_ONE: 1, "Cl-": 1},
            OXIDE: {COPPER_ONE: 2, ACID: -2},
            **held,
        }
        vector = np.zeros(len(self.totals))
        for name, amount in known.get(species, {species: 1}).items():
            if name in self.row:
                vector[self.row[name]] = amount
        return vector

    def solved_parts(self, species: str) -> Array:
        """Return how much of each total solved for one mole of a species carries, (M,)."""
        vector = self.parts(species)
        return np.array([vector[self.row[name]] for name in self.solved])

    def solved_may_be_negative(self) -> np.ndarray[tuple[int, ...], np.dtype[np.bool_]]:
        """Return which solved totals may fall below zero, (M,): the acid excess alone."""
        return np.array([name == ACID for name in self.solved])

    def all_totals(self, solved: Array) -> Array:
        """Return all totals (totals, ...) from those solved for (M, ...)."""
        flat = self.expansion @ solved.reshape(len(solved), -1)
        return np.asarray(flat.reshape(-1, *solved.shape[1:]))
