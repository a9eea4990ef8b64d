"""Weights of the polynomial through a few points: its value at a time, and its slope at the first."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]


def lagrange(times: Sequence[float], at: float | Array) -> Array:
    """Return the weights by which values at ``times`` give their polynomial's value ``at`` a time.

    (points,), or (points, K) for K times at once.
    """
    weights = []
    for j, own in enumerate(times):
        weight: float | Array = 1.0
        for i, other in enumerate(times):
            if i != j:
                weight = weight * ((at - other) / (own - other))
        weights.append(weight)
    return np.array(weights)


def differentiation(times: Sequence[float]) -> list[float]:
    """Return the weights of the derivative, at the first of ``times``, of the polynomial through all."""
    first = times[0]
    weights = [0.0]
    for j, own in enumerate(times[1:], start=1):
        term = 1.0 / (own - first)
        for i, other in enumerate(times[1:], start=1):
            if i != j:
                term *= (first - other) / (own - other)
        weights.append(term)
    weights[0] = -sum(weights)
    return weights
