"""What a step of cells works on: its unknowns, what it knows of the past, and where a state keeps what."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import accumulate
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    Flags = np.ndarray[tuple[int, ...], np.dtype[np.bool_]]
    Places = np.ndarray[tuple[int, ...], np.dtype[np.int_]]


@dataclass(frozen=True, slots=True)
class SupplyControl:
    """What the supply of each of B cells holds: its voltage, or its current.

    Parameters
    ----------
    voltage
        Whether it is the voltage, (B,).
    value
        Voltage in V, or logarithm of the current in A, (B,).
    """

    voltage: Flags
    value: Array


@dataclass(frozen=True, slots=True)
class Unknowns:
    """The unknowns of a step of B cells."""

    totals: Array  #: solved totals, (M, B, N), mol/m3
    u: Array  #: potential steps between nodes in RT/F, (B, N - 1)
    potential_V: Array  #: of electrode 0 and 1 against the liquid at its face, (B, 2)
    ln_current: Array  #: ln(I / A), (B,)
    mixing: Array  #: in the film at electrode 0 and 1, of the reference coefficient, (B, 2)

    def at(self, members: Places) -> Unknowns:
        """Return those of some cells."""
        return Unknowns(
            self.totals[:, members],
            self.u[members],
            self.potential_V[members],
            self.ln_current[members],
            self.mixing[members],
        )


@dataclass(frozen=True, slots=True)
class Step:
    """A step in time: the rate of change of anything is ``leading`` times its value plus its history.

    Parameters
    ----------
    leading
        1/s, (B,).
    totals, mixing
        Histories of the totals, (M, B, N), and of the mixing, (B, 2), per second.
    supply_control
        What the supplies hold.
    """

    leading: Array
    totals: Array
    mixing: Array
    supply_control: SupplyControl


@dataclass(frozen=True, slots=True)
class Layout:
    """Where each part of a cell's state stands in one flat vector."""

    totals: slice
    shape: tuple[int, int]
    amounts: (
        slice  #: reactions at electrode 0, at 1, gases left and bubbles at 0, at 1, solids settled
    )
    mixing: slice
    potential: slice
    ln_current: int
    u: slice
    equilibrium: slice
    rates: slice  #: of the reactions at electrode 0 and 1, mol/s
    reactions: int  #: how many of the amounts are of reactions
    gases: int  #: and how many of gases and bubbles; the rest are of solids

    @classmethod
    def of(cls, unknowns: Unknowns, known: int, reactions: int, gases: int, solids: int) -> Layout:
        """Return the layout for these unknowns; ``known`` numbers describe the equilibrium of a node."""
        m, _, nodes = unknowns.totals.shape
        sizes = {
            "totals": m * nodes,
            "amounts": reactions + gases + solids,
            "mixing": 2,
            "potential": 2,
            "ln_current": 1,
            "u": nodes - 1,
            "equilibrium": known * nodes,
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
            equilibrium=at["equilibrium"],
            rates=slice(ends["equilibrium"], None),
            reactions=reactions,
            gases=gases,
        )

    def pack(self, unknowns: Unknowns, amounts: Array, equilibrium: Array, rates: Array) -> Array:
        """Return the flat vectors, (B, size); amounts (B, A), equilibrium (U, B, N), rates (B, 2, R)."""
        cells = len(unknowns.u)
        return np.concatenate(
            [
                unknowns.totals.swapaxes(0, 1).reshape(cells, -1),
                amounts,
                unknowns.mixing,
                unknowns.potential_V,
                unknowns.ln_current[:, None],
                unknowns.u,
                equilibrium.swapaxes(0, 1).reshape(cells, -1),
                rates.reshape(cells, -1),
            ],
            axis=1,
        )

    def totals_of(self, states: Array) -> Array:
        """Return the totals in flat vectors (K, at least so long), (M, K, N)."""
        return states[:, self.totals].reshape(len(states), *self.shape).swapaxes(0, 1)

    def equilibrium_of(self, states: Array) -> Array:
        """Return what is known of the equilibria in flat vectors (K, size), (U, K, N)."""
        kept = states[:, self.equilibrium]
        return kept.reshape(len(states), -1, self.shape[1]).swapaxes(0, 1)

    def unknowns(self, states: Array) -> Unknowns:
        """Return the unknowns in flat vectors (B, size)."""
        return Unknowns(
            self.totals_of(states),
            states[:, self.u],
            states[:, self.potential],
            states[:, self.ln_current],
            states[:, self.mixing],
        )
