"""Newton's method in cells side by side: how near each has come to the solution of its own step."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell.solver.transport import LIMITS

if TYPE_CHECKING:
    from fizzplate.cell.solver.state import Unknowns
    from fizzplate.cell.solver.transport import NewtonStep

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    Places = np.ndarray[tuple[int, ...], np.dtype[np.int_]]
    Flags = np.ndarray[tuple[int, ...], np.dtype[np.bool_]]

MAX_ITERATIONS = 10
PATIENCE = 5  # iterations after which one that changes hardly less than the last is taken by halves
RUNAWAY = 10.0  # change of an iteration, relative to the scales, from which it has lost its way
MAX_CLIPPED_ITERATIONS = (
    25  # iterations besides: a potential may have to travel far when a reaction ends
)
MAX_QUICK = 16  # iterations in all, unless a step takes patience
UNKNOWN_BENDING = 1e9  # before there was a second iteration
FORGETTING = 1.3  # by what a step solved in one iteration makes the next less sure of it
DEFAULT_CONTRACTION = 0.3  # of a first iteration: no better is relied on
MAX_NEGATIVE = 1e-7  # of the largest total at the start
MAX_OVERSHOT = 5e-3  # change of an iteration, relative to the scales: its end can be told
HARDLY_LESS = 0.3  # of what is negative: when less is still to come, iterating does not mend it
FAR_OFF = 1e-2  # change of a first iteration: from here coefficients are worked out again
BORDER_WEIGHT = 0.1  # of a change in V, ln A or relative mixing beside one of the totals
PER_CELL = (
    *("leading", "history", "predicted", "reach", "moved", "size", "size_before", "bending"),
    *("part", "allowed", "overshot", "iteration", "steady", "left", "most"),
)


@dataclass(frozen=True, slots=True)
class Tolerance:
    """Largest error of a step, and how much of it may be left by Newton's iterations.

    Parameters
    ----------
    error
        Of a step, relative to the scales of concentrations, ln I and amounts.
    newton
        Of the equations, relative to ``error``.
    """

    error: float = 2e-2
    newton: float = 1e-3


@dataclass(slots=True)
class NewtonState:
    """Newton's method in B cells, each somewhere in its own step."""

    now: Unknowns
    equilibrium: Array  #: what is known of it, (U, B, N)
    leading: Array  #: (B,)
    history: Array  #: histories of what is advanced, (B, as in the layout up to the mixing)
    predicted: Array  #: (B, size)
    weight: Array  #: of a change of the totals, (M, B, N)
    reach: Array  #: of the bordering unknowns, (B, 5)
    moved: Array  #: what the potentials last changed by, (B, 2)
    size: Array  #: of the last change, (B,)
    size_before: Array  #: of the one before, (B,)
    bending: Array  #: by what a second change was smaller than the first, over the first, (B,)
    part: Array  #: of a change that is taken, (B,)
    allowed: Array  #: how far below zero a total may be at its end, of the largest, (B,)
    overshot: Flags  #: whether its formula leads below zero, (B,)
    iteration: Places  #: (B,)
    steady: Places  #: iterations since a change was cut back, (B,)
    left: Places  #: iterations that may still follow, (B,)
    most: Places  #: iterations after which a step is given up however they went, (B,)

    @classmethod
    def at(
        cls, start: Unknowns, equilibrium: Array, predicted: Array, advanced: int
    ) -> NewtonState:
        """Return the state of cells at their start, of whose states ``advanced`` numbers are advanced."""
        cells = len(start.u)
        return cls(
            now=start,
            equilibrium=equilibrium,
            leading=np.ones(cells),
            history=np.zeros((cells, advanced)),
            predicted=predicted,
            weight=np.ones_like(start.totals),
            reach=np.tile(LIMITS, (cells, 1)),
            moved=np.zeros((cells, 2)),
            size=np.ones(cells),
            size_before=np.ones(cells),
            bending=np.full(cells, UNKNOWN_BENDING),
            part=np.ones(cells),
            allowed=np.zeros(cells),
            overshot=np.zeros(cells, dtype=np.bool_),
            iteration=np.zeros(cells, dtype=np.int_),
            steady=np.zeros(cells, dtype=np.int_),
            left=np.zeros(cells, dtype=np.int_),
            most=np.zeros(cells, dtype=np.int_),
        )

    def keep(self, members: Places) -> None:
        """Keep only these cells."""
        self.now = self.now.at(members)
        self.weight = self.weight[:, members]
        self.equilibrium = self.equilibrium[:, members]
        for name in PER_CELL:
            setattr(self, name, getattr(self, name)[members])

    def begin(self, members: Places, takes_patience: Flags) -> None:
        """Begin the iterations of some cells' next step, which may take patience."""
        self.reach[members] = LIMITS
        self.moved[members] = 0.0
        self.iteration[members] = self.steady[members] = 0
        self.part[members] = 1.0
        self.left[members] = MAX_ITERATIONS
        patient = MAX_ITERATIONS + MAX_CLIPPED_ITERATIONS
        self.most[members] = np.where(takes_patience, patient, MAX_QUICK)

    def wants_coefficients(self) -> Flags:
        """Return whose coefficients are worked out now, (B,): at first, and once more if that was far off.

        Coefficients of the prediction alone would swing to and fro: it multiplies what differs by 15.
        """
        return np.asarray((self.iteration == 0) | ((self.iteration == 1) & (self.size > FAR_OFF)))

    def take(
        self, improved: NewtonStep, largest: Array, tolerance: Tolerance
    ) -> tuple[Flags, Flags]:
        """Take one iteration over, and return which cells are solved, and which are lost, (B,).

        ``largest`` is the largest total of each cell, mol/m3.
        """
        first = self.iteration == 0
        self._move(improved)
        changed = np.abs(improved.change * self.weight).max(axis=(0, 2))
        size = np.maximum(changed, BORDER_WEIGHT * improved.border_change)
        expected = np.minimum(self.bending * size, DEFAULT_CONTRACTION)
        contraction = np.where(first, expected, np.minimum(size / self.size, 0.9))
        size, taken_whole = size / self.part, self.part == 1.0
        # half a change of what is nearly linear leaves half of it: that is no reason to go on by halves
        hardly_less = size > (1 - 0.5 * self.part) * self.size
        self.part = np.where(
            (self.iteration > PATIENCE) & hardly_less & ~improved.clipped, 0.5, 1.0
        )
        self.size_before, self.size = self.size, size
        self.iteration += 1
        whole = ~improved.clipped & taken_whole
        self.steady = np.where(whole, self.steady + 1, 0)
        # what is left, of a contraction that is expected, or between a steady one and one that squares itself
        power = np.where(first, 1, 2)
        left = size * contraction**power / (1 - contraction)
        small = left < tolerance.newton * tolerance.error
        astray = ~(size < RUNAWAY)
        # no total is more negative than allowed, unless iterating changes that no more
        below = improved.below / largest
        settled = size * contraction / (1 - contraction) < HARDLY_LESS * below
        allowed = self.allowed
        positive = (below < MAX_NEGATIVE) | (settled & (below < allowed))
        solved = whole & small & positive & ~astray
        self.bending = np.where(
            first,
            np.where(solved, FORGETTING * self.bending, self.bending),
            np.where(self.iteration == 2, size / self.size_before**2, self.bending),
        )
        self.left -= whole & ~solved
        slow = (self.steady > 2) & (size > 2 * tolerance.error) & (contraction >= 0.9)
        endless = self.iteration >= self.most
        # where a formula of higher order overshoots below zero iterating does not help
        overshot = (below >= allowed) & (self.iteration > 2)
        overshot &= (size < MAX_OVERSHOT) & ~astray & (improved.clipped | settled)
        self.overshot = overshot
        lost = ~solved & (overshot | astray | endless | (whole & (slow | (self.left == 0))))
        return solved, lost

    def _move(self, improved: NewtonStep) -> None:
        """Take the new unknowns over, and how far potentials may move next."""
        moved = improved.unknowns.potential_V - self.now.potential_V
        # a potential that swings to and fro about a step of the rates takes smaller steps, one that
        # has farther to go takes longer ones again
        reach = self.reach[:, :2]
        factor = np.where(moved * self.moved < 0, 0.5, 2.0)
        limited = np.where(np.abs(moved) < reach, reach, reach * factor)
        self.reach[:, :2] = np.minimum(limited, LIMITS[:2])
        self.moved = moved
        self.now = improved.unknowns

    def distance(self, k: int, totals: Array, potential_V: Array) -> float:
        """Return how far a cell's totals, flat, and potentials have changed, as an iteration's change is."""
        far = float((np.abs(totals) * self.weight[:, k].ravel()).max())
        return far + BORDER_WEIGHT * float(np.abs(potential_V).max())
