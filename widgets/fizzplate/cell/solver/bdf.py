"""Advance cells in time: implicit, of third order, each with steps chosen by its own error.

Cells of a batch go side by side. In one round every cell's step is improved by one iteration;
whichever is solved is accepted or tried again, and goes on to its next step while the others iterate.

Backward differentiation with variable steps, orders 1 to 3, and a polynomial predictor. Amounts that
passed the electrodes are advanced by the same formula with the rates linearised as the liquid's
equations are, so what left the solution is on an electrode or in the gas to rounding, whatever the
tolerance.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

import numpy as np

from fizzplate.cell.solver.convergence import NewtonState
from fizzplate.cell.solver.polynomials import differentiation, lagrange
from fizzplate.cell.solver.state import Layout, Step, SupplyControl
from fizzplate.cell.solver.step_choice import MAX_ORDER, Progress

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.cell.physics import Supply
    from fizzplate.cell.solver.convergence import Tolerance
    from fizzplate.cell.solver.lagged_coefficients import LaggedCoefficients
    from fizzplate.cell.solver.state import Unknowns
    from fizzplate.cell.solver.transport import NewtonStep, Transport

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    Places = np.ndarray[tuple[int, ...], np.dtype[np.int_]]
    Flags = np.ndarray[tuple[int, ...], np.dtype[np.bool_]]

MAX_NEGATIVE_IN_STEP = (
    5e-7  # of the largest total at the start, in an accepted step of higher order
)
MAX_WAY_BACK = (
    1e-9  # of an amount that has passed, relative to the largest, in a step of higher order
)
MORE_NEGATIVE = 1.2  # than the last state a step may be, where that is more than allowed
FOLLOWED = 0.5  # of how free convection changed in a step
MIXING_WEIGHT = 0.05  # of the stirring's error: it acts through the film alone
FIRST_ORDER_WEIGHT = 3.0  # of its error: in a row they have the same sign, and add up
ALL_CELLS = slice(None)
SPECIATION = (
    1e-5  # of the totals within a step, before its last Newton step: fronts need exact slopes
)


class StepCallback(Protocol):
    """Called after every accepted step of a cell with the stretch of time that it covers."""

    def __call__(self, times_s: Sequence[float], states: Array) -> None:
        """Take the last accepted times, latest first, and their states, (points,), (points, size)."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """Where a cell stands at the end of its stage."""

    state: Array
    steps: int
    holds_current: bool


class Integrator:
    """Advances B cells that are alike through one stage.

    Parameters
    ----------
    transport
        The equations.
    supplies
        Voltage and current of each supply.
    start
        Unknowns at the start, already solved for potentials and current.
    rates
        Rates of the reactions at the start, mol/s, (B, 2, R).
    equilibrium
        What is known of the equilibrium at the nodes, (U, B, N).
    start_s
        Time of the start.
    lagged
        What is recomputed once a step.
    scale_mol_m3
        Concentration against which errors are judged, (M, B).
    supply_control
        What the supplies hold at the start.
    tolerance
        What steps may be wrong by.
    """

    def __init__(
        self,
        transport: Transport,
        supplies: Sequence[Supply],
        start: Unknowns,
        rates: Array,
        equilibrium: Array,
        *,
        start_s: float,
        lagged: LaggedCoefficients,
        scale_mol_m3: Array,
        supply_control: SupplyControl,
        tolerance: Tolerance,
    ) -> None:
        cells = len(start.u)
        self.transport = transport
        self.layout = Layout.of(
            start,
            len(equilibrium),
            reactions=rates[0].size,
            gases=4 * len(transport.releases),
            solids=len(transport.model.solids),
        )
        self.lagged = lagged
        self.supply_control = supply_control
        self.tolerance = tolerance
        self._supply_V = np.array([supply.max_voltage_V for supply in supplies])
        self._supply_ln_A = np.array([supply.ln_max_current_A for supply in supplies])
        self._scale = scale_mol_m3[:, :, None]
        volume_m3 = transport.volume_m3.sum(axis=1)
        self._largest = scale_mol_m3.max(axis=0)
        self._amount_scale = self._largest * volume_m3
        self._progress = [Progress(place, [start_s]) for place in range(cells)]
        amounts = self.layout.amounts.stop - self.layout.amounts.start
        first = self.layout.pack(start, np.zeros((cells, amounts)), equilibrium, rates)
        #: the last accepted states of each cell, latest first, (B, points, size)
        self._states = np.zeros((cells, MAX_ORDER + 1, first.shape[1]))
        self._states[:, 0] = first
        self._newton = NewtonState.at(start, equilibrium, first.copy(), self.layout.mixing.stop)

    @property
    def states(self) -> Array:
        """The last accepted state of each cell, (B, size)."""
        return self._states[:, 0]

    def keep(self, members: Places) -> None:
        """Keep only these cells, given by number."""
        self.transport.keep(members)
        self.lagged.keep(members.tolist())
        self.supply_control = SupplyControl(
            self.supply_control.voltage[members], self.supply_control.value[members]
        )
        self._supply_V, self._supply_ln_A = self._supply_V[members], self._supply_ln_A[members]
        self._scale, self._largest = self._scale[:, members], self._largest[members]
        self._amount_scale = self._amount_scale[members]
        self._progress = [self._progress[k] for k in members]
        self._states = self._states[members]
        self._newton.keep(members)

    def advance(
        self, end_s: float, callbacks: Sequence[StepCallback], *, max_step_s: float
    ) -> list[Outcome | None]:
        """Advance every cell to ``end_s``, calling its callback after every step.

        A cell has no outcome if no step of it can be solved, or if too many are needed.
        """
        for place, cell in enumerate(self._progress):
            cell.place = place
        outcomes: dict[int, Outcome | None] = {}
        waiting = np.arange(len(self._progress))
        while self._progress:
            self._predict(waiting, end_s, max_step_s)
            # the size of its changes shows a guess that diverges
            with np.errstate(over="ignore", invalid="ignore", divide="ignore"):
                improved, solved, lost = self._iterate()
                errors, states = self._estimate_errors(solved, improved)
            for k in lost:
                self._progress[k].give_up(overshot=bool(self._newton.overshot[k]))
            ended = []
            for k, error, state in zip(solved, errors, states, strict=True):
                cell = self._progress[k]
                below = float(improved.below[k] / self._largest[k])
                if self._accepted(int(k), float(error), below, state):
                    callbacks[cell.place](cell.times_s, self._states[k, : len(cell.times_s)])
                    if not cell.times_s[0] < end_s * (1 - 1e-12):
                        ended.append(k)
                        outcomes[cell.place] = Outcome(
                            state.copy(), cell.steps, not self.supply_control.voltage[k]
                        )
            waiting = np.array(sorted({*lost, *solved} - set(ended)), dtype=np.int_)
            for k in waiting:
                if self._progress[k].is_stuck:
                    ended.append(k)
                    outcomes[self._progress[k].place] = None
            if ended:
                going = np.setdiff1d(np.arange(len(self._progress)), ended)
                waiting = np.searchsorted(going, np.setdiff1d(waiting, ended))
                self.keep(going)
        return [outcomes[place] for place in range(len(outcomes))]

    def _extents(self, state: Array) -> Array:
        """Return how often each reaction has happened in a cell, (2, R), mol."""
        return state[self.layout.amounts][: self.layout.reactions].reshape(2, -1)

    def _accepted(self, k: int, error: float, below: float, state: Array) -> bool:
        """Accept a solved step of a cell or not, and choose its next.

        A formula of higher order can overshoot below zero where something runs out; the first
        order cannot.
        """
        cell = self._progress[k]
        if cell.refuses(error):
            return False
        # nothing that has passed an electrode, left or formed bubbles comes back: a formula of higher order
        # may say so where a rate falls steeply, the first order cannot
        amounts = state[self.layout.amounts]
        back_mol = (self._states[k, 0][self.layout.amounts] - amounts).max()
        goes_back = back_mol > MAX_WAY_BACK * amounts.max()
        if (below > MAX_NEGATIVE_IN_STEP or goes_back) and cell.order > 1:
            cell.be_careful()
            return False
        overdrawn = self.lagged.overdrawn(self.transport, k, self._extents(state))
        if overdrawn or self._supply_changes(k, state):
            cell.begin_after_kink()
            return False
        predicted = self._newton.predicted[k]
        cell.from_last = self._far(k, state, self._states[k, 0]) < self._far(k, state, predicted)
        cell.accept(error, int(self._newton.iteration[k]))
        self._states[k, 1:] = self._states[k, :-1]
        self._states[k, 0] = state
        return True

    def _far(self, k: int, state: Array, other: Array) -> float:
        """Return how far a state of a cell is from another, as an iteration's change is measured."""
        layout, change = self.layout, state - other
        return self._newton.distance(k, change[layout.totals], change[layout.potential])

    def _supply_changes(self, k: int, state: Array) -> bool:
        """Switch between holding voltage and current when the other limit is passed."""
        if not self.transport.border.direction:
            return False
        if self.supply_control.voltage[k]:
            if state[self.layout.ln_current] <= self._supply_ln_A[k] + 1e-9:
                return False
            self.supply_control.voltage[k], self.supply_control.value[k] = (
                False,
                self._supply_ln_A[k],
            )
        else:
            voltage_V = self.transport.border.supply_voltage_V(self._newton.now)[k]
            if voltage_V <= self._supply_V[k] + 1e-6:
                return False
            self.supply_control.voltage[k], self.supply_control.value[k] = True, self._supply_V[k]
        return True

    def _predict(self, members: Places, end_s: float, max_step_s: float) -> None:
        """Predict the end of the next step of some cells."""
        if not members.size:
            return
        layout, newton, states = self.layout, self._newton, self._states[members]
        through = np.zeros((len(members), MAX_ORDER + 1))
        slope = np.zeros_like(through)
        for row, k in enumerate(members):
            cell = self._progress[k]
            cell.begin(end_s, max_step_s)
            self.lagged.limit_solids(
                self.transport, int(k), self._extents(states[row, 0]), cell.taken_s
            )
            current_A = math.exp(states[row, 0, layout.ln_current])
            self.lagged.cover(self.transport, int(k), self._extents(states[row, 0]), current_A)
            new_s = cell.times_s[0] + cell.taken_s
            through[row, : cell.points] = lagrange(cell.times_s[: cell.points], new_s)
            newton.leading[k], *others = differentiation([new_s, *cell.times_s[: cell.order]])
            slope[row, : cell.order] = others
        predicted = (through[:, None] @ states)[:, 0]
        newton.predicted[members] = predicted
        history = states[:, :, : layout.mixing.stop]
        newton.history[members] = (slope[:, None] @ history)[:, 0]
        old = layout.totals_of(states[:, 0])
        # where much has precipitated the error is judged against that
        newton.weight[:, members] = 1.0 / np.maximum(self._scale[:, members], np.abs(old))
        below = MORE_NEGATIVE * self.transport.below(old) / self._largest[members]
        newton.allowed[members] = np.maximum(MAX_NEGATIVE_IN_STEP, below)
        from_last = np.array([self._progress[k].from_last for k in members])
        guess = np.where(from_last[:, None], states[:, 0], predicted)
        start = layout.unknowns(guess)
        now = newton.now
        now.totals[:, members] = np.maximum(start.totals, self._not_far_below(old))
        now.u[members], now.potential_V[members] = start.u, start.potential_V
        now.ln_current[members], now.mixing[members] = start.ln_current, start.mixing
        last = layout.equilibrium_of(states[:, 0])
        newton.equilibrium[:, members] = np.minimum(
            np.maximum(layout.equilibrium_of(guess), last - 1.0), last + 1.0
        )
        newton.begin(members, np.array([self._progress[k].takes_patience for k in members]))

    def _iterate(self) -> tuple[NewtonStep, Places, Places]:
        """Improve every cell's step by one iteration; return which are solved, and which are lost."""
        transport, tolerance, newton, layout = (
            self.transport,
            self.tolerance,
            self._newton,
            self.layout,
        )
        fresh = newton.wants_coefficients()
        speciated = transport.model.speciate(
            newton.now.totals, newton.equilibrium, transport.constants, tolerance=SPECIATION
        )
        if fresh.any():
            members = ALL_CELLS if fresh.all() else np.flatnonzero(fresh)
            self.lagged.refresh(transport, speciated.system_mol_m3[:, members], members)
        step = Step(
            leading=newton.leading,
            totals=layout.totals_of(newton.history),
            mixing=newton.history[:, layout.mixing],
            supply_control=self.supply_control,
        )
        improved = transport.improve(newton.now, speciated, step, newton.reach, newton.part)
        newton.equilibrium = speciated.equilibrium_after(improved.change)
        solved, lost = newton.take(improved, self._largest, tolerance)
        ended = np.flatnonzero(solved)
        if ended.size:
            # for the next step: a film that followed a composition that is only predicted, or all at once,
            # would swing to and fro from step to step
            transport.let_films_flow(speciated.system_mol_m3[:, ended], ended, FOLLOWED)
        return improved, ended, np.flatnonzero(lost)

    def _estimate_errors(self, members: Places, improved: NewtonStep) -> tuple[Array, Array]:
        """Return the error over the tolerance of some cells' solved steps, and their states."""
        newton, layout = self._newton, self.layout
        if not members.size:
            return np.zeros(0), np.zeros((0, newton.predicted.shape[1]))
        rates = improved.extent_mol_s[members]
        leaving = improved.released_mol_s[members].reshape(len(members), -1)
        settling = improved.settled_mol_s[members]
        history = newton.history[members][:, layout.amounts]
        amounts = np.concatenate([rates.reshape(len(members), -1), leaving, settling], axis=1)
        amounts -= history
        amounts /= newton.leading[members, None]
        states = layout.pack(newton.now.at(members), amounts, newton.equilibrium[:, members], rates)
        ratio = np.zeros(len(members))
        for row, k in enumerate(members):
            cell = self._progress[k]
            if len(cell.times_s) > 1:
                spread = cell.times_s[0] - cell.times_s[cell.points - 1] + cell.taken_s
                if cell.points <= cell.order:
                    spread = 2 * cell.taken_s
                ratio[row] = 1.0 / (newton.leading[k] * spread)
                if cell.order == 1:
                    ratio[row] *= FIRST_ORDER_WEIGHT
        difference = states - newton.predicted[members]
        totals = layout.totals_of(difference) * newton.weight[:, members]
        liquid = np.sqrt(np.mean(totals * totals, axis=2)).max(axis=0)
        passed = np.abs(difference[:, layout.amounts]).max(axis=1) / self._amount_scale[members]
        mixing = MIXING_WEIGHT * np.abs(difference[:, layout.mixing]).max(axis=1)
        current = np.abs(difference[:, layout.ln_current])
        error = np.maximum(np.maximum(liquid, passed), np.maximum(mixing, current))
        return error * ratio / (1 + ratio) / self.tolerance.error, states

    def _not_far_below(self, old: Array) -> Array:
        floor = np.where(old > 0, 0.2 * old, old)
        may = self.transport.model.solved_may_be_negative()
        return np.where(may[:, None, None], -np.inf, floor)
