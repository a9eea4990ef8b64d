"""Copper(I) in chloride: dissolved as CuCl2-, or solid as white CuCl or, where alkaline, orange Cu2O.

With ``f`` the free chloride, what may stay dissolved is ``K f`` beside CuCl and ``q f^2`` beside Cu2O,
``q = K_o / c(OH-)``. All of it holds chloride, so the limits are computed for the total:

- with Cu2O there, ``y``, the copper(I) that it leaves, and free chloride share the chloride total
  exactly: a quadratic until CuCl joins it at ``f = K / q``, one for one from there;
- of ``y``, CuCl leaves ``K (chloride - y) / (1 + K)`` dissolved.

Both take the smooth minimum of what there is and what may be. Free chloride is never below zero.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data
from fizzplate.cell.physics.smoothing import smooth_minimum

if TYPE_CHECKING:
    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

COPPER_ONE = "copper(I)"  #: name of the conserved total
DISSOLVED = "CuCl2-"
CHLORIDE = "CuCl"
OXIDE = "Cu2O"
MIN_CHLORIDE = 1e-12  # mol/m3: a limit is never nothing


@dataclass(frozen=True, slots=True)
class Quantity:
    """A concentration (N,) with slopes by ln c(H+), total copper(I) and chloride."""

    value: Array
    by_ln_hydrogen: Array
    by_copper: Array
    by_chloride: Array

    def __add__(self, other: Quantity) -> Quantity:
        return Quantity(
            self.value + other.value,
            self.by_ln_hydrogen + other.by_ln_hydrogen,
            self.by_copper + other.by_copper,
            self.by_chloride + other.by_chloride,
        )

    def __sub__(self, other: Quantity) -> Quantity:
        return self + other.times(-1.0)

    def times(self, factor: float) -> Quantity:
        """Return this many times the quantity."""
        return Quantity(
            factor * self.value,
            factor * self.by_ln_hydrogen,
            factor * self.by_copper,
            factor * self.by_chloride,
        )

    def smooth_minimum(self, limit: Quantity) -> Quantity:
        """Return the smooth minimum of this and a positive limit."""
        least = smooth_minimum(self.value, limit.value)
        by_limit = least.by_ln_limit / limit.value
        return Quantity(
            least.value,
            least.by_there * self.by_ln_hydrogen + by_limit * limit.by_ln_hydrogen,
            least.by_there * self.by_copper + by_limit * limit.by_copper,
            least.by_there * self.by_chloride + by_limit * limit.by_chloride,
        )


@dataclass(frozen=True, slots=True)
class CopperSplit:
    """Copper(I) at N nodes, mol/m3: dissolved, as CuCl, and per atom of copper as Cu2O."""

    dissolved: Quantity
    chloride: Quantity
    oxide: Quantity
    free_chloride: Quantity


@dataclass(frozen=True, slots=True)
class CopperInChloride:
    """Equilibria of copper(I).

    Parameters
    ----------
    chloride_constant
        ``K = c(CuCl2-) / c(Cl-)`` beside CuCl.
    oxide_constant
        ``K_o = c(CuCl2-) c(OH-) / c(Cl-)^2`` beside Cu2O.
    """

    chloride_constant: float
    oxide_constant: float

    @classmethod
    def of_tables(cls) -> CopperInChloride:
        """Return the equilibria as the tables give them."""
        return cls(
            data.find("equilibria", kind="copper(I) chloride").value,
            data.find("equilibria", kind="copper(I) oxide").value,
        )

    def split(self, copper: Array, chloride: Array, hydroxide: Array) -> CopperSplit:
        """Split total copper(I) beside total chloride at given c(OH-), mol/m3."""
        none, one = np.zeros_like(copper), np.ones_like(copper)
        k = self.chloride_constant
        there = Quantity(copper, none, one, none)
        held = Quantity(np.maximum(chloride, MIN_CHLORIDE), none, none, one)
        # c(OH-) falls as ln c(H+) rises: q rises with it
        q = self.oxide_constant / hydroxide
        both = (1 + 2 * k) * k / q  # chloride from which CuCl joins Cu2O
        in_solution = held.smooth_minimum(Quantity(both, -both, none, none))
        beside_oxide = (held - in_solution) + self._beside_oxide(q, in_solution)
        left = there.smooth_minimum(beside_oxide)
        dissolved = left.smooth_minimum((held - left).times(k / (1 + k)))
        return CopperSplit(
            dissolved=dissolved,
            chloride=left - dissolved,
            oxide=there - left,
            free_chloride=Quantity(chloride, none, none, one) - left - dissolved,
        )

    def _beside_oxide(self, q: Array, chloride: Quantity) -> Quantity:
        """Return ``x = q (chloride - 2x)^2``, what is dissolved beside Cu2O alone."""
        a = q * chloride.value
        x = 2 * a * chloride.value / (4 * a + 1 + np.sqrt(8 * a + 1))
        free = chloride.value - 2 * x
        stiff = 1 + 4 * q * free
        by_chloride = 2 * q * free / stiff
        return Quantity(
            x,
            x / stiff + by_chloride * chloride.by_ln_hydrogen,
            by_chloride * chloride.by_copper,
            by_chloride * chloride.by_chloride,
        )
