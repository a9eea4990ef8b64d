"""A guess at the equilibrium of many liquids, and how far it is off, all in one table.

One table, because places that are improved further are then picked from it, and put back, at once.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    Places = np.ndarray[tuple[int, ...], np.dtype[np.int_]]


class Guess:
    """A guess at N places with C components, S species and K solids; each part is a view of the table.

    Parameters
    ----------
    counts
        C, S and K.
    table
        (rows of all parts, N).

    Attributes
    ----------
    totals
        (C, N), never nothing but for H+.
    constants
        ln K of the species and then of the solids, (S + K, N).
    most_solid
        About how much of each solid there can be, (K, N).
    x, v
        What is guessed: ln of the free concentrations (C, N), and a number for every solid (K, N).
    trace, species, solid
        What the solids answer to ``x`` where they are no more than a trace, and amounts in mol/m3: (K, N),
        (S, N), (K, N). Neighbours in the table: ``weights`` are the first two, ``amounts`` the last two.
    held, size
        What the amounts add up to of each total, and without signs: (C, N) each, together ``sums``.
    short
        What the totals hold more than that, (C, N).
    share, present
        ``p(v)`` and its derivative, (K, N).
    index_off
        ``y`` and the saturation index less nothing, (K, N).
    off
        The largest of all these misses, relative to what adds up, (N,).
    """

    def __init__(self, counts: tuple[int, int, int], table: Array) -> None:
        C, S, K = counts
        self._counts = counts
        self.table = table
        self.totals = table[:C]
        self.x = table[C : 2 * C]
        self.sums = table[2 * C : 4 * C]
        self.held = table[2 * C : 3 * C]
        self.size = table[3 * C : 4 * C]
        self.short = table[4 * C : 5 * C]
        self.off = table[5 * C]
        row = 5 * C + 1
        self.constants = table[row : row + S + K]
        row += S + K
        self.weights = table[row : row + K + S]
        self.amounts = table[row + K : row + K + S + K]
        self.species = table[row + K : row + K + S]
        self.trace = table[row : row + K]
        self.solid = table[row + K + S : row + K + S + K]
        row += 2 * K + S
        self.v = table[row : row + K]
        self.most_solid = table[row + K : row + 2 * K]
        self.share = table[row + 2 * K : row + 3 * K]
        self.present = table[row + 3 * K : row + 4 * K]
        self.index_off = table[row + 4 * K : row + 5 * K]

    @classmethod
    def empty(cls, counts: tuple[int, int, int], places: int) -> Guess:
        """Return one at so many places that is still to be filled in."""
        C, S, K = counts
        return cls(counts, np.empty((5 * C + 1 + 2 * S + 8 * K, places)))

    def at(self, places: Places) -> Guess:
        """Return the same at some places."""
        return Guess(self._counts, self.table.take(places, axis=1))

    def put(self, places: Places, part: Guess) -> None:
        """Take over what is known of some places."""
        self.table[:, places] = part.table
