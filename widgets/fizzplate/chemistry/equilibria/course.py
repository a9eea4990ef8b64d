"""How far a step of Newton's method goes: along curves that its straight lines only touch."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

LEAST = 0.1  # of its size: no total falls lower in one step, unless there is no more of it
STRAIGHT = 1e-3  # relative change up to which a curve is taken as its tangent
MIN_LN = -300.0  # of a concentration: below, exponentials would underflow
MAX_LN_FREE = 20.0  # no liquid holds so much of anything
MAX_V, MIN_V = 3.0, -400.0  # of a solid's number
TINY = 1e-300  # stands for zero in a divisor


@dataclass(frozen=True, slots=True)
class Course:
    """How ``x`` and ``v`` of N places follow a step that was worked out along straight lines.

    Where one kind of species holds a total, ``T = exp(p x)``, it is followed exactly however long the
    step is; so is that of H+ where what gives and what takes a proton are each other's inverse.

    Parameters
    ----------
    x, v
        From where, (C, N) and (K, N).
    power
        ``p``: derivative of a total by ``x`` over its size, (C, N).
    balance
        What is held over its size, (C, N): one, but for H+ between -1 and 1.

    Examples
    --------
    A total of 2 mol/m3 that rises by three times itself:

    >>> one = np.ones((1, 1))
    >>> course = Course(x=np.log(2 * one), v=np.zeros((0, 1)), power=one, balance=one)
    >>> float(np.exp(course.after(3 * one))[0, 0].round(9))
    8.0
    """

    x: Array
    v: Array
    power: Array
    balance: Array

    def curved(self, dx: Array, least: Array | float = LEAST) -> Array:
        """Return the step of ``x`` in place of a straight one, (C, N).

        ``least`` is what part of its size a total keeps at least.
        """
        along = self.power * dx
        if np.abs(along).max(initial=0.0) < STRAIGHT:
            return dx
        new = self.balance + along
        root = np.sqrt(new * new + np.maximum(1 - self.balance * self.balance, 0.0))
        grown = np.where(
            new > 0,
            (new + root) / np.maximum(1 + self.balance, TINY),
            (1 - self.balance) / np.maximum(root - new, TINY),
        )
        bent = np.log(np.maximum(grown, least)) / self.power
        return np.where(np.abs(along) < STRAIGHT, dx, bent)

    def after(self, step: Array) -> Array:
        """Return ``x`` and then ``v`` after a step (C + K, N)."""
        count = len(self.x)
        return np.concatenate(
            [
                within_reach(self.x + self.curved(step[:count])),
                at_most_slowly(self.v, step[count:]),
            ]
        )


def within_reach(x: Array) -> Array:
    """Return logarithms of concentrations that a liquid can have."""
    return np.minimum(np.maximum(x, MIN_LN), MAX_LN_FREE)


def at_most_slowly(v: Array, dv: Array) -> Array:
    """Return ``v`` after a step, of which less is taken the longer it is."""
    if not len(v):
        return v
    size = np.abs(dv)
    slow = np.where(size > 1.0, np.copysign(1 + np.log(np.maximum(size, 1.0)), dv), dv)
    return np.minimum(np.maximum(v + slow, MIN_V), MAX_V)
