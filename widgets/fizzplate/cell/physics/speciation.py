"""From conserved totals to what is dissolved and solid at every node.

What is transported and stored are totals that no reaction in the liquid changes, one for every component
of :mod:`fizzplate.chemistry.equilibria`: the acid excess (the total of H+), each ion, each metal in
another oxidation state, each oxidised halogen. Electroneutrality is exact: one total is never solved for
but follows from the charges of the others. What moves are carried species: a pair of ions moves with both
of its ions, everything else by itself. Units: mol/m3.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell.physics.species import ACID, SpeciesProfile
from fizzplate.chemistry.equilibria import (
    ChemicalSystem,
    ConditionalConstants,
    EquilibriumSolver,
)

if TYPE_CHECKING:
    from collections.abc import Container, Iterable

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

PREFERRED_ELIMINATED = ("Na+", "K+", "NO3-", "Cl-", "Br-", "I-", "F-", "SO4^2-")
EXACT = 1e-10
ROUNDS = 30
SETTLED = 3e-5  # of ln of the ionic strength
USUAL_SLOPE, MAX_SLOPE = 0.2, 0.6  # of the strength given back by that put in, in logarithms
ROUGH = 1e-2  # a total may be off by so much, relative to what it adds up, before the last step
NEAR = 1e-3  # the same where a liquid is settled
FINE = 1e-6  # the same for what is shown
MIN_STRENGTH_MOL_DM3 = 1e-9  # stands for zero in a logarithm


class Speciation:
    """The species that can occur with the ions given, and their equilibrium at every node.

    Parameters
    ----------
    ions
        Ions of the salts and of electrodes that may dissolve, such as ``("Na+", "Cl-")``.
    traces
        Ions of which there is too little to be the one that follows from all others.

    Attributes
    ----------
    species, solids, carried
        Names of what is carried: dissolved, solid, and both in that order.
    charge
        Of the dissolved, (species,).
    totals, solved, eliminated
        Names of all totals, of those solved for (M), and of the one that follows.
    """

    def __init__(self, ions: Iterable[str], *, traces: Container[str] = ()) -> None:
        wanted = [ion for ion in dict.fromkeys(ions) if ion not in {"H+", "OH-", "HSO4-"}]
        self.system = ChemicalSystem.of(wanted)
        plain = {*wanted, "Fe3+"}
        members = {member.formula: member for member in self.system.species}
        own = [m.formula for m in self.system.species if not m.is_pair_of(plain)]
        first = [*(ion for ion in own if ion in wanted), "H+", "OH-"]
        self.species = tuple(dict.fromkeys([*first, *own]))
        self.solids = tuple(solid.formula for solid in self.system.solids)
        self.carried = (*self.species, *self.solids)
        self.charge = np.array([float(members[name].charge) for name in self.species])
        self.at = {name: i for i, name in enumerate(self.carried)}
        self.totals = (ACID, *self.system.components[1:])
        self.total_charge = np.array(
            [float(members[name].charge) for name in self.system.components]
        )
        # With nothing but acid or alkali and water there is no ion left to eliminate.
        self.eliminated = next(
            ion for ion in (*PREFERRED_ELIMINATED, *wanted) if ion in wanted and ion not in traces
        )
        self.solved = tuple(name for name in self.totals if name != self.eliminated)
        self.row = {name: i for i, name in enumerate(self.totals)}
        self.expansion = self._expansion()
        self.eliminated_row = self.row[self.eliminated]
        self.solved_rows = [self.row[name] for name in self.solved]
        self.constants = ConditionalConstants(self.system)
        #: how much of each species of the system a carried one holds, (species, S)
        self.lumping = self.system.ions_held(self.species, plain)
        names = [member.formula for member in self.system.species]
        self._free = [names.index(name) for name in self.species]
        self._solve_coupled()

    def _solve_coupled(self) -> None:
        """Leave out of the equilibrium what takes part in none."""
        matrix = self.system.matrix([*self.system.species, *self.system.solids])
        coupled = np.flatnonzero((matrix != 0).sum(axis=0) > 1)
        self._coupled = coupled
        names = [self.system.components[k] for k in coupled]
        self._reacting = [
            k for k, m in enumerate(self.system.species) if set(m.parts) <= set(names)
        ]
        self._alone = [k for k in range(len(self.totals)) if k not in set(coupled.tolist())]
        self._solver = EquilibriumSolver(
            ChemicalSystem(
                tuple(names),
                tuple(self.system.species[k] for k in self._reacting),
                self.system.solids,
            )
        )
        self._own_of_coupled = [self.at[name] for name in names]
        #: how many constants a node has
        self.constant_count = len(self._reacting) + len(self.solids)
        #: how many numbers at a node are known of its equilibrium
        self.unknowns = len(coupled) + len(self.solids) + 1
        self._lump_reacting = self.lumping[:, self._reacting]
        self._directions = self.expansion[coupled]
        #: what the species that take part in no equilibrium answer to the totals solved for
        self._slope_of_alone = (self.lumping[:, self._alone] @ self.expansion[self._alone])[
            ..., None
        ]

    def _expansion(self) -> Array:
        """Matrix from the totals solved for to all totals: identity but for the eliminated one."""
        gone = self.row[self.eliminated]
        matrix = np.zeros((len(self.totals), len(self.solved)))
        for column, name in enumerate(self.solved):
            matrix[self.row[name], column] = 1.0
            matrix[gone, column] = -self.total_charge[self.row[name]] / self.total_charge[gone]
        return matrix

    def parts(self, species: str) -> Array:
        """Return how much of each total one mole of a carried species or solid holds, (totals,)."""
        solids = {member.formula: member for member in self.system.solids}
        members = {member.formula: member for member in self.system.species}
        found = solids.get(species) or members.get(species)
        vector = np.zeros(len(self.totals))
        for name, amount in (found.parts if found else {}).items():
            vector[self.system.components.index(name)] = amount
        return vector

    def solved_parts(self, species: str) -> Array:
        """Return how much of each total solved for one mole of a species carries, (M,)."""
        return self.parts(species)[self.solved_rows]

    def solved_may_be_negative(self) -> np.ndarray[tuple[int, ...], np.dtype[np.bool_]]:
        """Return which solved totals may fall below zero, (M,): the acid excess alone."""
        return np.array([name == ACID for name in self.solved])

    def all_totals(self, solved: Array) -> Array:
        """Return all totals (totals, ...) from those solved for (M, ...)."""
        flat = self.expansion @ solved.reshape(len(solved), -1)
        return np.asarray(flat.reshape(-1, *solved.shape[1:]))

    def constants_at(self, species_mol_m3: Array) -> Array:
        """Return ln K of species and solids at the ionic strength of a liquid.

        Parameters
        ----------
        species_mol_m3
            Of the whole system, (S, ...).

        Returns
        -------
        array
            (reacting species + solids, ...), for :meth:`speciate`.
        """
        places = species_mol_m3.shape[1:]
        flat = species_mol_m3.reshape(len(species_mol_m3), -1)
        return self._constants(self._ln_strength(flat)).reshape(-1, *places)

    def ln_activities(self, species_mol_m3: Array) -> Array:
        """Return ln of the activities of what is carried over its concentrations, (carried, P).

        An ion is carried with its pairs, but only what is free of it is active. Solids count as they are.

        Parameters
        ----------
        species_mol_m3
            Of the whole system, (S, P).
        """
        carried = self.lumping @ species_mol_m3
        free = species_mol_m3[self._free]
        known = (free > 0) & (carried > 0)
        ratio = np.divide(free, carried, out=np.ones_like(free), where=known)
        dissolved = np.log(ratio) + self.constants.ln_coefficients(species_mol_m3)[self._free]
        return np.concatenate([dissolved, np.zeros((len(self.solids), carried.shape[1]))])

    def constants_near(self, guess: Array) -> Array:
        """Return the same at the ionic strength that a guess names, (unknowns, ...)."""
        return self._constants(guess[-1].ravel()).reshape(-1, *guess.shape[1:])

    def _ln_strength(self, species_mol_m3: Array) -> Array:
        """Return ln of the ionic strength in mol/dm3, (P,), of P liquids, (S, P)."""
        strength = self.constants.ionic_strength_mol_dm3(species_mol_m3)
        return np.log(np.maximum(strength, MIN_STRENGTH_MOL_DM3))

    def _constants(self, ln_strength: Array) -> Array:
        """Return ln K of species and solids, (constants, P), at P ionic strengths."""
        ln_K, ln_K_solid = self.constants.at(np.exp(ln_strength))
        return np.concatenate([ln_K[self._reacting], ln_K_solid])

    def initial_composition(self, solved: Array) -> SpeciesProfile:
        """Return the species of liquids of which nothing is known but the totals solved for, (M, ...)."""
        totals = self.all_totals(solved.reshape(len(solved), -1))
        unbound = np.zeros((len(self.system.species), totals.shape[1]))
        unbound[: len(totals)] = np.abs(totals)
        ln_strength = self._ln_strength(unbound)
        ln_K, _ = self.constants.at(np.exp(ln_strength))
        x, v = self._solver.first_guess(totals[self._coupled], ln_K[self._reacting])
        known = np.concatenate([x, v, ln_strength[None]])
        return self._settle(solved, known.reshape(-1, *solved.shape[1:]))

    def at_own_strength(self, solved: Array, guess: Array) -> SpeciesProfile:
        """Return the species of liquids, constants at the ionic strength that they have themselves.

        Parameters
        ----------
        solved, guess
            As for :meth:`speciate`. Slopes are left out.
        """
        return self._settle(solved, guess)

    def _settle(self, solved: Array, guess: Array) -> SpeciesProfile:
        """Return the species with constants at their own ionic strength.

        The equilibrium gives a strength back for every strength put in: where both agree is found along
        the secant through the last two, at the places that are not settled yet.
        """
        totals = solved.reshape(len(solved), -1)
        known = guess.reshape(len(guess), -1).copy()
        places = np.arange(totals.shape[1])
        last_in, last_out = np.full(places.size, np.nan), np.zeros(places.size)
        for _ in range(ROUNDS):
            near = known[:, places]
            profile = self.speciate(
                totals[:, places], near, self.constants_near(near), tolerance=ROUGH, slopes=False
            )
            before, after = near[-1], profile.ln_strength
            run = before - last_in[places]
            slope = np.full_like(run, USUAL_SLOPE)
            np.divide(after - last_out[places], run, out=slope, where=np.abs(run) > 0)
            slope = np.minimum(np.maximum(slope, 0.0), MAX_SLOPE)
            last_in[places], last_out[places] = before, after
            known[:-1, places] = profile.equilibrium[:-1]
            known[-1, places] = before + (after - before) / (1 - slope)
            settled = (np.abs(after - before) <= SETTLED) & (profile.found.off < NEAR)
            places = places[~settled]
            if not places.size:
                break
        known = known.reshape(guess.shape)
        # a species may be a small difference of large totals, as the acid beside much iodine
        return self.speciate(
            solved, known, self.constants_near(known), tolerance=FINE, slopes=False
        )

    def speciate(
        self,
        solved: Array,
        guess: Array,
        constants: Array,
        *,
        tolerance: float = EXACT,
        slopes: bool = True,
    ) -> SpeciesProfile:
        """Return the species at every node.

        Parameters
        ----------
        solved
            The totals solved for, (M, B, N) or (M, N).
        guess
            What was last known of the equilibrium, (unknowns, B, N) or (unknowns, N).
        constants
            ln K as :meth:`constants_at` gives them.
        tolerance
            How far a total may be off, relative to what it adds up, before the last Newton step.
        slopes
            Whether to return derivatives by the totals as well.
        """
        places = solved.shape[1:]
        totals = self.expansion @ solved.reshape(len(solved), -1)
        known = guess.reshape(len(guess), -1)
        count, reacting = len(self._coupled), len(self._reacting)
        found = self._solver.solve(
            totals[self._coupled],
            constants.reshape(len(constants), -1),
            known[:count],
            known[count:-1],
            tolerance=tolerance,
            directions=self._directions if slopes else None,
        )
        species = np.empty((len(self.system.species), totals.shape[1]))
        species[self._reacting] = found.species_mol_m3
        if self._alone:
            species[self._alone] = totals[self._alone]
        carried = np.concatenate([self.lumping @ species, found.solid_mol_m3])
        if found.missing_mol_m3 is not None:
            carried[self._own_of_coupled] += found.missing_mol_m3
        own, D = len(self.species), found.species_slope.shape[1]
        slope = np.empty((len(self.carried), D, totals.shape[1]))
        np.matmul(
            self._lump_reacting,
            found.species_slope.reshape(reacting, -1),
            out=slope[:own].reshape(own, -1),
        )
        slope[own:] = found.solid_slope
        if slopes and self._alone:
            slope[:own] += self._slope_of_alone
        return SpeciesProfile(
            carried_mol_m3=carried.reshape(-1, *places),
            carried_slope=slope.reshape(*slope.shape[:2], *places),
            species=len(self.species),
            system_mol_m3=species.reshape(-1, *places),
            ln_strength=self._ln_strength(species).reshape(places),
            found=found,
        )
