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

from fizzplate.cell.polynomials import differentiation, lagrange
from fizzplate.cell.state import Held, Layout, Step
from fizzplate.cell.transport import LIMITS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.cell.circuit import Supply
    from fizzplate.cell.lagged import Lagged
    from fizzplate.cell.state import Unknowns
    from fizzplate.cell.transport import Improved, Transport

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    Solved = tuple[Array, float, int]

FIRST_STEP_S = 1e-4
SMALLEST_STEP_S = 1e-9
LARGEST_GROWTH = 2.2
HIGHEST_ORDER = 3
MOST_ITERATIONS = 20
RUNAWAY = 10.0  # change of an iteration, relative to the scales, from which it has lost its way
MOST_CLIPPED = 15  # iterations besides: a potential may have to travel far when a reaction ends
SAFETY = 0.85
USUAL_CONTRACTION = 0.3  # of a first iteration: no better is relied on
MIXING_WEIGHT = 0.1  # of the stirring's error: it acts through the film alone
SPECIATION = 1e-5  # of the acid balance within a step; Newton's next step would square it


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

    error: float = 5e-3
    newton: float = 5e-3


class Watch(Protocol):
    """Called after every accepted step with the stretch of time that it covers."""

    def __call__(self, times_s: Sequence[float], states: Array) -> None:
        """Take the last accepted times, latest first, and their states, (points,), (points, size)."""


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
        self.lagged = lagged
        self.held = held
        self.tolerance = tolerance
        self.time_s = start_s
        self.steps = 0
        self._scale = np.repeat(scale_mol_m3[:, None], start.totals.shape[1], axis=1)
        self._weight = 1.0 / self._scale
        self._amount_scale = float(scale_mol_m3.max() * transport.grid.volume_m3.sum())
        self._times: deque[float] = deque([start_s], maxlen=HIGHEST_ORDER + 1)
        self._states: deque[Array] = deque(
            [self.layout.pack(start, amounts, ln_hydrogen, rates)], maxlen=HIGHEST_ORDER + 1
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
            state, error, order = outcome
            factor = SAFETY * (1.0 / max(error, 1e-10)) ** (1 / (order + 1))
            if error > 1.0 and taken > 10 * SMALLEST_STEP_S:
                step_s = taken * max(0.2, min(factor, 0.9))
                continue
            if self._supply_changes(state):
                continue
            if self.lagged.overdrawn(self.transport, self._extents(state)):
                step_s = taken if len(self._times) > 1 else taken * 0.5
                self._forget()
                continue
            self._accept(taken, state)
            watch(list(self._times), np.array(self._states))
            if taken == step_s or factor < 1:
                step_s = taken * min(LARGEST_GROWTH, max(0.3, factor))

    def _accept(self, step_s: float, state: Array) -> None:
        self.time_s += step_s
        self.steps += 1
        self._times.appendleft(self.time_s)
        self._states.appendleft(state)

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
        self._forget()
        return True

    def _forget(self) -> None:
        """Go on from the last point alone: what lies behind a kink says nothing of what follows."""
        while len(self._times) > 1:
            self._times.pop()
            self._states.pop()

    def _try(self, step_s: float) -> Solved | None:
        """Solve one step; return its state, its error over the tolerance, and its order."""
        layout, transport = self.layout, self.transport
        self.lagged.limit_solids(transport, self._extents(self.state), step_s)
        order = min(HIGHEST_ORDER, len(self._times))
        new_s = self.time_s + step_s
        times = list(self._times)
        states = np.array(self._states)
        # the predictor runs through one point more than the formula needs, where there is one
        points = min(order + 1, len(times))
        predicted = lagrange(times[:points], new_s) @ states[:points]
        leading, *others = differentiation([new_s, *times[:order]])
        behind = np.array(others) @ states[:order, : layout.mixing.stop]
        step = Step(
            leading=leading,
            totals=behind[layout.totals].reshape(layout.shape),
            mixing=behind[layout.mixing],
            held=self.held,
        )
        old = states[0][layout.totals].reshape(layout.shape)
        # where much has precipitated the error is judged against that
        self._weight = 1.0 / np.maximum(self._scale, np.abs(old))
        now = layout.unknowns(predicted)
        np.maximum(now.totals, self._not_far_below(old), out=now.totals)
        last_ln_hydrogen = states[0][layout.ln_hydrogen]
        guess = np.clip(
            predicted[layout.ln_hydrogen], last_ln_hydrogen - 1.0, last_ln_hydrogen + 1.0
        )
        try:
            # a guess that loses its way is told by the size of its changes
            with np.errstate(over="ignore", invalid="ignore", divide="ignore"):
                solved = self._newton(now, guess, step)
        except np.linalg.LinAlgError:
            return None
        if solved is None:
            return None
        improved, ln_hydrogen = solved
        amounts = self._amounts(improved, behind[layout.amounts], leading)
        rates = np.concatenate(improved.extent_mol_s)
        state = layout.pack(improved.unknowns, amounts, ln_hydrogen, rates)
        if len(times) < 2:
            return state, 0.0, order
        spread = times[0] - times[points - 1] + step_s if points > order else step_s * 2
        ratio = 1.0 / (leading * spread)
        error = self._error(state - predicted) * ratio / (1 + ratio) / self.tolerance.error
        return state, error, order

    def _newton(
        self, now: Unknowns, ln_hydrogen: Array, step: Step
    ) -> tuple[Improved, Array] | None:
        """Solve a step from a first guess; return the last iteration and its ln c(H+), or None."""
        transport, tolerance = self.transport, self.tolerance
        last = np.inf
        left, steady = MOST_ITERATIONS, 0
        reach, before = LIMITS.copy(), np.zeros(2)
        for iteration in range(MOST_ITERATIONS + MOST_CLIPPED):
            speciated = transport.model.speciate(now.totals, ln_hydrogen, tolerance=SPECIATION)
            if not iteration:
                self.lagged.refresh(transport, speciated.concentration_mol_m3)
            improved = transport.improve(now, speciated, step, reach)
            moved = improved.unknowns.potential_V - now.potential_V
            # a potential that swings to and fro about a step of the rates takes smaller steps
            reach[:2] *= np.where(moved * before < 0, 0.5, 1.0)
            before = moved
            now = improved.unknowns
            along = (speciated.ln_hydrogen_slope * improved.change).sum(0)
            ln_hydrogen = speciated.ln_hydrogen + np.clip(along, -1.0, 1.0)
            size = self._size(improved)
            if not size < RUNAWAY:
                return None
            contraction = min(size / last, 0.9) if iteration else USUAL_CONTRACTION
            last = size
            if improved.clipped:
                steady = 0
                continue
            steady += 1
            if size * contraction / (1 - contraction) < tolerance.newton * tolerance.error:
                return improved, ln_hydrogen
            left -= 1
            if not left or (steady > 2 and size > 2 * tolerance.error and contraction >= 0.9):
                return None
        return None

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
        mixing = MIXING_WEIGHT * float(np.abs(difference[layout.mixing]).max())
        return max(liquid, amounts, mixing, abs(float(difference[layout.ln_current])))
