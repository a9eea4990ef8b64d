"""Dissolved bromine and iodine, partly bound to their halide: ``X2 + X- <-> X3-``."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data

if TYPE_CHECKING:
    from collections.abc import Iterable

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]


@dataclass(frozen=True, slots=True)
class Trihalide:
    """A halogen and its halide.

    Parameters
    ----------
    halide, halogen, bound
        Formulae of X-, X2 and X3-.
    constant_m3_mol
        ``c(X3-) / (c(X2) c(X-))``.
    """

    halide: str
    halogen: str
    bound: str
    constant_m3_mol: float

    @property
    def oxidised(self) -> str:
        """Name of the total of X2 and X3-."""
        return f"oxidised {self.halogen}"

    def bind(self, halide: Array, oxidised: Array) -> tuple[Array, Array, Array]:
        """Return c(X3-), (N,), and its slopes by total halide and total oxidised halogen.

        The smaller root of ``(halide - x)(oxidised - x) K = x``, without cancellation.
        """
        sum_ = halide + oxidised + 1 / self.constant_m3_mol
        root = np.sqrt(sum_ * sum_ - 4 * halide * oxidised)
        bound = 2 * halide * oxidised / (sum_ + root)
        return bound, (oxidised - bound) / root, (halide - bound) / root


def trihalides_of(ions: Iterable[str]) -> tuple[Trihalide, ...]:
    """Return the trihalides in the tables whose halide is among ``ions``.

    Examples
    --------
    >>> [t.bound for t in trihalides_of(["K+", "I-"])]
    ['I3^-']
    """
    wanted = set(ions)
    found = []
    for row in data.rows("equilibria"):
        if row["kind"] == "halogen complex":
            reactants, bound = row["equation"].split(" -> ")
            halogen, halide = reactants.split(" + ")
            if halide in wanted:
                found.append(Trihalide(halide, halogen, bound, row.value * 1e-3))
    return tuple(found)
