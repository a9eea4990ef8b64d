"""What a step works on: its unknowns, what it knows of the past, and where the state keeps each part."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import accumulate
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]


@dataclass(frozen=True, slots=True)
class Held:
    """What the supply holds: its voltage (V), or the logarithm of the current (A)."""

    voltage: bool
    value: float


@dataclass(slots=True)
class Unknowns:
    """The unknowns of a step."""

    totals: Array  #: solved totals, (M, N), mol/m3
    u: Array  #: potential steps between nodes in RT/F, (N - 1,)
    potential_V: Array  #: of electrode 0 and 1 against the liquid at its face, (2,)
    ln_current: float  #: ln(I / A)
    mixing: Array  #: in the film at electrode 0 and 1, of the reference coefficient, (2,)


@dataclass(frozen=True, slots=True)
class Step:
    """A step in time: the rate of change of anything is ``leading`` times its value plus its history.

    Parameters
    ----------
    leading
        1/s.
    totals, mixing
        Histories of the totals, (M, N), and of the mixing, (2,), per second.
    held
        What the supply holds.
    """

    leading: float
    totals: Array
    mixing: Array
    held: Held


@dataclass(frozen=True, slots=True)
class Layout:
    """Where each part of the state stands in one flat vector."""

    totals: slice
    shape: tuple[int, int]
    amounts: slice  #: reactions at electrode 0, at electrode 1, then gases left at 0 and 1
    mixing: slice
    potential: slice
    ln_current: int
    u: slice
    ln_hydrogen: slice
    rates: slice  #: of the reactions at electrode 0 and 1, mol/s

    @classmethod
    def of(cls, unknowns: Unknowns, amounts: int) -> Layout:
        """Return the layout for these unknowns and a number of amounts."""
        m, nodes = unknowns.totals.shape
        sizes = {
            "totals": m * nodes,
            "amounts": amounts,
            "mixing": 2,
            "potential": 2,
            "ln_current": 1,
            "u": nodes - 1,
            "ln_hydrogen": nodes,
        }
        ends = dict(zip(sizes, accumulate(sizes.values()), strict=True))
        at = {name: slice(end - sizes[name], end) for name, end in ends.items()}
        return cls(
            totals=at["totals"],
            shape=(m, nodes),
            amounts=at["amounts"],
            mixing=at["mixing"],
            potential=at["potential"],
            ln_current=at["ln_current"].start,
            u=at["u"],
            ln_hydrogen=at["ln_hydrogen"],
            rates=slice(ends["ln_hydrogen"], None),
        )

    def pack(self, unknowns: Unknowns, amounts: Array, ln_hydrogen: Array, rates: Array) -> Array:
        """Return the flat vector."""
        return np.concatenate(
            [
                unknowns.totals.ravel(),
                amounts,
                unknowns.mixing,
                unknowns.potential_V,
                [unknowns.ln_current],
                unknowns.u,
                ln_hydrogen,
                rates,
            ]
        )

    def unknowns(self, state: Array) -> Unknowns:
        """Return the unknowns in a flat vector (copies)."""
        return Unknowns(
            state[self.totals].reshape(self.shape).copy(),
            state[self.u].copy(),
            state[self.potential].copy(),
            float(state[self.ln_current]),
            state[self.mixing].copy(),
        )
