"""From conserved totals to the species at every node.

What is transported and stored are totals that no reaction in the liquid changes: the acid excess
``c(H+) - c(OH-) + ...``, total sulfate, each halide, each oxidised halogen, each metal. At every node
the species follow from the totals and one number, ln c(H+), by a scalar equation that is monotone:

``c(H+) - c(OH-) + c(HSO4-) + c(Cl2) - c(ClO-) - n c(M(OH)n) - k c(M(OH)k) - 2 c(Cu2O) = acid excess``

Bromine and iodine bind to their halide without acid, so they do not enter it. Electroneutrality is
exact: one total is never solved for but follows from the charges of the others. Which species there
can be are rows of the table of equilibria. Units: mol/m3 and its powers.
"""

from __future__ import annotations

import math
from copy import copy
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data
from fizzplate.cell.copper_chloride import (
    CHLORIDE,
    COPPER_ONE,
    DISSOLVED,
    OXIDE,
    CopperInChloride,
    CopperSplit,
)
from fizzplate.cell.hydroxides import Hydroxide, Precipitated, hydroxides_of
from fizzplate.cell.trihalides import Trihalide, trihalides_of
from fizzplate.chemistry import parse_formula

if TYPE_CHECKING:
    from collections.abc import Container, Iterable

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    Places = np.ndarray[tuple[int, ...], np.dtype[np.int_]]

ACID = "acid excess"
OXIDISED_CHLORINE = "oxidised chlorine"
PREFERRED_ELIMINATED = ("Na+", "K+", "NO3-", "Cl-", "Br-", "I-", "F-", "SO4^2-")
EXACT = 1e-12
PLAIN_ATTEMPTS = 3  # of Newton's method before it is kept within a bracket
HALVE_EVERY = 3
MOST_ATTEMPTS = 200
LEAST_LN_HYDROGEN, MOST_LN_HYDROGEN = -80.0, 25.0  # far beyond any liquid
BUFFERED = 4.0  # slope against that of water alone from which a liquid counts as buffered


def _constant(kind: str, equation: str) -> float:
    return data.find("equilibria", kind=kind, equation=equation).value


@dataclass(frozen=True, slots=True)
class Speciated:
    """Species at N nodes, of B cells or of one, and how they answer to the M totals solved for.

    Parameters
    ----------
    carried_mol_m3
        Species and then solids, per volume of liquid, (carried, B, N).
    carried_slope
        Derivative of each by each total, (carried, M, B, N).
    species
        How many of them are dissolved species.
    ln_hydrogen
        Natural logarithm of c(H+) in mol/m3, (B, N).
    ln_hydrogen_slope
        Its derivative by each total, (M, B, N).
    """

    carried_mol_m3: Array
    carried_slope: Array
    species: int
    ln_hydrogen: Array
    ln_hydrogen_slope: Array

    @property
    def concentration_mol_m3(self) -> Array:
        """Concentrations of the dissolved species, (species, B, N)."""
        return self.carried_mol_m3[: self.species]

    @property
    def slope(self) -> Array:
        """Derivative of each of those concentrations by each total, (species, M, B, N)."""
        return self.carried_slope[: self.species]

    @property
    def precipitate_mol_m3(self) -> Array:
        """Moles of each solid per volume of liquid, (solids, B, N)."""
        return self.carried_mol_m3[self.species :]


class Speciation:
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
        self.chloric = _constant("acid", "HClO -> H+ + ClO-") * 1e3

    def of_cells(self, lanes: Places) -> Speciation:
        """Return the same for some of B solutions."""
        some = copy(self)
        some.hydrogensulfate = self.hydrogensulfate[lanes]
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

    def first_guess(self, acid_excess: Array) -> Array:
        """Return ln c(H+) of water that holds the acid excess and nothing else."""
        larger = 0.5 * (np.abs(acid_excess) + np.sqrt(acid_excess**2 + 4 * self.water))
        hydrogen = np.where(acid_excess > 0, larger, self.water / larger)
        return np.asarray(np.log(hydrogen))

    def speciate(self, solved: Array, ln_hydrogen: Array, *, tolerance: float = EXACT) -> Speciated:
        """Return the species at every node.

        Parameters
        ----------
        solved
            The totals solved for, (M, B, N) or (M, N).
        ln_hydrogen
            A guess of ln c(H+), (B, N) or (N,): the last one known.
        tolerance
            How far the acid balance may be off, relative to its terms, before the last Newton step;
            that one is taken along the slopes and squares what is left.
        """
        totals = self.all_totals(solved)
        w = ln_hydrogen
        low, high = np.full(w.shape, LEAST_LN_HYDROGEN), np.full(w.shape, MOST_LN_HYDROGEN)
        for attempt in range(MOST_ATTEMPTS):
            balance = _Balance(self, totals, w)
            off = np.abs(balance.residual) > tolerance * balance.size
            if not off.any():
                break
            better = balance.better()
            if attempt >= PLAIN_ATTEMPTS:
                # the balance rises with w: what is known of its sign brackets the answer
                low = np.where(balance.residual < 0, w, low)
                high = np.where(balance.residual < 0, high, w)
                inside = (better > low) & (better < high)
                # Newton's method can jump from end to end: halving now and then ends that
                trusted = inside & bool((attempt - PLAIN_ATTEMPTS) % HALVE_EVERY)
                better = np.where(off, np.where(trusted, better, 0.5 * (low + high)), w)
            w = better
        return balance.speciated()


class _Balance:
    """The acid balance at given ln c(H+), its slope, and the species that belong to it."""

    def __init__(self, model: Speciation, totals: Array, w: Array) -> None:
        self.model = model
        self.totals = totals
        self.w = w
        row = model.row
        acid = totals[row[ACID]]
        self.hydrogen = np.exp(w)
        self.hydroxide = model.water / self.hydrogen
        free = self.hydrogen - self.hydroxide
        self.residual = free - acid
        self.slope = self.hydrogen + self.hydroxide
        self.size = self.slope + np.abs(acid)
        if model.has_sulfate:
            total = totals[row["SO4^2-"]]
            self.protonated = self.hydrogen / (model.hydrogensulfate + self.hydrogen)
            self.hydrogensulfate = total * self.protonated
            self.residual += self.hydrogensulfate
            self.hydrogensulfate_slope = self.hydrogensulfate * (1 - self.protonated)
            self.slope += self.hydrogensulfate_slope
        self.copper: CopperSplit | None = None
        if model.copper:
            self.copper = model.copper.split(
                totals[row[COPPER_ONE]], totals[row["Cl-"]], self.hydroxide
            )
            self.residual -= self.copper.oxide.value
            self.slope -= self.copper.oxide.by_w
            self.size += np.abs(self.copper.oxide.value)
        if model.has_chlorine:
            self._chlorine(totals[row["Cl-"]], totals[row[OXIDISED_CHLORINE]])
        self.metals: list[tuple[Hydroxide, Precipitated]] = []
        for hydroxide in model.hydroxides:
            held = hydroxide.split(totals[row[hydroxide.ion]], self.hydroxide)
            self.metals.append((hydroxide, held))
            self.residual += held.acid
            self.slope += held.acid_by_w
            self.size += np.abs(held.acid)

    def better(self) -> Array:
        """Return a better ln c(H+), by Newton's method.

        Where the liquid hardly buffers, the balance is nearly straight in ``c(H+) - c(OH-)``; where it
        does, in ln c(H+). The variable in which it is straighter takes the step.
        """
        by_ln = self.w + np.clip(-self.residual / self.slope, -3.0, 3.0)
        water = self.hydrogen + self.hydroxide
        free = self.hydrogen - self.hydroxide - self.residual * (water / self.slope)
        root = math.sqrt(self.model.water)
        by_free = np.arcsinh(free / (2 * root)) + math.log(root)
        return np.asarray(np.where(self.slope < BUFFERED * water, by_free, by_ln))

    def _chlorine(self, chloride: Array, oxidised: Array) -> None:
        if self.copper:
            chloride = self.copper.free_chloride.value
        # c(Cl2) = r (oxidised - c)(chloride - c), r = c(H+) f / K, f = undissociated share of HClO
        model = self.model
        f = self.hydrogen / (self.hydrogen + model.chloric)
        r = f * self.hydrogen / model.chlorine
        b = r * (chloride + oxidised) + 1
        cl2 = 2 * r * chloride * oxidised / (b + np.sqrt(b * b - 4 * r * r * chloride * oxidised))
        self.rest_oxidised = oxidised - cl2
        self.rest_chloride = chloride - cl2
        denominator = r * (self.rest_oxidised + self.rest_chloride) + 1
        product = self.rest_oxidised * self.rest_chloride
        self.cl2 = cl2
        self.hclo_share = f
        self.cl2_by_w = product / denominator * r * (2 - f)
        self.cl2_by_chloride = r * self.rest_oxidised / denominator
        self.cl2_by_oxidised = r * self.rest_chloride / denominator
        self.clo_by_w = -f * (1 - f) * self.rest_oxidised - (1 - f) * self.cl2_by_w
        clo = (1 - f) * self.rest_oxidised
        self.residual += cl2 - clo
        self.slope += self.cl2_by_w - self.clo_by_w
        if self.copper:
            self.slope += (2 - f) * self.cl2_by_chloride * self.copper.free_chloride.by_w
        self.size += np.abs(cl2) + np.abs(clo)

    def speciated(self) -> Speciated:
        """Return species and slopes; ln c(H+) answers to the totals through the acid balance."""
        model, row, at = self.model, self.model.row, self.model.at
        count, places = len(model.totals), self.w.shape
        concentration = np.empty((len(model.carried), *places))
        by_w = np.zeros((len(model.carried), *places))
        by_total = np.zeros((len(model.carried), count, *places))
        for name in model.totals:
            if name in at:
                concentration[at[name]] = self.totals[row[name]]
                by_total[at[name], row[name]] = 1.0
        concentration[at["H+"]] = self.hydrogen
        concentration[at["OH-"]] = self.hydroxide
        by_w[at["H+"]] = self.hydrogen
        by_w[at["OH-"]] = -self.hydroxide
        balance_by_total = np.zeros((count, *places))
        balance_by_total[row[ACID]] = -1.0
        if model.has_sulfate:
            sulfate, hydrogensulfate = at["SO4^2-"], at["HSO4-"]
            concentration[sulfate] -= self.hydrogensulfate
            concentration[hydrogensulfate] = self.hydrogensulfate
            by_w[sulfate] = -self.hydrogensulfate_slope
            by_w[hydrogensulfate] = self.hydrogensulfate_slope
            by_total[sulfate, row["SO4^2-"]] -= self.protonated
            by_total[hydrogensulfate, row["SO4^2-"]] = self.protonated
            balance_by_total[row["SO4^2-"]] += self.protonated
        if model.has_chlorine:
            self._place_chlorine(concentration, by_w, by_total, balance_by_total)
        if self.copper:
            self._place_copper(self.copper, concentration, by_w, by_total, balance_by_total)
        for hydroxide, held in self.metals:
            ion, total = at[hydroxide.ion], row[hydroxide.ion]
            concentration[ion] = held.free
            by_w[ion] = held.free_by_w
            by_total[ion, total] = held.free_by_total
            if hydroxide.complex:
                bound = at[hydroxide.complex]
                concentration[bound] = held.bound
                by_w[bound] = held.bound_by_w
                by_total[bound, total] = held.bound_by_total
            solid = at[hydroxide.solid]
            concentration[solid] = held.solid
            by_w[solid] = held.solid_by_w
            by_total[solid, total] = held.solid_by_total
            balance_by_total[total] += held.acid_by_total
        for trihalide in model.trihalides:
            self._place_trihalide(trihalide, concentration, by_total)
        w_by_total = -balance_by_total / self.slope
        by_total += by_w[:, None] * w_by_total
        # the eliminated total answers to the others
        others = model.expansion[model.eliminated_row].reshape(-1, *[1] * len(places))
        slope = by_total[:, model.solved_rows]
        slope += others * by_total[:, model.eliminated_row, None]
        w_by_solved = w_by_total[model.solved_rows]
        w_by_solved += others * w_by_total[model.eliminated_row]
        step = np.clip(-self.residual / self.slope, -1.0, 1.0)
        concentration += by_w * step
        return Speciated(concentration, slope, len(model.species), self.w + step, w_by_solved)

    def _place_chlorine(
        self, concentration: Array, by_w: Array, by_total: Array, balance_by_total: Array
    ) -> None:
        row, at = self.model.row, self.model.at
        f = self.hclo_share
        chloride, oxidised = row["Cl-"], row[OXIDISED_CHLORINE]
        concentration[at["Cl-"]] = self.rest_chloride
        concentration[at["Cl2"]] = self.cl2
        concentration[at["HClO"]] = f * self.rest_oxidised
        concentration[at["ClO-"]] = (1 - f) * self.rest_oxidised
        by_w[at["Cl-"]] = -self.cl2_by_w
        by_w[at["Cl2"]] = self.cl2_by_w
        by_w[at["ClO-"]] = self.clo_by_w
        by_w[at["HClO"]] = -self.cl2_by_w - self.clo_by_w
        by_total[at["Cl-"], chloride] = 1 - self.cl2_by_chloride
        by_total[at["Cl-"], oxidised] = -self.cl2_by_oxidised
        by_total[at["Cl2"], chloride] = self.cl2_by_chloride
        by_total[at["Cl2"], oxidised] = self.cl2_by_oxidised
        for name, share in (("HClO", f), ("ClO-", 1 - f)):
            by_total[at[name], chloride] = -share * self.cl2_by_chloride
            by_total[at[name], oxidised] = share * (1 - self.cl2_by_oxidised)
        balance_by_total[chloride] += (2 - f) * self.cl2_by_chloride
        balance_by_total[oxidised] += self.cl2_by_oxidised - (1 - f) * (1 - self.cl2_by_oxidised)

    def _place_copper(
        self,
        copper: CopperSplit,
        concentration: Array,
        by_w: Array,
        by_total: Array,
        balance_by_total: Array,
    ) -> None:
        row, at = self.model.row, self.model.at
        whole, chloride, free = row[COPPER_ONE], row["Cl-"], copper.free_chloride
        # chlorine and its acids answer to the chloride that copper(I) leaves free
        for name in ("Cl-", "Cl2", "HClO", "ClO-"):
            place = at[name]
            by_free = by_total[place, chloride].copy()
            by_w[place] += by_free * free.by_w
            by_total[place, whole] = by_free * free.by_copper
            by_total[place, chloride] = by_free * free.by_chloride
        by_free = balance_by_total[chloride].copy()
        balance_by_total[whole] = by_free * free.by_copper - copper.oxide.by_copper
        balance_by_total[chloride] = by_free * free.by_chloride - copper.oxide.by_chloride
        for name, held in (
            (DISSOLVED, copper.dissolved),
            (CHLORIDE, copper.chloride),
            (OXIDE, copper.oxide.times(0.5)),
        ):
            place = at[name]
            concentration[place] = held.value
            by_w[place] = held.by_w
            by_total[place, whole] = held.by_copper
            by_total[place, chloride] = held.by_chloride

    def _place_trihalide(self, trihalide: Trihalide, concentration: Array, by_total: Array) -> None:
        row, at = self.model.row, self.model.at
        halide, oxidised = row[trihalide.halide], row[trihalide.oxidised]
        bound, by_halide, by_oxidised = trihalide.bind(self.totals[halide], self.totals[oxidised])
        place = at[trihalide.bound]
        concentration[place] = bound
        by_total[place, halide] = by_halide
        by_total[place, oxidised] = by_oxidised
        for free, whole in ((trihalide.halogen, oxidised), (trihalide.halide, halide)):
            place = at[free]
            concentration[place] = self.totals[whole] - bound
            by_total[place, halide] = -by_halide
            by_total[place, oxidised] = -by_oxidised
            by_total[place, whole] += 1.0
