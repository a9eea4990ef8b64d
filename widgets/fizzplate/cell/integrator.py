"""Advance the cell in time: implicit, of third order, with steps chosen by the error.

Backward differentiation with variable steps, orders 1 to 3, and a polynomial predictor. Amounts that
passed the electrodes are advanced by the same formula with the rates linearised as the liquid's
equations are, so what left the solution is on an electrode or in the gas to rounding, whatever the
tolerance.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

import numpy as np

from fizzplate.cell.transport import Held, Unknowns

if TYPE_CHECKING:
    from fizzplate.cell.circuit import Supply
    from fizzplate.cell.lagged import Lagged
    from fizzplate.cell.speciation import Speciated
    from fizzplate.cell.transport import Improved, Transport

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    Solved = tuple[Array, Speciated, float, int, tuple[Array, Array]]

FIRST_STEP_S = 1e-4
SMALLEST_STEP_S = 1e-9
LARGEST_GROWTH = 2.2
HIGHEST_ORDER = 3
MOST_ITERATIONS = 10
SAFETY = 0.85
SPECIATION = 1e-7  # of the acid balance within a step; Newton's next step would square it


class StuckError(RuntimeError):
    """No step, however small, could be solved."""


@dataclass(frozen=True, slots=True)
class Tolerance:
    """What a step may be wrong by, and what its equations may be left unsolved by.

    Parameters
    ----------
    error
        Of a step, relative to the scales of concentrations, ln I and amounts.
    newton
        Of the equations, relative to ``error``.
    """

    error: float = 1e-3
    newton: float = 0.05


@dataclass(frozen=True, slots=True)
class Layout:
    """Where each part of the state stands in one flat vector."""

    totals: slice
    shape: tuple[int, int]
    amounts: slice  #: reactions at electrode 0, at electrode 1, then gases left at 0 and 1
    potential: slice
    ln_current: int
    u: slice
    rates: slice  #: of the reactions at electrode 0 and 1, mol/s

    @classmethod
    def of(cls, unknowns: Unknowns, amounts: int) -> Layout:
        """Return the layout for these unknowns and a number of amounts."""
        m, nodes = unknowns.totals.shape
        totals = m * nodes
        potential = totals + amounts
        return cls(
            totals=slice(0, totals),
            shape=(m, nodes),
            amounts=slice(totals, potential),
            potential=slice(potential, potential + 2),
            ln_current=potential + 2,
            u=slice(potential + 3, potential + 2 + nodes),
            rates=slice(potential + 2 + nodes, None),
        )

    def pack(self, unknowns: Unknowns, amounts: Array, rates: Array) -> Array:
        """Return the flat vector."""
        parts = [unknowns.totals.ravel(), amounts, unknowns.potential_V, [unknowns.ln_current]]
        return np.concatenate([*parts, unknowns.u, rates])

    def unknowns(self, state: Array) -> Unknowns:
        """Return the unknowns in a flat vector (copies)."""
        return Unknowns(
            state[self.totals].reshape(self.shape).copy(),
            state[self.u].copy(),
            state[self.potential].copy(),
            float(state[self.ln_current]),
        )


class Watch(Protocol):
    """Called after every accepted step with the stretch of time that it covers."""

    def __call__(self, times_s: Array, states: Array) -> None:
        """Take the last accepted times (ascending) and their states, (points,), (points, size)."""


def lagrange(times: Array, at: float) -> Array:
    """Return the weights by which values at ``times`` give their polynomial's value ``at`` a time."""
    weights = np.ones(times.size)
    for j in range(times.size):
        for i in range(times.size):
            if i != j:
                weights[j] *= (at - times[i]) / (times[j] - times[i])
    return weights


def differentiation(times: Array) -> Array:
    """Return the weights of the derivative, at the first of ``times``, of the polynomial through all."""
    weights = np.zeros(times.size)
    for j in range(1, times.size):
        term = 1.0 / (times[j] - times[0])
        for i in range(1, times.size):
            if i != j:
                term *= (times[0] - times[i]) / (times[j] - times[i])
        weights[j] = term
    weights[0] = -weights[1:].sum()
    return weights


class Integrator:
    """Advances one cell through one stage.

    Parameters
    ----------
    transport
        The equations.
    supply
        The supply's voltage and current.
    state
        Unknowns at the start, already solved for potentials and current.
    amounts, rates
        Amounts passed so far, mol, and rates of the reactions at the start, mol/s.
    ln_hydrogen
        ln c(H+) at the nodes, a guess.
    lagged
        What is recomputed once a step.
    scale_mol_m3
        Concentration against which errors are judged, (M,).
    held
        What the supply holds at the start.
    """

    def __init__(
        self,
        transport: Transport,
        supply: Supply,
        start: Unknowns,
        amounts: Array,
        rates: Array,
        ln_hydrogen: Array,
        *,
        start_s: float,
        lagged: Lagged,
        scale_mol_m3: Array,
        held: Held,
        tolerance: Tolerance,
    ) -> None:
        self.transport = transport
        self.supply = supply
        self.layout = Layout.of(start, amounts.size)
        self.ln_hydrogen = ln_hydrogen
        self._ln_hydrogen_slope = np.zeros_like(ln_hydrogen)
        self.lagged = lagged
        self.held = held
        self.tolerance = tolerance
        self.time_s = start_s
        self.steps = 0
        self._weight = 1.0 / np.repeat(scale_mol_m3, start.totals.shape[1]).reshape(
            start.totals.shape
        )
        self._amount_scale = float(scale_mol_m3.max() * transport.grid.volume_m3.sum())
        self._times: deque[float] = deque([start_s], maxlen=HIGHEST_ORDER + 1)
        self._states: deque[Array] = deque(
            [self.layout.pack(start, amounts, rates)], maxlen=HIGHEST_ORDER + 1
        )

    @property
    def start_ln_current(self) -> float:
        """Logarithm of the current (A) at the start, before any step."""
        return float(self._states[-1][self.layout.ln_current])

    @property
    def state(self) -> Array:
        """The last accepted state."""
        return self._states[0]

    def advance(self, end_s: float, watch: Watch, *, largest_step_s: float) -> None:
        """Advance to ``end_s``, calling ``watch`` after every step.

        Raises
        ------
        StuckError
            If no step can be solved.
        """
        step_s = FIRST_STEP_S
        while self.time_s < end_s * (1 - 1e-12):
            remaining = end_s - self.time_s
            step_s = min(step_s, largest_step_s)
            taken = remaining if step_s > 0.999 * remaining else step_s
            if taken < SMALLEST_STEP_S:
                raise StuckError(f"no step could be solved {self.time_s:g} s into the run")
            outcome = self._try(taken)
            if outcome is None:
                step_s = taken * 0.25
                continue
            state, speciated, error, order, rates = outcome
            factor = SAFETY * (1.0 / max(error, 1e-10)) ** (1 / (order + 1))
            if error > 1.0 and taken > 10 * SMALLEST_STEP_S:
                step_s = taken * max(0.2, min(factor, 0.9))
                continue
            if self._supply_changes(state):
                continue
            self._accept(taken, state, speciated, rates)
            watch(np.array(self._times)[::-1], np.array(self._states)[::-1])
            if taken == step_s or factor < 1:
                step_s = taken * min(LARGEST_GROWTH, max(0.3, factor))

    def _accept(
        self, step_s: float, state: Array, speciated: Speciated, rates: tuple[Array, Array]
    ) -> None:
        self.time_s += step_s
        self.steps += 1
        self._times.appendleft(self.time_s)
        self._states.appendleft(state)
        self._ln_hydrogen_slope = (speciated.ln_hydrogen - self.ln_hydrogen) / step_s
        self.ln_hydrogen = speciated.ln_hydrogen
        self.lagged.refresh(self.transport, speciated.concentration_mol_m3, rates, step_s)

    def _extents(self, state: Array) -> tuple[Array, Array]:
        amounts = state[self.layout.amounts]
        first, second = (len(e.reactions) for e in self.transport.electrodes)
        return amounts[:first], amounts[first : first + second]

    def _supply_changes(self, state: Array) -> bool:
        """Switch between holding voltage and current when the other limit is passed; restart then."""
        if not self.transport.direction:
            return False
        if self.held.voltage:
            if state[self.layout.ln_current] <= self.supply.ln_most_A + 1e-9:
                return False
            self.held = Held(voltage=False, value=self.supply.ln_most_A)
        else:
            voltage_V = self.transport.supply_voltage_V(self.layout.unknowns(state))
            if voltage_V <= self.supply.most_V + 1e-6:
                return False
            self.held = Held(voltage=True, value=self.supply.most_V)
        # a kink: what lies behind it says nothing of what follows
        first, now = self._times[0], self._states[0]
        self._times.clear()
        self._states.clear()
        self._times.append(first)
        self._states.append(now)
        return True

    def _try(self, step_s: float) -> Solved | None:
        """Solve one step; return its state, species, error over tolerance, order and rates.

        The species are those of the last iteration, within the tolerance of the state: what they are
        used for lags a step anyway.
        """
        layout, transport = self.layout, self.transport
        self.lagged.limit_metal(transport, self._extents(self.state), step_s)
        order = min(HIGHEST_ORDER, len(self._times))
        new_s = self.time_s + step_s
        times = np.array(self._times)
        states = np.array(self._states)
        # the predictor runs through one point more than the formula needs, where there is one
        points = min(order + 1, times.size)
        predicted = lagrange(times[:points], new_s) @ states[:points]
        alpha = differentiation(np.concatenate([[new_s], times[:order]]))
        leading = float(alpha[0])
        behind = alpha[1:] @ states[:order, : layout.amounts.stop]
        history = behind[layout.totals].reshape(layout.shape)
        old = states[0][layout.totals].reshape(layout.shape)
        now = layout.unknowns(predicted)
        np.maximum(now.totals, self._not_far_below(old), out=now.totals)
        guess = self.ln_hydrogen + np.clip(self._ln_hydrogen_slope * step_s, -1.0, 1.0)
        last = np.inf
        for iteration in range(MOST_ITERATIONS):
            speciated = transport.model.speciate(now.totals, guess, tolerance=SPECIATION)
            guess = speciated.ln_hydrogen
            improved = transport.improve(now, speciated, history, leading, self.held)
            now = improved.unknowns
            if not np.isfinite(now.totals).all():
                return None
            size = self._size(improved)
            contraction = min(size / last, 0.9) if iteration else 0.3
            last = size
            if improved.clipped:
                continue
            remaining = size * contraction / (1 - contraction)
            if remaining < self.tolerance.newton * self.tolerance.error:
                break
            if iteration > 2 and size > 2 * self.tolerance.error and contraction >= 0.9:
                return None
        else:
            return None
        amounts = self._amounts(improved, behind[layout.amounts], leading)
        state = layout.pack(now, amounts, np.concatenate(improved.extent_mol_s))
        if times.size < 2:
            return state, speciated, 0.0, order, improved.extent_mol_s
        spread = times[0] - times[points - 1] + step_s if points > order else step_s * 2
        ratio = 1.0 / (leading * spread)
        error = self._error(state - predicted) * ratio / (1 + ratio) / self.tolerance.error
        return state, speciated, error, order, improved.extent_mol_s

    def _not_far_below(self, old: Array) -> Array:
        floor = np.where(old > 0, 0.2 * old, old)
        may = self.transport.model.solved_may_be_negative()
        return np.where(may[:, None], -np.inf, floor)

    def _size(self, improved: Improved) -> float:
        return max(
            float(np.abs(improved.change * self._weight).max()), 0.1 * improved.border_change
        )

    def _amounts(self, improved: Improved, behind: Array, leading: float) -> Array:
        rates = np.concatenate([*improved.extent_mol_s, improved.released_mol_s.ravel()])
        return np.asarray((rates - behind) / leading)

    def _error(self, difference: Array) -> float:
        layout = self.layout
        totals = difference[layout.totals].reshape(layout.shape) * self._weight
        liquid = float(np.sqrt(np.mean(totals * totals, axis=1)).max())
        amounts = float(np.abs(difference[layout.amounts]).max()) / self._amount_scale
        return max(liquid, amounts, abs(float(difference[layout.ln_current])))
