"""The equilibrium of a liquid as the minimum of a convex function, which damped steps always reach.

The function of ``x``, the logarithms of the components' free concentrations, is

``sum(c) - T x - sum(w ln y)``,

with the species ``c = exp(ln K + A x)``, the totals ``T`` and the undersaturation ``y = -(ln K + B x)`` of
each solid. Its derivative is what the totals are off when there is ``w / y`` of each solid.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

MAX_LN = 60.0  # of a concentration: beyond, exponentials would overflow
MAX_ATTEMPTS = 300
MAX_HALVINGS = 40
MAX_STEP = 5.0
DAMPING = 1e-12  # of a scaled diagonal of ones: no matrix is singular
ENOUGH = 1e-4  # of the fall that the slope promises: a step is not shortened further


class ConvexMinimum:
    """Finds the minimum for liquids of one system.

    Parameters
    ----------
    A, B
        What each species and each solid holds of the components, (S, C) and (K, C); the first
        component is H+, of which a solid may hold less than nothing.
    """

    def __init__(self, A: Array, B: Array) -> None:
        self._A, self._B = A, B
        self._count = A.shape[1]
        self._bound = np.where(np.arange(self._count) > 0, np.maximum(B, 0.0), 0.0)
        self._products = (A[:, :, None] * A[:, None, :]).reshape(len(A), -1)

    def find(
        self,
        liquid: tuple[Array, Array, Array],
        weight: Array,
        guess: Array,
        tolerance: float,
    ) -> tuple[Array, Array]:
        """Return ``x`` and the undersaturations ``y`` where the function is least, (C, N) and (K, N).

        Parameters
        ----------
        liquid
            Totals (C, N), and ln K of species (S, N) and of solids (K, N), in mol/m3.
        weight
            ``w`` of each solid, (K, N).
        guess
            ``x`` to begin at: nothing may hold much more of a component than there is.
        tolerance
            How far a total may be off, relative to what it adds up.
        """
        totals, ln_K, ln_K_solid = liquid
        A, B = self._A, self._B
        x = self._undersaturated(guess.copy(), ln_K_solid)
        value = self._potential(x, totals, ln_K, ln_K_solid, weight)
        for _ in range(MAX_ATTEMPTS):
            c = np.exp(ln_K + A @ x)
            y = -(ln_K_solid + B @ x)
            gradient = A.T @ c + B.T @ (weight / y) - totals
            size = np.abs(A.T) @ c + np.abs(B.T) @ (weight / y)
            off = (np.abs(gradient) > tolerance * size).any(axis=0)
            if not off.any():
                break
            hessian = (c.T @ self._products).reshape(-1, self._count, self._count)
            for k, row in enumerate(B):
                hessian += (weight[k] / y[k] ** 2)[:, None, None] * np.outer(row, row)
            each = np.arange(self._count)
            scale = 1 / np.sqrt(hessian[:, each, each])
            scaled = hessian * scale[:, :, None] * scale[:, None, :]
            scaled[:, each, each] += DAMPING
            step = -scale * np.linalg.solve(scaled, (scale * gradient.T)[..., None])[..., 0]
            step = step.T * np.minimum(1.0, MAX_STEP / np.maximum(np.abs(step).max(axis=1), 1e-9))
            slope = (gradient * step).sum(axis=0)
            length = off.astype(float)
            for _halving in range(MAX_HALVINGS):
                better = self._potential(x + length * step, totals, ln_K, ln_K_solid, weight)
                worse = better > value + ENOUGH * length * slope + 1e-14 * np.abs(value)
                if not worse.any():
                    break
                length = np.where(worse, 0.5 * length, length)
            x, value = x + length * step, better
        return x, -(ln_K_solid + B @ x)

    def _undersaturated(self, x: Array, ln_K_solid: Array) -> Array:
        """Lower free concentrations until no solid can form."""
        for k, row in enumerate(self._B):
            index = ln_K_solid[k] + row @ x
            over = np.maximum(index + 1.0, 0.0)
            x[1:] -= np.where(row[1:] > 0, 1.0, 0.0)[:, None] * over / self._bound[k].sum()
        return x

    def _potential(
        self, x: Array, totals: Array, ln_K: Array, ln_K_solid: Array, weight: Array
    ) -> Array:
        y = -(ln_K_solid + self._B @ x)
        exponent = ln_K + self._A @ x
        value = np.exp(np.minimum(exponent, MAX_LN)).sum(axis=0) - (totals * x).sum(axis=0)
        value = value - (weight * np.log(np.maximum(y, 1e-300))).sum(axis=0)
        outside = (y <= 0).any(axis=0) | (exponent > MAX_LN).any(axis=0)
        return np.where(outside, np.inf, value)
