"""The acid balance of every node at a given acidity: its miss, its slope, and the species there."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell.physics.copper_chloride import (
    CHLORIDE,
    COPPER_ONE,
    DISSOLVED,
    OXIDE,
    CopperSplit,
)
from fizzplate.cell.physics.species import ACID, OXIDISED_CHLORINE, SpeciesProfile

if TYPE_CHECKING:
    from fizzplate.cell.physics.equilibria import Equilibria
    from fizzplate.cell.physics.precipitation import Hydroxide, MetalForms
    from fizzplate.cell.physics.trihalides import Trihalide

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

BUFFERED = 4.0  # slope against that of water alone from which a liquid counts as buffered


class AcidBalance:
    """The acid balance at given ln c(H+), its slope, and the species that belong to it.

    Parameters
    ----------
    model
        Which species there can be, and their constants.
    totals
        All totals, (totals, B, N) or (totals, N).
    ln_hydrogen
        ln c(H+), (B, N) or (N,).
    """

    def __init__(self, model: Equilibria, totals: Array, ln_hydrogen: Array) -> None:
        self.model = model
        self.totals = totals
        self.ln_hydrogen = ln_hydrogen
        row = model.row
        acid = totals[row[ACID]]
        self.hydrogen = np.exp(ln_hydrogen)
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
            self.slope -= self.copper.oxide.by_ln_hydrogen
            self.size += np.abs(self.copper.oxide.value)
        if model.has_chlorine:
            self._chlorine(totals[row["Cl-"]], totals[row[OXIDISED_CHLORINE]])
        self.metals: list[tuple[Hydroxide, MetalForms]] = []
        for hydroxide in model.hydroxides:
            held = hydroxide.split(totals[row[hydroxide.ion]], self.hydroxide)
            self.metals.append((hydroxide, held))
            self.residual += held.acid
            self.slope += held.acid_by_ln_hydrogen
            self.size += np.abs(held.acid)

    def better(self) -> Array:
        """Return a better ln c(H+), by Newton's method.

        Where the liquid hardly buffers, the balance is nearly straight in ``c(H+) - c(OH-)``; where it
        does, in ln c(H+). The variable in which it is straighter takes the step.
        """
        by_ln = self.ln_hydrogen + np.clip(-self.residual / self.slope, -3.0, 3.0)
        water = self.hydrogen + self.hydroxide
        free = self.hydrogen - self.hydroxide - self.residual * (water / self.slope)
        root = math.sqrt(self.model.water)
        by_free = np.arcsinh(free / (2 * root)) + math.log(root)
        return np.asarray(np.where(self.slope < BUFFERED * water, by_free, by_ln))

    def _chlorine(self, chloride: Array, oxidised: Array) -> None:
        """Hydrolysis of chlorine: ``Cl2 + H2O = HClO + H+ + Cl-`` and ``HClO = H+ + ClO-``."""
        if self.copper:
            chloride = self.copper.free_chloride.value
        # c(Cl2) = r (oxidised - c)(chloride - c), r = c(H+) f / K, f = undissociated share of HClO
        model = self.model
        f = self.hydrogen / (self.hydrogen + model.hypochlorous_acid)
        r = f * self.hydrogen / model.chlorine
        b = r * (chloride + oxidised) + 1
        cl2 = 2 * r * chloride * oxidised / (b + np.sqrt(b * b - 4 * r * r * chloride * oxidised))
        self.rest_oxidised = oxidised - cl2
        self.rest_chloride = chloride - cl2
        denominator = r * (self.rest_oxidised + self.rest_chloride) + 1
        product = self.rest_oxidised * self.rest_chloride
        self.cl2 = cl2
        self.hclo_share = f
        self.cl2_by_ln_hydrogen = product / denominator * r * (2 - f)
        self.cl2_by_chloride = r * self.rest_oxidised / denominator
        self.cl2_by_oxidised = r * self.rest_chloride / denominator
        self.clo_by_ln_hydrogen = (
            -f * (1 - f) * self.rest_oxidised - (1 - f) * self.cl2_by_ln_hydrogen
        )
        clo = (1 - f) * self.rest_oxidised
        self.residual += cl2 - clo
        self.slope += self.cl2_by_ln_hydrogen - self.clo_by_ln_hydrogen
        if self.copper:
            self.slope += (2 - f) * self.cl2_by_chloride * self.copper.free_chloride.by_ln_hydrogen
        self.size += np.abs(cl2) + np.abs(clo)

    def speciated(self) -> SpeciesProfile:
        """Return species and slopes; ln c(H+) answers to the totals through the acid balance."""
        model, row, at = self.model, self.model.row, self.model.at
        count, places = len(model.totals), self.ln_hydrogen.shape
        concentration = np.empty((len(model.carried), *places))
        by_ln_hydrogen = np.zeros((len(model.carried), *places))
        by_total = np.zeros((len(model.carried), count, *places))
        for name in model.totals:
            if name in at:
                concentration[at[name]] = self.totals[row[name]]
                by_total[at[name], row[name]] = 1.0
        concentration[at["H+"]] = self.hydrogen
        concentration[at["OH-"]] = self.hydroxide
        by_ln_hydrogen[at["H+"]] = self.hydrogen
        by_ln_hydrogen[at["OH-"]] = -self.hydroxide
        balance_by_total = np.zeros((count, *places))
        balance_by_total[row[ACID]] = -1.0
        if model.has_sulfate:
            sulfate, hydrogensulfate = at["SO4^2-"], at["HSO4-"]
            concentration[sulfate] -= self.hydrogensulfate
            concentration[hydrogensulfate] = self.hydrogensulfate
            by_ln_hydrogen[sulfate] = -self.hydrogensulfate_slope
            by_ln_hydrogen[hydrogensulfate] = self.hydrogensulfate_slope
            by_total[sulfate, row["SO4^2-"]] -= self.protonated
            by_total[hydrogensulfate, row["SO4^2-"]] = self.protonated
            balance_by_total[row["SO4^2-"]] += self.protonated
        if model.has_chlorine:
            self._place_chlorine(concentration, by_ln_hydrogen, by_total, balance_by_total)
        if self.copper:
            self._place_copper(
                self.copper, concentration, by_ln_hydrogen, by_total, balance_by_total
            )
        for hydroxide, held in self.metals:
            ion, total = at[hydroxide.ion], row[hydroxide.ion]
            concentration[ion] = held.free
            by_ln_hydrogen[ion] = held.free_by_ln_hydrogen
            by_total[ion, total] = held.free_by_total
            if hydroxide.complex:
                bound = at[hydroxide.complex]
                concentration[bound] = held.bound
                by_ln_hydrogen[bound] = held.bound_by_ln_hydrogen
                by_total[bound, total] = held.bound_by_total
            solid = at[hydroxide.solid]
            concentration[solid] = held.solid
            by_ln_hydrogen[solid] = held.solid_by_ln_hydrogen
            by_total[solid, total] = held.solid_by_total
            balance_by_total[total] += held.acid_by_total
        for trihalide in model.trihalides:
            self._place_trihalide(trihalide, concentration, by_total)
        ln_hydrogen_by_total = -balance_by_total / self.slope
        by_total += by_ln_hydrogen[:, None] * ln_hydrogen_by_total
        # the eliminated total answers to the others
        others = model.expansion[model.eliminated_row].reshape(-1, *[1] * len(places))
        slope = by_total[:, model.solved_rows]
        slope += others * by_total[:, model.eliminated_row, None]
        ln_hydrogen_by_solved = ln_hydrogen_by_total[model.solved_rows]
        ln_hydrogen_by_solved += others * ln_hydrogen_by_total[model.eliminated_row]
        step = np.clip(-self.residual / self.slope, -1.0, 1.0)
        concentration += by_ln_hydrogen * step
        return SpeciesProfile(
            concentration, slope, len(model.species), self.ln_hydrogen + step, ln_hydrogen_by_solved
        )

    def _place_chlorine(
        self, concentration: Array, by_ln_hydrogen: Array, by_total: Array, balance_by_total: Array
    ) -> None:
        row, at = self.model.row, self.model.at
        f = self.hclo_share
        chloride, oxidised = row["Cl-"], row[OXIDISED_CHLORINE]
        concentration[at["Cl-"]] = self.rest_chloride
        concentration[at["Cl2"]] = self.cl2
        concentration[at["HClO"]] = f * self.rest_oxidised
        concentration[at["ClO-"]] = (1 - f) * self.rest_oxidised
        by_ln_hydrogen[at["Cl-"]] = -self.cl2_by_ln_hydrogen
        by_ln_hydrogen[at["Cl2"]] = self.cl2_by_ln_hydrogen
        by_ln_hydrogen[at["ClO-"]] = self.clo_by_ln_hydrogen
        by_ln_hydrogen[at["HClO"]] = -self.cl2_by_ln_hydrogen - self.clo_by_ln_hydrogen
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
        by_ln_hydrogen: Array,
        by_total: Array,
        balance_by_total: Array,
    ) -> None:
        row, at = self.model.row, self.model.at
        whole, chloride, free = row[COPPER_ONE], row["Cl-"], copper.free_chloride
        # chlorine and its acids answer to the chloride that copper(I) leaves free
        for name in ("Cl-", "Cl2", "HClO", "ClO-"):
            place = at[name]
            by_free = by_total[place, chloride].copy()
            by_ln_hydrogen[place] += by_free * free.by_ln_hydrogen
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
            by_ln_hydrogen[place] = held.by_ln_hydrogen
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
