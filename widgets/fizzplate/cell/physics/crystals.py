"""Where a salt crystallises on a metal that dissolves: its ions leave no faster than they move away.

A metal's ions and an anion of the solution are saturated at a face where ``q = 1``, with

    ``q = (c_M^a c_X^b / K)^(1 / (a + b))``,    ``K = (a s)^a (b s)^b``

for the salt ``M_a X_b`` whose saturated solution holds ``s`` mol/dm3: in a solution of that salt alone ``q``
is its concentration over ``s``, and more of the anion leaves room for less of the metal. Total
concentrations are used, pairs included: at these strengths no activity law holds. A crust of crystals then
covers the metal, and the current that dissolves it falls to what the ions carry away. In the equations that
is a supply of *room*: across the layer next to the face no more dissolves than ``n F D s (1 - q) / layer``,
rounded off about ``q = 1``. Iron(III) that an anode makes of iron(II) is limited in the same way.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data
from fizzplate.chemistry import parse_formula, species_name

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

WIDTH = 0.005  # of q: rounds the corner at saturation, and lets q rise to 1.05 at most
COVERED_FROM = 1 - 2 * WIDTH  # of q: here crystals begin to slow a metal down
FAR = -30.0  # in widths beyond saturation: there the logarithm of the room is straight


@dataclass(frozen=True, slots=True)
class Saturation:
    """When a salt of the metal that dissolves is saturated.

    Parameters
    ----------
    name
        Of the salt, in words.
    exponents
        Row of each ion and its exponent in ``q``, (row, exponent).
    ln_saturated
        ``ln(K) / (a + b)``, concentrations in mol/m3.
    saturated_mol_m3
        The metal's ions in the salt's saturated solution.
    """

    name: str
    exponents: tuple[tuple[int, float], ...]
    ln_saturated: float
    saturated_mol_m3: float

    def q(self, concentration_mol_m3: Mapping[int, Array]) -> Array:
        """Return how near to saturation liquids are, from the concentrations of ions by row."""
        ln_q = sum(
            exponent * np.log(np.maximum(concentration_mol_m3[row], 1e-12))
            for row, exponent in self.exponents
        )
        return np.asarray(np.exp(ln_q - self.ln_saturated))


def saturations(cations: Iterable[str], at: Mapping[str, int]) -> tuple[Saturation, ...]:
    """Return the salts of some metals' ions that can crystallise with the species at these rows.

    Examples
    --------
    >>> (sulfate,) = saturations(["Cu2+"], {"Cu2+": 0, "SO4^2-": 1})
    >>> saturated = np.array(1350.0)
    >>> sulfate.name, round(float(sulfate.q({0: saturated, 1: saturated})), 6)
    ('copper(II) sulfate', 1.0)
    """
    wanted = set(cations)
    return tuple(
        _saturation(row, at)
        for row in data.rows("solubility")
        if row["cation"] in wanted and row["anion"] in at
    )


def _saturation(row: data.Row, at: Mapping[str, int]) -> Saturation:
    cation, anion = row["cation"], row["anion"]
    # the cation counts once: its concentration is what the table gives
    ratio = parse_formula(cation).charge / -parse_formula(anion).charge
    saturated_mol_m3 = 1e3 * row.value
    ions = 1 + ratio
    return Saturation(
        name=f"{species_name(cation)} {species_name(anion)}",
        exponents=((at[cation], 1 / ions), (at[anion], ratio / ions)),
        ln_saturated=(math.log(saturated_mol_m3) + ratio * math.log(ratio * saturated_mol_m3))
        / ions,
        saturated_mol_m3=saturated_mol_m3,
    )


def ln_room(q: Array) -> tuple[Array, Array]:
    """Return the logarithm of the room ``1 - q``, rounded off, and its derivative by ``ln q``."""
    x = (1 - q) / WIDTH
    near = np.maximum(x, FAR)
    softened = np.logaddexp(0.0, near)
    slope = -q / WIDTH / (1 + np.exp(-near)) / softened
    return np.log(WIDTH * softened) + np.minimum(x - FAR, 0.0), slope
