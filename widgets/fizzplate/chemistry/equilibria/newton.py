"""The equilibrium of a liquid at many places at once, by Newton's method.

At every place the unknowns are ``x``, the logarithms of the components' free concentrations, and one
number ``v`` for every solid. Species follow as ``c = exp(ln K + A x)``, so what a component's total holds
is an explicit sum,

``T = A' c + B' s``,

and a solid's saturation index ``ln K + B x`` is linear. Solid ``s`` and undersaturation ``y = -index``
exclude each other: ``s = w p(v)``, ``y = p(-v)`` with ``p(v) = (v + sqrt(v^2 + 4 mu)) / 2``, so that
``p(v) p(-v) = mu`` with mu next to nothing; ``w = 1 / sum(B_j / T_j)`` is about as much of the solid as
there can be. Where there is no solid ``v`` follows from the index. A long step follows the curve that
the total of one dominating species takes, not its tangent. Where the iteration does not converge,
:mod:`convex_minimum` solves the same equations.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.chemistry.equilibria.convex_minimum import DAMPING, MAX_LN, ConvexMinimum
from fizzplate.chemistry.equilibria.course import (
    LEAST,
    STRAIGHT,
    TINY,
    Course,
    at_most_slowly,
    within_reach,
)
from fizzplate.chemistry.equilibria.guess import Guess

if TYPE_CHECKING:
    from fizzplate.chemistry.equilibria.system import ChemicalSystem

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    Flags = np.ndarray[tuple[int, ...], np.dtype[np.bool_]]
    Places = np.ndarray[tuple[int, ...], np.dtype[np.int_]]

MIN_TOTAL_MOL_M3 = 1e-9  # what a total has less is taken from the free component
PLENTY_MOL_M3 = 1.0  # of a total: to rounding the least is then no part of it
SHARPNESS = 1e-8  # mu: how much of a solid there is short of saturation, of what there can be
INDEX_TOLERANCE = 1e-8  # of a saturation index: less is rounding
MAX_PLAIN_ATTEMPTS = 40
MAX_LOWERINGS = 30
WHOLE_STEP = 0.5  # a step of x no longer than this is taken as it is
LEAST_PROTON = 1e-4  # the same for that of H+ on the way to an equilibrium
MIN_RATIO = 1e-14  # of a total to what a guess holds of it
MAX_LN_PROTON = 8.0  # of c(H+), in a step that other components do not allow as it is
MIN_UNDERSATURATION = 0.5 * math.sqrt(SHARPNESS)  # ``y`` of a solid that is about to form
SOME = (
    0.4  # of ``p'(v)``: below, there is no more than a trace of a solid, whose ``v`` is below zero
)
MIN_DIAGONAL = 1e-280  # of a matrix whose diagonal is scaled to one
NONE = np.zeros(0, dtype=np.int_)


@dataclass(frozen=True, slots=True)
class Equilibrium:
    """A liquid at equilibrium: N places, C components, S species, K solids.

    Parameters
    ----------
    species_mol_m3, solid_mol_m3
        (S, N) and (K, N).
    missing_mol_m3
        What a total has less than the least that is taken to be there, (C, N): it is the free
        component's. None where there is more of all.
    species_slope, solid_slope
        Derivatives along the directions asked for, (S, D, N) and (K, D, N); what is missing counts with
        its component.
    unknown_slope
        Of ``x`` and then ``v``, (C + K, D, N).
    unknown_step
        The last step of those, (C + K, N).
    course
        How they follow such a step.
    off
        How far a total or an index was off before the last step, relative to what it adds up, (N,).
    """

    species_mol_m3: Array
    solid_mol_m3: Array
    missing_mol_m3: Array | None
    species_slope: Array
    solid_slope: Array
    unknown_slope: Array
    unknown_step: Array
    course: Course
    off: Array

    @property
    def unknowns(self) -> Array:
        """Both ``x``, ln of the components' free concentrations in mol/m3, and ``v``, (C + K, N)."""
        return self.course.after(self.unknown_step)

    def unknowns_after(self, change: Array) -> Array:
        """Return the same after changes along the directions, (D, N)."""
        return self.course.after(self.unknown_step + (self.unknown_slope * change).sum(axis=1))


@dataclass(frozen=True, slots=True)
class _LinearSystem:
    """Equations of a step of U unknowns at N places: ``x``, and ``v`` of the solids that count.

    Scaled so that the components' diagonal is one.
    """

    matrix: Array  #: (U, U, N)
    scale: Array  #: of its rows and columns, (U, N)
    missing: Array  #: what the totals and the indices are off, (U, N)
    solids: Places  #: those whose ``v`` is among the unknowns
    room: Array  #: derivative of the solids by ``v``, (K, N)
    absent: Array  #: derivative of ``p(-v)`` by ``-v``, of all solids, (K, N)

    def solved(self, wanted: Array) -> Array:
        """Return the steps to what is wanted, (U, D, N); to rounding singular matrices are damped.

        Solid iodine beside its triiodide can leave too little else to say what its acid is.
        """
        scale = self.scale[:, None]
        # the solver takes views whose first axis is the places as they are
        matrices, sides = self.matrix.transpose(2, 0, 1), (scale * wanted).transpose(2, 0, 1)
        try:
            found = np.linalg.solve(matrices, sides)
        except np.linalg.LinAlgError:
            each = np.arange(len(self.matrix))
            sign = np.where(self.matrix[each, each] < 0, -1.0, 1.0)
            self.matrix[each, each] += DAMPING * sign
            found = np.linalg.solve(matrices, sides)
        return np.asarray(scale * found.transpose(1, 2, 0))


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
        self._counts = self._count, len(self.A), len(self.B)
        self._bound = np.where(np.arange(self._count) > 0, np.maximum(self.B, 0.0), 0.0)
        self._in_solids = self._bound.sum(axis=0)[:, None] > 0
        self._power = np.maximum(np.abs(self.A).max(axis=0), 1.0)[:, None]
        self._BT = np.ascontiguousarray(self.B.T)
        self._parts = np.concatenate([self.A, self.B])
        # what all amounts add up to of each total, and without signs
        self._sums = np.concatenate([self._parts.T, np.abs(self._parts.T)])
        weighted = np.concatenate([self.B, self.A])
        products = weighted[:, :, None] * weighted[:, None, :]
        self._products = np.ascontiguousarray(products.reshape(len(weighted), -1).T)
        self._minimum = ConvexMinimum(self.A, self.B)

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
        constants: Array,
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
        constants
            ln K of the species and then of the solids, (S + K, N), concentrations in mol/m3.
        x, v
            A guess: the last ones known.
        tolerance
            How far a total may be off, relative to what it adds up, before the last step, which squares it.
        directions
            How the totals change along each direction of which slopes are wanted, (C, D).
        """
        totals, by_total = _at_least(totals_mol_m3)
        now = Guess.empty(self._counts, totals.shape[1])
        now.totals[...] = totals
        now.constants[...] = constants
        now.most_solid[...] = self.most_solid(totals)
        now.x[...] = within_reach(x)
        now.v[...] = v
        self._evaluate(now)
        far = self._by_steps(now, tolerance)
        if far.size:
            now.put(far, self._from_minimum(now.at(far), tolerance))
        if directions is None:
            directions = np.zeros((self._count, 0))
        missing = None if by_total is None else totals_mol_m3 - totals
        return self._linearised(now, missing, by_total, directions)

    def _from_minimum(self, rest: Guess, tolerance: float) -> Guess:
        """Return places that steps alone do not improve, as near to equilibrium as the tolerance asks."""
        ln_K, ln_K_solid = np.split(rest.constants, [len(self.A)])
        start, _ = self.first_guess(rest.totals, ln_K)
        known = rest.totals, ln_K, ln_K_solid
        x, y = self._minimum.find(known, SHARPNESS * rest.most_solid, start, tolerance)
        v = SHARPNESS / y - y
        rest.x[...], rest.v[...] = x, v
        self._evaluate(rest)
        # to rounding the function tells nothing of a little acid beside much iodine: steps do
        lost = self._by_steps(rest, tolerance)
        if lost.size:
            rest.x[:, lost], rest.v[:, lost] = x[:, lost], v[:, lost]
            self._evaluate(rest)
        return rest

    def _by_steps(self, whole: Guess, tolerance: float) -> Places:
        """Improve a guess by plain Newton steps; return the places that are still off.

        Each place takes as many steps as it needs, whatever the others are like. As soon as half of them are
        near enough the others go on alone.
        """
        now, places = whole, NONE
        for _ in range(MAX_PLAIN_ATTEMPTS):
            off = now.off > tolerance
            count = np.count_nonzero(off)
            if not count:
                break
            if 2 * count <= off.size:
                rest = off.nonzero()[0]
                if now is whole:
                    places = rest
                else:
                    whole.put(places, now)
                    places = places[rest]
                now, off = now.at(rest), off[rest]
            self._take_step(now, off)
            self._evaluate(now)
        if now is not whole:
            whole.put(places, now)
        far: Places = (whole.off > tolerance).nonzero()[0]
        return far

    def _evaluate(self, now: Guess) -> None:
        """Fill in what follows from ``x`` and ``v``, and how far that is from an equilibrium.

        Where there is no solid ``v`` follows from the index at once.
        """
        amounts, species = now.amounts, now.species
        np.matmul(self._parts, now.x, out=amounts)
        amounts += now.constants
        if len(self.B):
            v, index = now.v, now.solid
            share = np.where(
                v < 0,
                SHARPNESS / np.maximum(-index, MIN_UNDERSATURATION),
                0.5 * (v + np.sqrt(v * v + 4 * SHARPNESS)),
            )
            under = SHARPNESS / share
            np.add(index, under, out=now.index_off)
            np.subtract(share, under, out=v)
            np.divide(share, share + under, out=now.present)
            now.share[...] = share
            np.multiply(now.most_solid, share, out=now.solid)
        np.exp(np.minimum(species, MAX_LN, out=species), out=species)
        np.matmul(self._sums, amounts, out=now.sums)
        np.subtract(now.totals, now.held, out=now.short)
        off = np.abs(now.short)
        off /= now.size
        if len(self.B):
            index_far = np.abs(now.index_off).max(axis=0)
            index_far[index_far < INDEX_TOLERANCE] = 0.0
            np.maximum(off.max(axis=0), index_far, out=now.off)
        else:
            off.max(axis=0, out=now.off)

    def _linear_system(self, now: Guess) -> _LinearSystem:
        """Return the derivative of totals and indices by ``x`` and ``v``, and what is solved with it.

        A solid that is nowhere more than a trace answers to ``x`` alone: it is eliminated beforehand.
        """
        C, N = now.totals.shape
        room = now.most_solid * now.present
        absent = 1 - now.present
        count = 0
        if len(self.B):
            solids = (now.present.max(axis=1) > SOME).nonzero()[0]
            count = len(solids)
            np.divide(room, absent, out=now.trace)
            if count:
                now.trace[solids] = 0.0
        else:
            solids = NONE
        by_x = self._products @ now.weights
        size = C + count
        if count:
            scale = np.ones((size, N))
            np.divide(1.0, np.sqrt(np.maximum(by_x[:: C + 1], MIN_DIAGONAL)), out=scale[:C])
            matrix = np.empty((size, size, N))
            matrix[:C, :C] = by_x.reshape(C, C, N)
            np.multiply(self._BT[:, solids, None], room[solids], out=matrix[:C, C:])
            matrix[C:, :C] = self.B[solids, :, None]
            matrix[C:, C:] = 0.0
            matrix.reshape(-1, N)[(size + 1) * C :: size + 1] = -absent[solids]
            missing = np.concatenate([now.short, -now.index_off[solids]])
        else:
            scale = 1.0 / np.sqrt(np.maximum(by_x[:: C + 1], MIN_DIAGONAL))
            matrix = by_x.reshape(C, C, N)
            missing = now.short
        matrix *= scale[:, None]
        matrix *= scale
        return _LinearSystem(matrix, scale, missing, solids, room, absent)

    def _with_traces(self, system: _LinearSystem, found: Array) -> Array:
        """Return steps of ``x`` and of all ``v``, (C + K, D, N), of which a system gives some."""
        C, K = self._count, len(self.B)
        if len(system.solids) == K:
            return found
        all_steps = np.empty((C + K, *found.shape[1:]))
        all_steps[:C] = found[:C]
        v_step = all_steps[C:]
        np.matmul(self.B, found[:C].reshape(C, -1), out=v_step.reshape(K, -1))
        v_step /= system.absent[:, None]
        if len(system.solids):
            v_step[system.solids] = found[C:]
        return all_steps

    def _take_step(self, now: Guess, off: Flags) -> None:
        """Move ``x`` and ``v`` of some places by a step; what follows from them is to be evaluated again."""
        system = self._linear_system(now)
        found = system.solved(system.missing[:, None])[:, 0]
        dx = found[: self._count]
        if np.abs(dx).max() > WHOLE_STEP:
            dx = self._damped(dx, now, self._course(now, system.scale))
        dv = found[self._count :]
        if not off.all():
            dx, dv = np.where(off, dx, 0.0), np.where(off, dv, 0.0)
        now.x[...] = within_reach(now.x + dx)
        if len(system.solids):
            now.v[system.solids] = at_most_slowly(now.v[system.solids], dv)

    def _course(self, now: Guess, scale: Array) -> Course:
        """Return how ``x`` and ``v`` follow a step."""
        root = scale[: self._count]
        return Course(now.x, now.v, 1 / (root * root * now.size), now.held / now.size)

    def _damped(self, dx: Array, now: Guess, course: Course) -> Array:
        """Return a step of ``x`` along its curve, a shorter one where that makes more than there is."""
        totals = now.totals
        left = totals / np.maximum(now.held, TINY)
        least = np.minimum(np.maximum(0.5 * left, MIN_RATIO), LEAST)
        least[0] = LEAST_PROTON
        big = np.abs(dx) > WHOLE_STEP
        step = np.where(big, course.curved(dx, least), dx)
        most = 3 * np.maximum(now.size.max(axis=0), np.abs(totals).max(axis=0))
        within = (now.species * np.exp(np.minimum(self.A @ step, MAX_LN)) < most).all(axis=0)
        if within.all():
            return step
        rise = np.log1p(np.abs(dx))
        fraction = np.log(np.maximum(left, MIN_RATIO)) / self._power
        fall = np.where(now.short < 0, np.minimum(fraction, -0.5), np.maximum(dx, -1.0))
        slow = np.where(dx > 0, rise, fall)
        slow[0] = np.sign(dx[0]) * np.minimum(rise[0], MAX_LN_PROTON)
        return np.where(big & ~within, slow, step)

    def _linearised(
        self, now: Guess, missing: Array | None, by_total: Array | None, directions: Array
    ) -> Equilibrium:
        """Return the equilibrium with its slopes, after a last step along them: totals are exact."""
        C, K, N, D = self._count, len(self.B), now.totals.shape[1], directions.shape[1]
        system = self._linear_system(now)
        wanted = np.zeros((len(system.missing), 1 + D, N))
        wanted[:, 0] = system.missing
        along = directions[..., None]
        wanted[:C, 1:] = along if by_total is None else by_total[:, None] * along
        share_slope: Array | None = None
        if len(system.solids):
            # how much of a solid there can be follows the totals; to rounding that of a trace does not
            held = now.totals * now.totals
            if by_total is not None:
                held /= by_total
            rise = (along / np.where(self._in_solids, held, 1.0)[:, None]).reshape(C, -1)
            most = now.most_solid
            share_slope = (now.share * most * most)[:, None] * (self._bound @ rise).reshape(K, D, N)
            wanted[:C, 1:] -= (self._BT @ share_slope.reshape(K, -1)).reshape(C, D, N)
        change = self._with_traces(system, system.solved(wanted))
        species_change = (self.A @ change[:C].reshape(C, -1)).reshape(-1, 1 + D, N)
        species_change *= now.species[:, None]
        species_slope = species_change[:, 1:]
        if by_total is not None:
            species_slope[:C] += (1 - by_total)[:, None] * along
        solid_change = system.room[:, None] * change[C:]
        if share_slope is not None:
            solid_change[:, 1:] += share_slope
        return Equilibrium(
            species_mol_m3=now.species + species_change[:, 0],
            solid_mol_m3=now.solid + solid_change[:, 0],
            missing_mol_m3=missing,
            species_slope=species_slope,
            solid_slope=solid_change[:, 1:],
            unknown_slope=change[:, 1:],
            unknown_step=change[:, 0],
            course=self._course(now, system.scale),
            off=now.off,
        )

    def _not_above(self, totals: Array, ln_K: Array, x: Array) -> Array:
        """Lower free concentrations until nothing holds more of a component than there is."""
        x = x.copy()
        for _ in range(MAX_LOWERINGS):
            c = np.exp(np.minimum(ln_K + self.A @ x, MAX_LN))
            over = np.log(np.maximum(self.A.T @ c, 1e-300) / np.maximum(totals, MIN_TOTAL_MOL_M3))
            if over[1:].max(initial=0.0) < STRAIGHT:
                break
            x[1:] -= np.maximum(over[1:], 0.0) / self._power[1:]
        return x


def _at_least(totals: Array) -> tuple[Array, Array | None]:
    """Return totals that are never nothing, and their slopes, if these are not all one.

    That of H+ may have any sign.
    """
    if totals[1:].min(initial=PLENTY_MOL_M3) >= PLENTY_MOL_M3:
        return totals, None
    root = np.sqrt(totals * totals + 4 * MIN_TOTAL_MOL_M3**2)
    larger = 0.5 * (np.abs(totals) + root)
    least = np.where(totals > 0, larger, MIN_TOTAL_MOL_M3**2 / larger)
    slope = least / root
    least[0], slope[0] = totals[0], 1.0
    return least, slope
