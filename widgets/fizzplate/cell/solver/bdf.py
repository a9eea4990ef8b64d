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

from fizzplate.cell.solver.polynomials import differentiation, lagrange
from fizzplate.cell.solver.state import Layout, Step, SupplyControl
from fizzplate.cell.solver.transport import LIMITS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.cell.physics import Supply
    from fizzplate.cell.solver.lagged_coefficients import LaggedCoefficients
    from fizzplate.cell.solver.state import Unknowns
    from fizzplate.cell.solver.transport import NewtonStep, Transport

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    Places = np.ndarray[tuple[int, ...], np.dtype[np.int_]]
    Flags = np.ndarray[tuple[int, ...], np.dtype[np.bool_]]

FIRST_STEP_S = 1e-4
MIN_STEP_S = 1e-9
MAX_GROWTH = 2.2
EASY_ITERATIONS = 3  # of a step after which the next may be as much longer as its error allows
GROWTH_AFTER_MORE = {4: 1.3, 5: 1.0, 6: 1.0}
GROWTH_AFTER_MANY = 0.6
MAX_ORDER = 3
MAX_ITERATIONS = 10
PATIENCE = 5  # iterations after which one that changes hardly less than the last is taken by halves
RUNAWAY = 10.0  # change of an iteration, relative to the scales, from which it has lost its way
MAX_CLIPPED_ITERATIONS = (
    25  # iterations besides: a potential may have to travel far when a reaction ends
)
SAFETY = 0.85
UNKNOWN_BENDING = 1e9  # before there was a second iteration
FORGETTING = 1.3  # by what a step solved in one iteration makes the next less sure of it
DEFAULT_CONTRACTION = 0.3  # of a first iteration: no better is relied on
MAX_NEGATIVE_IN_NEWTON = 1e-7  # of the largest total at the start
MAX_NEGATIVE_IN_STEP = 5e-7  # of the same, in an accepted step of higher order
MAX_WAY_BACK = (
    1e-9  # of an amount that has passed, relative to the largest, in a step of higher order
)
MAX_STEP_ATTEMPTS = 1000  # of steps in a stage; a usual run takes fifty
MORE_NEGATIVE = 1.01  # than the last state a step may be, where that is more than allowed
MAX_OVERSHOT = 5e-3  # change of an iteration, relative to the scales: its end can be told
HARDLY_LESS = 0.3  # of what is negative: when less is still to come, iterating does not mend it
FOLLOWED = 0.5  # of how free convection changed in a step
BORDER_WEIGHT = 0.1  # of a change in V, ln A or relative mixing beside one of the totals
MIXING_WEIGHT = 0.05  # of the stirring's error: it acts through the film alone
SHORTER = 0.25  # of a step that could not be solved
MAX_OVERSHOTS = 2  # in a row, before the first order is tried
FIRST_ORDER_WEIGHT = 3.0  # of its error: in a row they have the same sign, and add up
MUCH_SHORTER = 0.25
JUMP = 0.5  # of the first try's error in a much shorter one: what hardly falls is a jump
FAR_OFF = 1e-2  # change of a first iteration: from here coefficients are worked out again
MOST_CARE = 16  # steps of the first order in a row after a higher one has overshot again and again
PER_CELL = (
    *("leading", "history", "predicted", "reach", "moved", "size", "size_before", "bending"),
    *("part", "allowed", "overshot", "iteration", "steady", "left"),
)
ALL_CELLS = slice(None)
SPECIATION = 1e-4  # of the totals within a step; the last Newton step squares it


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


@dataclass(slots=True)
class _Progress:
    """How far one cell has come, and the step that it tries."""

    place: int  #: among the cells at the start
    times_s: list[float]  #: of the accepted points, latest first
    step_s: float = FIRST_STEP_S
    taken_s: float = 0.0
    highest: int = MAX_ORDER
    #: error and length of the first try, if that was too far off
    rejected: tuple[float, float] | None = None
    careful: int = 0  #: steps that are still taken with the first order
    care: int = 1  #: how many after the next that fails with a higher one
    overshot: int = 0  #: tries in a row that were given up because they led below zero
    from_last: bool = False  #: whether iterations start from the last state, not the predicted
    again: bool = False  #: whether this try is the same as the last, started from the other state
    order: int = 1
    points: int = 1
    steps: int = 0
    tries: int = 0


@dataclass(slots=True)
class _NewtonState:
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

    def keep(self, members: Places) -> None:
        """Keep only these cells."""
        self.now = self.now.at(members)
        self.weight = self.weight[:, members]
        self.equilibrium = self.equilibrium[:, members]
        for name in PER_CELL:
            setattr(self, name, getattr(self, name)[members])


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
        self._progress = [_Progress(place, [start_s]) for place in range(cells)]
        amounts = self.layout.amounts.stop - self.layout.amounts.start
        first = self.layout.pack(start, np.zeros((cells, amounts)), equilibrium, rates)
        #: the last accepted states of each cell, latest first, (B, points, size)
        self._states = np.zeros((cells, MAX_ORDER + 1, first.shape[1]))
        self._states[:, 0] = first
        self._newton = _NewtonState(
            now=start,
            equilibrium=equilibrium,
            leading=np.ones(cells),
            history=np.zeros((cells, self.layout.mixing.stop)),
            predicted=first.copy(),
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
        )

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
                self._give_up(int(k))
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
                cell = self._progress[k]
                if cell.step_s < MIN_STEP_S or cell.tries >= MAX_STEP_ATTEMPTS:
                    ended.append(k)
                    outcomes[cell.place] = None
            if ended:
                going = np.setdiff1d(np.arange(len(self._progress)), ended)
                waiting = np.searchsorted(going, np.setdiff1d(waiting, ended))
                self.keep(going)
        return [outcomes[place] for place in range(len(outcomes))]

    def _extents(self, state: Array) -> Array:
        """Return how often each reaction has happened in a cell, (2, R), mol."""
        return state[self.layout.amounts][: self.layout.reactions].reshape(2, -1)

    def _give_up(self, k: int) -> None:
        """Try a lost step of a cell again: from the other state, then a shorter one, or the first order.

        Where a front crosses a node the prediction is far off, and the last state is nearer. The first
        order never overshoots.
        """
        cell = self._progress[k]
        if not cell.again and len(cell.times_s) > 1 and not self._newton.overshot[k]:
            cell.again, cell.from_last = True, not cell.from_last
            cell.step_s = cell.taken_s
            return
        cell.again = False
        cell.step_s = SHORTER * cell.taken_s
        cell.overshot = cell.overshot + 1 if self._newton.overshot[k] else 0
        if cell.overshot > MAX_OVERSHOTS and cell.order > 1:
            self._be_careful(cell)
            cell.step_s = cell.taken_s

    def _be_careful(self, cell: _Progress) -> None:
        """Go on with the first order for a while, the longer the more often a higher one has failed."""
        cell.highest = 1
        cell.careful, cell.care = cell.care, min(2 * cell.care, MOST_CARE)

    def _accepted(self, k: int, error: float, below: float, state: Array) -> bool:
        """Accept a solved step of a cell or not, and choose its next.

        A formula of higher order can overshoot below zero where something runs out; the first
        order cannot.
        """
        cell = self._progress[k]
        taken = cell.taken_s
        factor = SAFETY * (1.0 / max(error, 1e-10)) ** (1 / (cell.order + 1))
        if error > 1.0 and taken > 10 * MIN_STEP_S:
            cell.step_s = taken * max(0.2, min(factor, 0.9))
            if cell.rejected is None:
                cell.rejected = (error, taken)
            first_error, first_s = cell.rejected
            if taken < MUCH_SHORTER * first_s:
                cell.rejected = (error, taken)
                if error > JUMP * first_error:
                    # the history before a jump says nothing about what follows
                    del cell.times_s[1:]
                    cell.step_s = MUCH_SHORTER * taken
            return False
        cell.rejected, cell.again = None, False
        # nothing that has passed an electrode, left or formed bubbles comes back: a formula of higher order
        # may say so where a rate falls steeply, the first order cannot
        amounts = state[self.layout.amounts]
        back_mol = (self._states[k, 0][self.layout.amounts] - amounts).max()
        goes_back = back_mol > MAX_WAY_BACK * amounts.max()
        if (below > MAX_NEGATIVE_IN_STEP or goes_back) and cell.order > 1:
            self._be_careful(cell)
            return False
        overdrawn = self.lagged.overdrawn(self.transport, k, self._extents(state))
        if overdrawn or self._supply_changes(k, state):
            # the history before a kink says nothing about what follows
            cell.step_s = taken if len(cell.times_s) > 1 else taken * 0.5
            del cell.times_s[1:]
            return False
        cell.steps += 1
        if cell.order > 1:
            cell.care = max(cell.care // 2, 1)
        cell.careful = max(cell.careful - 1, 0)
        cell.highest = 1 if cell.careful else MAX_ORDER
        predicted = self._newton.predicted[k]
        cell.from_last = self._far(k, state, self._states[k, 0]) < self._far(k, state, predicted)
        cell.times_s = [cell.times_s[0] + taken, *cell.times_s[:MAX_ORDER]]
        self._states[k, 1:] = self._states[k, :-1]
        self._states[k, 0] = state
        # where the iteration has had to work hard a longer step would not be solved
        factor = min(factor, _growth(int(self._newton.iteration[k])))
        if taken == cell.step_s or factor < 1:
            cell.step_s = taken * max(0.3, factor)
            # never below ten smallest steps, so that a jump cannot stop the run
            cell.step_s = max(cell.step_s, 10 * MIN_STEP_S)
        return True

    def _far(self, k: int, state: Array, other: Array) -> float:
        """Return how far a state of a cell is from another, as an iteration's change is measured."""
        layout, change = self.layout, np.abs(state - other)
        totals = change[layout.totals] * self._newton.weight[:, k].ravel()
        return float(totals.max() + BORDER_WEIGHT * change[layout.potential].max())

    def _supply_changes(self, k: int, state: Array) -> bool:
        """Switch between holding voltage and current when the other limit is passed."""
        if not self.transport.direction:
            return False
        if self.supply_control.voltage[k]:
            if state[self.layout.ln_current] <= self._supply_ln_A[k] + 1e-9:
                return False
            self.supply_control.voltage[k], self.supply_control.value[k] = (
                False,
                self._supply_ln_A[k],
            )
        else:
            voltage_V = self.transport.supply_voltage_V(self._newton.now)[k]
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
            remaining = end_s - cell.times_s[0]
            cell.step_s = min(cell.step_s, max_step_s)
            cell.taken_s = remaining if cell.step_s > 0.999 * remaining else cell.step_s
            cell.tries += 1
            self.lagged.limit_solids(
                self.transport, int(k), self._extents(states[row, 0]), cell.taken_s
            )
            current_A = math.exp(states[row, 0, layout.ln_current])
            self.lagged.cover(self.transport, int(k), self._extents(states[row, 0]), current_A)
            new_s = cell.times_s[0] + cell.taken_s
            cell.order = min(cell.highest, len(cell.times_s))
            # the predictor runs through one point more than the formula needs, where there is one
            cell.points = min(cell.order + 1, len(cell.times_s))
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
        newton.reach[members] = LIMITS
        newton.moved[members] = 0.0
        newton.iteration[members] = newton.steady[members] = 0
        newton.part[members] = 1.0
        newton.left[members] = MAX_ITERATIONS

    def _iterate(self) -> tuple[NewtonStep, Places, Places]:
        """Improve every cell's step by one iteration; return which are solved, and which are lost."""
        transport, tolerance, newton, layout = (
            self.transport,
            self.tolerance,
            self._newton,
            self.layout,
        )
        first = newton.iteration == 0
        # coefficients of the prediction alone would swing to and fro: it multiplies what differs by 15
        fresh = first | ((newton.iteration == 1) & (newton.size > FAR_OFF))
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
        moved = improved.unknowns.potential_V - newton.now.potential_V
        # a potential that swings to and fro about a step of the rates takes smaller steps, one that
        # has farther to go takes longer ones again
        reach = newton.reach[:, :2]
        factor = np.where(moved * newton.moved < 0, 0.5, 2.0)
        limited = np.where(np.abs(moved) < reach, reach, reach * factor)
        newton.reach[:, :2] = np.minimum(limited, LIMITS[:2])
        newton.moved = moved
        newton.now = improved.unknowns
        newton.equilibrium = speciated.equilibrium_after(improved.change)
        changed = np.abs(improved.change * newton.weight).max(axis=(0, 2))
        size = np.maximum(changed, BORDER_WEIGHT * improved.border_change)
        expected = np.minimum(newton.bending * size, DEFAULT_CONTRACTION)
        contraction = np.where(first, expected, np.minimum(size / newton.size, 0.9))
        size, taken_whole = size / newton.part, newton.part == 1.0
        # half a change of what is nearly linear leaves half of it: that is no reason to go on by halves
        hardly_less = size > (1 - 0.5 * newton.part) * newton.size
        newton.part = np.where(
            (newton.iteration > PATIENCE) & hardly_less & ~improved.clipped, 0.5, 1.0
        )
        newton.size_before, newton.size = newton.size, size
        newton.iteration += 1
        whole = ~improved.clipped & taken_whole
        newton.steady = np.where(whole, newton.steady + 1, 0)
        # what is left, of a contraction that is expected, or between a steady one and one that squares itself
        power = np.where(first, 1, 2)
        left = size * contraction**power / (1 - contraction)
        small = left < tolerance.newton * tolerance.error
        astray = ~(size < RUNAWAY)
        # no total is more negative than allowed, unless iterating changes that no more
        below = improved.below / self._largest
        settled = size * contraction / (1 - contraction) < HARDLY_LESS * below
        allowed = newton.allowed
        positive = (below < MAX_NEGATIVE_IN_NEWTON) | (settled & (below < allowed))
        solved = whole & small & positive & ~astray
        newton.bending = np.where(
            first,
            np.where(solved, FORGETTING * newton.bending, newton.bending),
            np.where(newton.iteration == 2, size / newton.size_before**2, newton.bending),
        )
        newton.left -= whole & ~solved
        slow = (newton.steady > 2) & (size > 2 * tolerance.error) & (contraction >= 0.9)
        endless = newton.iteration >= MAX_ITERATIONS + MAX_CLIPPED_ITERATIONS
        # where a formula of higher order overshoots below zero iterating does not help
        overshot = (below >= allowed) & (newton.iteration > 2)
        overshot &= (size < MAX_OVERSHOT) & ~astray & (improved.clipped | settled)
        newton.overshot = overshot
        lost = ~solved & (overshot | astray | endless | (whole & (slow | (newton.left == 0))))
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


def _growth(iterations: int) -> float:
    """Return by how much a step may be longer than the last, which was solved in so many iterations."""
    if iterations <= EASY_ITERATIONS:
        return MAX_GROWTH
    return GROWTH_AFTER_MORE.get(iterations, GROWTH_AFTER_MANY)
