"""The equilibrium of a liquid at many places at once, by Newton's method.

At every place the unknowns are ``x``, the logarithms of the components' free concentrations, and one
number ``v`` for every solid. Species follow as ``c = exp(ln K + A x)``, so what a component's total holds
is an explicit sum,

``T = A' c + B' s``,

and a solid's saturation index ``ln K + B x`` is linear. Solid ``s`` and undersaturation ``y = -index``
exclude each other: ``s = w p(v)``, ``y = p(-v)`` with ``p(v) = (v + sqrt(v^2 + 4 mu)) / 2``, so that
``p(v) p(-v) = mu`` with mu next to nothing; ``w = 1 / sum(B_j / T_j)`` is about as much of the solid as
there can be. Where the iteration does not converge, the same equations are solved as the minimum of a
convex function, which a damped Newton iteration always reaches.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from fizzplate.chemistry.equilibria.system import ChemicalSystem

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    Flags = np.ndarray[tuple[int, ...], np.dtype[np.bool_]]

MIN_TOTAL_MOL_M3 = 1e-9  # what a total has less is taken from the free component
SHARPNESS = 1e-8  # mu: how much of a solid there is short of saturation, of what there can be
MAX_LN_FREE = 20.0  # no liquid holds so much of anything
MIN_LN, MAX_LN = -300.0, 60.0  # of a concentration: beyond, exponentials would under- or overflow
INDEX_TOLERANCE = 1e-8
MAX_PLAIN_ATTEMPTS = 40
MAX_ATTEMPTS = 300
MAX_HALVINGS = 40
MAX_LOWERINGS = 30
MAX_STEP = 5.0
DAMPING = 1e-12  # of a scaled diagonal of ones: no matrix is singular
WHOLE_STEP = 0.5  # a step of x no longer than this is taken as it is
MAINLY = 0.9
MIN_RATIO = 1e-14  # of c(H+) from one step to the next
FAR = 0.5  # from balance, relative to all that takes part in it
MAX_V, MIN_V = 3.0, -400.0
FEW_PLACES = 60  # so many are all improved together: picking some of them would take longer


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
        (S, N) and (K, N).
    missing_mol_m3
        What a total has less than the least that is taken to be there, (C, N), and nothing where there is
        more; it is the free component's.
    species_slope, solid_slope
        Derivatives along the directions asked for, (S, D, N) and (K, D, N); what is missing counts with
        its component.
    unknown_slope
        Of ``x`` and then ``v``, (C + K, D, N).
    """

    ln_free: Array
    solid_unknown: Array
    species_mol_m3: Array
    solid_mol_m3: Array
    missing_mol_m3: Array
    species_slope: Array
    solid_slope: Array
    unknown_slope: Array


@dataclass(frozen=True, slots=True)
class _Liquid:
    """What is known of a liquid before its equilibrium, N places."""

    totals: Array  #: (C, N), never nothing but for H+
    ln_K: Array  #: (S, N)
    ln_K_solid: Array  #: (K, N)
    most_solid: Array  #: (K, N)

    def at(self, places: Flags) -> _Liquid:
        """Return the same at some places."""
        return _Liquid(*(getattr(self, name)[:, places] for name in self.__slots__))


@dataclass(frozen=True, slots=True)
class _Residual:
    """How far a guess is from an equilibrium, N places."""

    c: Array  #: species, (S, N)
    size: Array  #: what the sums of the totals add up without signs, (C, N)
    short: Array  #: what the totals hold more than that, (C, N)
    share: Array  #: ``p(v)``, (K, N)
    present: Array  #: its derivative, (K, N)
    index_off: Array  #: ``y`` and the index less nothing, (K, N)

    def at(self, places: Flags) -> _Residual:
        """Return the same at some places."""
        return _Residual(*(getattr(self, name)[:, places] for name in self.__slots__))


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
        self._one_proton = (np.abs(self.A[:, 0]) == 1).astype(np.float64)
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
        if not len(self.B):
            return totals[:0]
        return np.asarray(1 / (self._bound @ (1 / np.maximum(totals, 1e-300))))

    def solve(
        self,
        totals_mol_m3: Array,
        ln_K: Array,
        ln_K_solid: Array,
        x: Array,
        v: Array,
        *,
        tolerance: float = 1e-10,
        directions: Array | None = None,
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
            How far a total may be off, relative to what it adds up, before the last step, which squares it.
        directions
            How the totals change along each direction of which slopes are wanted, (C, D).
        """
        totals, by_total = _at_least(totals_mol_m3)
        whole = liquid = _Liquid(totals, ln_K, ln_K_solid, self.most_solid(totals))
        x, v = np.clip(x, MIN_LN, MAX_LN_FREE), v.copy()
        places = np.arange(totals.shape[1])
        for _ in range(MAX_PLAIN_ATTEMPTS):
            now = self._residual(liquid, x[:, places], v[:, places])
            off = self._off(now, tolerance)
            if not off.any():
                break
            if places.size > FEW_PLACES and not off.all():
                places = places[off]
                liquid = liquid.at(off)
                now = now.at(off)
            dx, dv = self._newton_step(now, liquid)
            step = self._damped(dx, now, liquid.totals)
            x[:, places] = np.clip(x[:, places] + step, MIN_LN, MAX_LN_FREE)
            v[:, places] = np.clip(v[:, places] + _at_most_slowly(dv), MIN_V, MAX_V)
        else:
            start, _ = self.first_guess(liquid.totals, liquid.ln_K)
            x[:, places], v[:, places] = self._by_minimum(liquid, start, tolerance)
        now = self._residual(whole, x, v)
        if directions is None:
            directions = np.zeros((self._count, 0))
        missing = totals_mol_m3 - totals
        return self._linearised(now, whole, x, v, missing, by_total, directions)

    def _residual(self, liquid: _Liquid, x: Array, v: Array) -> _Residual:
        """Return how far a guess is from an equilibrium."""
        c = np.exp(np.minimum(liquid.ln_K + self.A @ x, MAX_LN))
        held, size = self._AT @ c, self._sizes_A @ c
        if not len(self.B):
            return _Residual(c, size, liquid.totals - held, v, v, v)
        root = np.sqrt(v * v + 4 * SHARPNESS)
        larger = 0.5 * (np.abs(v) + root)
        smaller = SHARPNESS / larger
        rising = v > 0
        share = np.where(rising, larger, smaller)
        y = np.where(rising, smaller, larger)
        solid = liquid.most_solid * share
        held += self._BT @ solid
        size += self._sizes_B @ solid
        index_off = y + liquid.ln_K_solid + self.B @ x
        return _Residual(c, size, liquid.totals - held, share, share / root, index_off)

    def _off(self, now: _Residual, tolerance: float) -> Flags:
        """Return where it is no equilibrium yet, (N,)."""
        off = (np.abs(now.short) > tolerance * now.size).any(axis=0)
        if len(self.B):
            off |= (np.abs(now.index_off) > max(tolerance, INDEX_TOLERANCE)).any(axis=0)
        return np.asarray(off)

    def _scaled_matrix(self, now: _Residual, liquid: _Liquid) -> tuple[Array, Array]:
        """Return the derivative of totals and indices by ``x`` and ``v``, (N, C + K, C + K), scaled.

        Scaled so that the components' diagonal is one; the scale of rows and columns is (N, C + K, 1).
        """
        C, K, N = self._count, len(self.B), now.c.shape[1]
        by_x = (now.c.T @ self._products).reshape(N, C, C)
        scale = np.ones((N, C + K, 1))
        scale[:, :C, 0] = np.maximum(by_x.reshape(N, -1)[:, :: C + 1], 1e-280) ** -0.5
        if not K:
            return by_x * scale * scale.swapaxes(1, 2), scale
        matrix = np.empty((N, C + K, C + K))
        matrix[:, :C, :C] = by_x
        matrix[:, :C, C:] = self._BT * (liquid.most_solid * now.present).T[:, None, :]
        matrix[:, C:, :C] = self.B
        matrix[:, C:, C:] = 0.0
        matrix.reshape(N, -1)[:, (C + K + 1) * C :: C + K + 1] = now.present.T - 1
        matrix *= scale
        matrix *= scale.swapaxes(1, 2)
        return matrix, scale

    def _newton_step(self, now: _Residual, liquid: _Liquid) -> tuple[Array, Array]:
        """Return the steps of ``x`` and ``v``."""
        matrix, scale = self._scaled_matrix(now, liquid)
        missing = np.concatenate([now.short, -now.index_off]).T[..., None]
        step = (scale * np.linalg.solve(matrix, scale * missing))[..., 0].T
        return step[: self._count], step[self._count :]

    def _linearised(
        self,
        now: _Residual,
        liquid: _Liquid,
        x: Array,
        v: Array,
        missing: Array,
        by_total: Array,
        directions: Array,
    ) -> Equilibrium:
        """Return the equilibrium with its slopes, after a last step along them: totals are exact."""
        C, K, N, D = self._count, len(self.B), now.c.shape[1], directions.shape[1]
        totals, most = liquid.totals, liquid.most_solid
        wanted = np.empty((C + K, 1 + D, N))
        wanted[:C, 0], wanted[C:, 0] = now.short, -now.index_off
        np.multiply(by_total[:, None], directions[..., None], out=wanted[:C, 1:])
        share_slope = wanted[C:, 1:]
        if K:
            # how much of a solid there can be follows the totals
            held = np.where(self._bound.sum(axis=0)[:, None] > 0, totals, 1.0)
            rise = (wanted[:C, 1:] / (held * held)[:, None]).reshape(C, -1)
            share_slope = (now.share * most * most)[:, None] * (self._bound @ rise).reshape(K, D, N)
            wanted[:C, 1:] -= (self._BT @ share_slope.reshape(K, -1)).reshape(C, D, N)
            wanted[C:, 1:] = 0.0
        matrix, scale = self._scaled_matrix(now, liquid)
        found = scale * np.linalg.solve(matrix, scale * wanted.transpose(2, 0, 1))
        change = np.ascontiguousarray(found.transpose(1, 2, 0))
        last, slope = change[:, 0], change[:, 1:]
        species_change = now.c[:, None] * (self.A @ change[:C].reshape(C, -1)).reshape(-1, 1 + D, N)
        species_slope = species_change[:, 1:]
        species_slope[:C] += (1 - by_total)[:, None] * directions[..., None]
        room = most * now.present
        return Equilibrium(
            ln_free=x + last[:C],
            solid_unknown=v + last[C:],
            species_mol_m3=now.c + species_change[:, 0],
            solid_mol_m3=most * now.share + room * last[C:],
            missing_mol_m3=missing,
            species_slope=species_slope,
            solid_slope=room[:, None] * slope[C:] + share_slope,
            unknown_slope=slope,
        )

    def _damped(self, dx: Array, now: _Residual, totals: Array) -> Array:
        """Return a step of ``x``; one that would leave what the totals allow is taken in concentrations."""
        big = np.abs(dx) > WHOLE_STEP
        if not big.any():
            return dx
        held = totals - now.short
        # far from balance H+ goes at once to where acid and alkali of one proton each would balance
        far = big[0] & (np.abs(now.short[0]) > FAR * now.size[0])
        far &= self._one_proton @ now.c > MAINLY * now.size[0]
        acid, alkali = (np.maximum(now.size[0] + sign * held[0], 0.0) / 2 for sign in (1, -1))
        root = np.sqrt(totals[0] ** 2 + 4 * acid * alkali)
        larger = 0.5 * (root + np.abs(totals[0]))
        larger = np.maximum(larger, 1e-280)
        ratio = np.where(totals[0] > 0, larger, acid * alkali / larger) / np.maximum(acid, 1e-280)
        grown = now.c * np.exp(np.minimum(self.A @ dx, MAX_LN))
        within = (grown < 2 * now.size.max(axis=0)).all(axis=0)
        within &= (held[1:] < 3 * totals[1:]).all(axis=0)
        if not within.all():
            rise = np.log1p(np.abs(dx))
            fraction = np.log(np.maximum(totals, 1e-300) / np.maximum(held, 1e-300)) / self._power
            fall = np.where(now.short < 0, np.clip(fraction, -30.0, -0.5), np.maximum(dx, -1.0))
            step = np.where(dx > 0, rise, fall)
            step[0] = np.sign(dx[0]) * np.minimum(rise[0], 8.0)
            dx = np.where(big & ~within, step, dx)
        dx[0] = np.where(far, np.log(np.clip(ratio, MIN_RATIO, 1 / MIN_RATIO)), dx[0])
        return dx

    def _by_minimum(self, liquid: _Liquid, guess: Array, tolerance: float) -> tuple[Array, Array]:
        """Return ``x`` and ``v`` where a convex function of ``x`` is least.

        It is ``sum(c) - T x - sum(w ln y)``.
        """
        totals, ln_K, ln_K_solid = liquid.totals, liquid.ln_K, liquid.ln_K_solid
        A, B = self.A, self.B
        weight = SHARPNESS * liquid.most_solid
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
            scaled[:, each, each] += DAMPING
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
