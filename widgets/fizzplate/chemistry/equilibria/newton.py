"""The equilibrium of a liquid at many places at once, by Newton's method.

At every place the unknowns are ``x``, the logarithms of the components' free concentrations, and one number ``v`` for
every solid. Species follow as ``c = exp(ln K + A x)``, so what a component's total holds is an explicit sum,

``T = A' c + B' s``,

and a solid's saturation index ``ln K + B x`` is linear. Solid ``s`` and undersaturation ``y = -index`` exclude each
other: ``s = w p(v)``, ``y = p(-v)`` with ``p(v) = (v + sqrt(v^2 + 4 mu)) / 2``, so that ``p(v) p(-v) = mu`` with mu next
to nothing; ``w = 1 / sum(B_j / T_j)`` is about as much of the solid as there can be. Where the iteration finds no end, the same equations are
solved as the minimum of a convex function, which a damped Newton iteration always reaches.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from fizzplate.chemistry.equilibria.system import ChemicalSystem

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    Flags = np.ndarray[tuple[int, ...], np.dtype[np.bool_]]

MIN_TOTAL_MOL_M3 = 1e-9  # a total is never less: what is missing is taken from the free component
SHARPNESS = (
    1e-8  # mu: how much of a solid there is short of saturation, relative to what there can be
)
MAX_LN = 60.0
INDEX_TOLERANCE = 1e-8
MAX_PLAIN_ATTEMPTS = 40
MAX_ATTEMPTS = 300
MAX_HALVINGS = 40
MAX_LOWERINGS = 30
MAX_STEP = 5.0
MAX_V, MIN_V = 3.0, -400.0


@dataclass(frozen=True, slots=True)
class Equilibrium:
    """A liquid at equilibrium: N places, C components, S species, K solids.

    Parameters
    ----------
    ln_free
        ``x``, ln of the components' free concentrations in mol/m3, (C, N).
    solid_unknown
        ``v``, (K, N).
    species_mol_m3, solid_mol_m3
        (S, N), always positive, and (K, N).
    missing_mol_m3
        What a total has less than the least that is taken to be there, (C, N), and nothing where there is more; it is the
        free component's. Its slope stands in that of the component.
    species_slope, solid_slope
        Derivatives by the totals, (S, C, N) and (K, C, N).
    unknown_slope
        Of ``x`` and then ``v``, (C + K, C, N).
    """

    ln_free: Array
    solid_unknown: Array
    species_mol_m3: Array
    solid_mol_m3: Array
    missing_mol_m3: Array
    species_slope: Array
    solid_slope: Array
    unknown_slope: Array


class EquilibriumSolver:
    """Solves a system at many places.

    Parameters
    ----------
    system
        Its H+ is the component whose total may be negative.
    """

    def __init__(self, system: ChemicalSystem) -> None:
        self.system = system
        self.A = system.matrix(system.species)
        self.B = system.matrix(system.solids)
        self._count = len(system.components)
        self._bound = np.where(np.arange(self._count) > 0, np.maximum(self.B, 0.0), 0.0)
        self._power = np.maximum(np.abs(self.A).max(axis=0), 1.0)[:, None]
        self._AT, self._BT = np.ascontiguousarray(self.A.T), np.ascontiguousarray(self.B.T)
        self._sizes_A, self._sizes_B = np.abs(self._AT), np.abs(self._BT)
        self._products = (self.A[:, :, None] * self.A[:, None, :]).reshape(len(self.A), -1)

    def first_guess(
        self, totals_mol_m3: Array, ln_K: Array, water: float = 1e-8
    ) -> tuple[Array, Array]:
        """Return ``x`` and ``v`` of a liquid in which nothing has reacted."""
        x = np.log(np.maximum(totals_mol_m3, MIN_TOTAL_MOL_M3))
        x[0] = np.arcsinh(totals_mol_m3[0] / (2 * np.sqrt(water))) + 0.5 * np.log(water)
        x = self._not_above(totals_mol_m3, ln_K, x)
        return x, np.full((len(self.B), totals_mol_m3.shape[1]), -1.0)

    def most_solid(self, totals: Array) -> Array:
        """Return about how much of each solid these totals can make, (K, N)."""
        return (
            np.asarray(1 / (self._bound @ (1 / np.maximum(totals, 1e-300))))
            if len(self.B)
            else totals[:0]
        )

    def solve(
        self,
        totals_mol_m3: Array,
        ln_K: Array,
        ln_K_solid: Array,
        x: Array,
        v: Array,
        *,
        tolerance: float = 1e-10,
    ) -> Equilibrium:
        """Return the equilibrium of N places.

        Parameters
        ----------
        totals_mol_m3
            (C, N).
        ln_K, ln_K_solid
            Of the species (S, N) and of the solids (K, N), concentrations in mol/m3.
        x, v
            A guess: the last ones known.
        tolerance
            How far a total may be off, relative to what it adds up, before the last step; that one squares it.
        """
        totals, by_total = _at_least(totals_mol_m3)
        x, v = x.copy(), v.copy()
        places = np.arange(totals.shape[1])
        for attempt in range(MAX_PLAIN_ATTEMPTS):
            now = _Residual(
                self,
                totals[:, places],
                ln_K[:, places],
                ln_K_solid[:, places],
                x[:, places],
                v[:, places],
            )
            off = now.off(tolerance)
            if not off.any():
                break
            if not off.all():
                places = places[off]
                now = now.at(off)
            dx, dv = now.newton_step()
            x[:, places] += self._damped(dx, now)
            v[:, places] = np.clip(v[:, places] + _at_most_slowly(dv), MIN_V, MAX_V)
        else:
            x[:, places], v[:, places] = self._by_minimum(
                totals[:, places], ln_K[:, places], ln_K_solid[:, places], x[:, places], tolerance
            )
        now = _Residual(self, totals, ln_K, ln_K_solid, x, v)
        return now.equilibrium(totals_mol_m3, by_total)

    def _damped(self, dx: Array, now: _Residual) -> Array:
        """Return a step of ``x``; one that would leave what the totals allow is taken in concentrations."""
        big = np.abs(dx) > 0.5
        if not big.any():
            return dx
        grown = now.c * np.exp(np.minimum(self.A @ dx, MAX_LN))
        within = (grown < 2 * now.size.max(axis=0)).all(axis=0)
        within &= (now.held[1:] < 3 * now.totals[1:]).all(axis=0)
        if within.all():
            return dx
        rise = np.log1p(np.abs(dx))
        ratio = np.log(np.maximum(now.totals, 1e-300) / np.maximum(now.held, 1e-300)) / self._power
        fall = np.where(now.short < 0, np.clip(ratio, -30.0, -0.5), np.maximum(dx, -1.0))
        step = np.where(dx > 0, rise, fall)
        step[0] = np.sign(dx[0]) * np.minimum(rise[0], 8.0)
        return np.where(big & ~within, step, dx)

    def _by_minimum(
        self,
        totals: Array,
        ln_K: Array,
        ln_K_solid: Array,
        guess: Array,
        tolerance: float,
    ) -> tuple[Array, Array]:
        """Return ``x`` and ``v`` where a convex function of ``x`` is least: ``sum(c) - T x - sum(w ln y)``."""
        A, B = self.A, self.B
        weight = SHARPNESS * self.most_solid(totals)
        x = self._undersaturated(self._not_above(totals, ln_K, guess), ln_K_solid)
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
            step = -scale * np.linalg.solve(scaled, (scale * gradient.T)[..., None])[..., 0]
            step = step.T * np.minimum(1.0, MAX_STEP / np.maximum(np.abs(step).max(axis=1), 1e-9))
            slope = (gradient * step).sum(axis=0)
            length = off.astype(float)
            for _halving in range(MAX_HALVINGS):
                better = self._potential(x + length * step, totals, ln_K, ln_K_solid, weight)
                worse = better > value + 1e-4 * length * slope + 1e-14 * np.abs(value)
                if not worse.any():
                    break
                length = np.where(worse, 0.5 * length, length)
            x, value = x + length * step, better
        y = -(ln_K_solid + B @ x)
        return x, SHARPNESS / y - y

    def _not_above(self, totals: Array, ln_K: Array, x: Array) -> Array:
        """Lower free concentrations until nothing holds more of a component than there is."""
        x = x.copy()
        for _ in range(MAX_LOWERINGS):
            c = np.exp(np.minimum(ln_K + self.A @ x, MAX_LN))
            over = np.log(np.maximum(self.A.T @ c, 1e-300) / np.maximum(totals, MIN_TOTAL_MOL_M3))
            x[1:] -= np.maximum(over[1:], 0.0) / self._power[1:]
        return x

    def _undersaturated(self, x: Array, ln_K_solid: Array) -> Array:
        """Lower free concentrations until no solid can form."""
        for k, row in enumerate(self.B):
            index = ln_K_solid[k] + row @ x
            over = np.maximum(index + 1.0, 0.0)
            x[1:] -= np.where(row[1:] > 0, 1.0, 0.0)[:, None] * over / self._bound[k].sum()
        return x

    def _potential(
        self, x: Array, totals: Array, ln_K: Array, ln_K_solid: Array, weight: Array
    ) -> Array:
        y = -(ln_K_solid + self.B @ x)
        exponent = ln_K + self.A @ x
        value = np.exp(np.minimum(exponent, MAX_LN)).sum(axis=0) - (totals * x).sum(axis=0)
        value = value - (weight * np.log(np.maximum(y, 1e-300))).sum(axis=0)
        outside = (y <= 0).any(axis=0) | (exponent > MAX_LN).any(axis=0)
        return np.where(outside, np.inf, value)


class _Residual:
    """What is missing at given ``x`` and ``v``."""

    def __init__(
        self,
        solver: EquilibriumSolver,
        totals: Array,
        ln_K: Array,
        ln_K_solid: Array,
        x: Array,
        v: Array,
    ) -> None:
        self.solver, self.totals, self.x, self.v = solver, totals, x, v
        self.c = np.exp(np.minimum(ln_K + solver.A @ x, MAX_LN))
        self.held = solver._AT @ self.c
        self.size = solver._sizes_A @ self.c
        if len(solver.B):
            root = np.sqrt(v * v + 4 * SHARPNESS)
            larger = 0.5 * (np.abs(v) + root)
            smaller = SHARPNESS / larger
            rising = v > 0
            self.share = np.where(rising, larger, smaller)
            self.y = np.where(rising, smaller, larger)
            self.most = solver.most_solid(totals)
            self.solid = self.most * self.share
            self.held += solver._BT @ self.solid
            self.size += solver._sizes_B @ self.solid
            self.index_off = self.y + ln_K_solid + solver.B @ x
            self.present = self.share / (self.share + self.y)
        else:
            self.share = self.y = self.most = self.solid = self.index_off = self.present = v
        self.short = totals - self.held

    def off(self, tolerance: float) -> Flags:
        """Return where it is no equilibrium yet, (N,)."""
        off = (np.abs(self.short) > tolerance * self.size).any(axis=0)
        if len(self.solver.B):
            off |= (np.abs(self.index_off) > max(tolerance, INDEX_TOLERANCE)).any(axis=0)
        return np.asarray(off)

    def at(self, places: Flags) -> _Residual:
        """Return the same at some places."""
        some = object.__new__(_Residual)
        some.solver = self.solver
        for name, value in vars(self).items():
            if name != "solver":
                setattr(some, name, value[:, places])
        return some

    def matrix(self) -> Array:
        """Return the derivative of totals and indices by ``x`` and ``v``, (N, C + K, C + K)."""
        solver = self.solver
        C, K, N = solver._count, len(solver.B), self.c.shape[1]
        matrix = np.zeros((N, C + K, C + K))
        matrix[:, :C, :C] = (self.c.T @ solver._products).reshape(N, C, C)
        if K:
            matrix[:, :C, C:] = solver.B.T * (self.most * self.present).T[:, None, :]
            matrix[:, C:, :C] = solver.B
            each = np.arange(C, C + K)
            matrix[:, each, each] = self.present.T - 1
        return matrix

    def scaled(self) -> tuple[Array, Array]:
        """Return that matrix with ones on the components' diagonal, and what scales it, (N, C + K)."""
        matrix = self.matrix()
        C = self.solver._count
        scale = np.ones(matrix.shape[:2])
        each = np.arange(C)
        scale[:, :C] = 1 / np.sqrt(np.maximum(matrix[:, each, each], 1e-280))
        return matrix * scale[:, :, None] * scale[:, None, :], scale

    def newton_step(self) -> tuple[Array, Array]:
        """Return the steps of ``x`` and ``v``."""
        missing = np.concatenate([self.short, -self.index_off])
        matrix, scale = self.scaled()
        step = scale * np.linalg.solve(matrix, (scale * missing.T)[..., None])[..., 0]
        step = step.T
        return step[: self.solver._count], step[self.solver._count :]

    def equilibrium(self, totals: Array, by_total: Array) -> Equilibrium:
        """Return the equilibrium with its slopes, after a last step along them: what totals hold is exact."""
        solver = self.solver
        C, K, N = solver._count, len(solver.B), self.c.shape[1]
        matrix, scale = self.scaled()
        inverse = np.linalg.inv(matrix) * scale[:, :, None] * scale[:, None, :]
        missing = np.concatenate([self.short, -self.index_off]).T[..., None]
        last = (inverse @ missing)[..., 0].T
        rise = inverse[:, :, :C] * by_total.T[:, None, :]
        if K:
            # how much of a solid there can be follows the totals
            nonzero = np.where(solver._bound.any(axis=0)[:, None], self.totals, 1.0)
            most_slope = (self.most[:, None] / nonzero) ** 2 * solver._bound[..., None] * by_total
            share_slope = self.share[:, None] * most_slope
            rise -= inverse[:, :, :C] @ np.einsum("ki,kjn->nij", solver.B, share_slope)
        slope = rise.transpose(1, 2, 0)
        flat = np.ascontiguousarray(slope[:C]).reshape(C, -1)
        species_slope = self.c[:, None] * (solver.A @ flat).reshape(-1, C, N)
        each = np.arange(C)
        species_slope[each, each] += 1 - by_total
        species = self.c * (1 + solver.A @ last[:C])
        if not K:
            return Equilibrium(
                self.x + last,
                self.v,
                species,
                self.v,
                totals - self.totals,
                species_slope,
                slope[C:],
                slope,
            )
        solid_slope = (self.most * self.present)[:, None] * slope[C:] + share_slope
        solid = self.solid + self.most * self.present * last[C:]
        return Equilibrium(
            self.x + last[:C],
            self.v + last[C:],
            species,
            solid,
            totals - self.totals,
            species_slope,
            solid_slope,
            slope,
        )


def _at_least(totals: Array) -> tuple[Array, Array]:
    """Return totals that are never nothing, and their slopes; that of H+ may have any sign."""
    root = np.sqrt(totals * totals + 4 * MIN_TOTAL_MOL_M3**2)
    below = 2 * MIN_TOTAL_MOL_M3**2 / (root - np.minimum(totals, 0.0))
    least = np.where(totals > 0, 0.5 * (totals + root), below)
    slope = least / root
    least[0], slope[0] = totals[0], 1.0
    return least, slope


def _at_most_slowly(dv: Array) -> Array:
    large = np.maximum(np.abs(dv), 1.0)
    return np.where(np.abs(dv) > 1.0, np.sign(dv) * (1 + np.log(large)), dv)
