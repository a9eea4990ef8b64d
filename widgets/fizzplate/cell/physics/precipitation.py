"""Precipitation of metal hydroxides: what stays dissolved, what precipitates, what dissolves again in excess.

Solubility product ``K_s = c(M) c(OH-)^n``, complex ``beta = c(M(OH)k) / (c(M) c(OH-)^k)`` (hydrolysis of the
metal ion).

With ``limit = K_s / c(OH-)^n``, what may stay as free ions, and ``D = 1 + beta c(OH-)^k``, dissolved
over free ions, the dissolved metal is a smooth minimum of the total and ``limit D``: matter is
conserved exactly, and there is no kink for the solver to stumble over.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.cell.physics.smoothing import smooth_minimum
from fizzplate.chemistry import parse_formula

if TYPE_CHECKING:
    from collections.abc import Iterable

    import numpy as np

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]


@dataclass(frozen=True, slots=True)
class MetalForms:
    """A metal at N nodes, with slopes by ln c(H+) (``by_ln_hydrogen``) and by the metal's total.

    Parameters
    ----------
    free, bound, solid
        Free ions, hydroxide complex and solid, mol/m3, (N,).
    acid
        What they add to the acid balance: minus the hydroxide that they hold.
    """

    free: Array
    free_by_ln_hydrogen: Array
    free_by_total: Array
    bound: Array
    bound_by_ln_hydrogen: Array
    bound_by_total: Array
    solid: Array
    solid_by_ln_hydrogen: Array
    solid_by_total: Array
    acid: Array
    acid_by_ln_hydrogen: Array
    acid_by_total: Array


@dataclass(frozen=True, slots=True)
class Hydroxide:
    """A hydroxide M(OH)n and, where it dissolves in excess alkali, the complex M(OH)k."""

    solid: str
    ion: str
    solubility_product: float  #: mol/m3 to the power 1 + n
    hydroxides: int  #: n
    complex: str = ""
    complex_constant: float = 0.0  #: beta, mol/m3 to the power -k
    complex_hydroxides: int = 0  #: k

    def split(self, total: Array, hydroxide: Array) -> MetalForms:
        """Split a metal's total among free ions, complex and solid at given c(OH-), mol/m3."""
        n, k = self.hydroxides, self.complex_hydroxides
        excess = self.complex_constant * hydroxide**k if self.complex else 0.0 * hydroxide
        over = 1 + excess
        # d ln D / d ln c(H+), for c(OH-) falls as ln c(H+) rises
        over_slope = -k * excess / over
        limit = self.solubility_product / hydroxide**n * over
        least = smooth_minimum(total, limit)
        dissolved = least.value
        dissolved_by_ln_hydrogen = least.by_ln_limit * (n + over_slope)
        dissolved_by_total = least.by_there
        free = dissolved / over
        free_by_ln_hydrogen = (dissolved_by_ln_hydrogen - dissolved * over_slope) / over
        free_by_total = dissolved_by_total / over
        bound_by_ln_hydrogen = dissolved_by_ln_hydrogen - free_by_ln_hydrogen
        bound_by_total = dissolved_by_total - free_by_total
        bound = dissolved - free
        solid = total - dissolved
        return MetalForms(
            free=free,
            free_by_ln_hydrogen=free_by_ln_hydrogen,
            free_by_total=free_by_total,
            bound=bound,
            bound_by_ln_hydrogen=bound_by_ln_hydrogen,
            bound_by_total=bound_by_total,
            solid=solid,
            solid_by_ln_hydrogen=-dissolved_by_ln_hydrogen,
            solid_by_total=1 - dissolved_by_total,
            acid=-n * solid - k * bound,
            acid_by_ln_hydrogen=n * dissolved_by_ln_hydrogen - k * bound_by_ln_hydrogen,
            acid_by_total=-n * (1 - dissolved_by_total) - k * bound_by_total,
        )


def hydroxides_of(ions: Iterable[str]) -> tuple[Hydroxide, ...]:
    """Return the hydroxides in the tables whose metal ion is among ``ions``.

    Examples
    --------
    >>> [h.complex for h in hydroxides_of(["Cu2+", "Zn2+"])]
    ['', 'Zn(OH)4^2-']
    """
    wanted = set(ions)
    complexes = {}
    for row in data.rows("equilibria"):
        if row["kind"] == "hydroxide complex":
            reactants, formed = row["equation"].split(" -> ")
            ion, hydroxide = reactants.split(" + ")
            k = int(hydroxide.removesuffix("OH-") or 1)
            complexes[ion] = (formed, row.value * 1e3**-k, k)
    found = []
    for row in data.rows("equilibria"):
        if row["kind"] == "hydroxide":
            solid, products = row["equation"].split(" -> ")
            ion = products.split(" + ")[0]
            n = parse_formula(ion).charge
            if ion in wanted:
                more = complexes.get(ion, ("", 0.0, 0))
                found.append(Hydroxide(solid, ion, row.value * 1e3 ** (1 + n), n, *more))
    return tuple(found)
