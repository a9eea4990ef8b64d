"""Keep what is wanted at the sample times while a run goes on."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell.physics import ACID
from fizzplate.cell.solver.polynomials import lagrange

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.cell.physics import Lamp, Reaction
    from fizzplate.cell.solver.bdf import Outcome
    from fizzplate.cell.solver.model import Model
    from fizzplate.cell.solver.state import Layout
    from fizzplate.cell.solver.transport import Transport

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    Key = tuple[int, Reaction]


ROUNDING = 1e-12  # of the largest amount that passed


@dataclass
class Samples:
    """What is kept of a run, S samples, M totals, N nodes.

    Parameters
    ----------
    time_s
        Wanted times, (S,).
    totals, equilibrium
        (S, M, N) and (S, U, N).
    current_A, lamp_V, liquid_V, open_V
        Current, the voltages across lamp and liquid, and the voltage held without a current, (S,).
    potential_V
        Of both electrodes, (S, 2); not a number while no current flows.
    direction
        +1, -1 (wires swapped) or 0 (switch open), (S,).
    extent_mol, share
        By electrode and reaction: how often it happened so far, and its share of the current, (S,).
    released_mol, released_so_far_mol
        Gases that left at each electrode, then bubbles of them that formed, (S, 2, 2 gases), and at the
        end of the last stage, (2, 2 gases).
    settled_mol, settled_so_far_mol
        Solids that settled, (S, solids), and at the end of the last stage, (solids,).
    passed_mol
        By electrode and reaction: how often it had happened by the end of the last stage, mol.
    supply_limited
        Whether the supply ended a stage at its limit of current.
    steps
        Time steps of the solver.
    taken
        How many of the samples have been taken so far.
    """

    time_s: Array
    totals: Array
    equilibrium: Array
    current_A: Array
    lamp_V: Array
    liquid_V: Array
    open_V: Array
    potential_V: Array
    direction: np.ndarray[tuple[int, ...], np.dtype[np.int_]]
    released_mol: Array
    released_so_far_mol: Array
    settled_mol: Array
    settled_so_far_mol: Array
    extent_mol: dict[Key, Array] = field(default_factory=dict)
    share: dict[Key, Array] = field(default_factory=dict)
    passed_mol: dict[Key, float] = field(default_factory=dict)
    supply_limited: bool = False
    steps: int = 0
    taken: int = 0

    @classmethod
    def empty(cls, model: Model, wanted_s: Array) -> Samples:
        """Return room for samples at the wanted times."""
        count, nodes = wanted_s.size, model.cell.geometry.volume_m3.size
        return cls(
            time_s=wanted_s,
            totals=np.zeros((count, len(model.speciation.solved), nodes)),
            equilibrium=np.zeros((count, model.speciation.unknowns, nodes)),
            current_A=np.zeros(count),
            lamp_V=np.zeros(count),
            liquid_V=np.zeros(count),
            open_V=np.zeros(count),
            potential_V=np.full((count, 2), np.nan),
            direction=np.zeros(count, dtype=np.int_),
            released_mol=np.zeros((count, 2, 2 * len(model.releases))),
            released_so_far_mol=np.zeros((2, 2 * len(model.releases))),
            settled_mol=np.zeros((count, len(model.speciation.solids))),
            settled_so_far_mol=np.zeros(len(model.speciation.solids)),
        )

    def taken_so_far(self) -> Samples:
        """Return the samples without the room for those that are not taken."""
        kept = slice(self.taken)
        return replace(
            self,
            time_s=self.time_s[kept],
            totals=self.totals[kept],
            equilibrium=self.equilibrium[kept],
            current_A=self.current_A[kept],
            lamp_V=self.lamp_V[kept],
            liquid_V=self.liquid_V[kept],
            open_V=self.open_V[kept],
            potential_V=self.potential_V[kept],
            direction=self.direction[kept],
            released_mol=self.released_mol[kept],
            settled_mol=self.settled_mol[kept],
            extent_mol={key: extent[kept] for key, extent in self.extent_mol.items()},
            share={key: share[kept] for key, share in self.share.items()},
        )

    def gained_mol(self, side: int) -> dict[str, float]:
        """Return the solids that an electrode has gained by the end of the last stage, mol."""
        gained: dict[str, float] = {}
        for (at, reaction), passed in self.passed_mol.items():
            if at == side:
                for solid, count in reaction.solids.items():
                    gained[solid] = gained.get(solid, 0.0) + count * passed
        return gained


class StageSampler:
    """Samples one stage of one cell: handed to the integrator, which calls it after every step.

    Parameters
    ----------
    samples
        Where the samples go.
    transport, layout
        The stage's equations, and where their states keep what.
    lamp
        In series with the cell, or None.
    start
        State at the start of the stage, (size,).
    open_V
        Voltage that stands between the electrodes although no current flows, V.
    """

    def __init__(
        self,
        samples: Samples,
        transport: Transport,
        layout: Layout,
        lamp: Lamp | None,
        start: Array,
        *,
        open_V: float = 0.0,
    ) -> None:
        self._open_V = open_V
        self._samples = samples
        self._transport = transport
        self._layout = layout
        self._lamp = lamp
        self._released_before = samples.released_so_far_mol.copy()
        self._settled_before = samples.settled_so_far_mol.copy()
        most = layout.reactions // 2
        #: each reaction with its place among the amounts and the rates
        self._keys = [
            ((side, reaction), side * most + k)
            for side, electrode in enumerate(transport.electrodes)
            for k, reaction in enumerate(electrode.reactions)
        ]
        self._electrons = np.ones(layout.reactions)
        for key, place in self._keys:
            self._electrons[place] = key[1].electrons
            samples.extent_mol[key] = np.zeros(samples.time_s.size)
            samples.share[key] = np.zeros(samples.time_s.size)
        if samples.taken == 0 and 0.0 in samples.time_s:
            self._keep(start[None])

    def __call__(self, times_s: Sequence[float], states: Array) -> None:
        """Sample the wanted times that the last step passed, by the polynomial through its points."""
        samples = self._samples
        reached_s = times_s[0] * (1 + 1e-12)
        if samples.taken == samples.time_s.size or samples.time_s[samples.taken] > reached_s:
            return
        passed = int(np.searchsorted(samples.time_s, reached_s, side="right"))
        wanted_s = samples.time_s[samples.taken : passed]
        smooth = lagrange(times_s, wanted_s).T @ states
        # a curve through steep steps may dip below zero where a straight line does not
        straight = lagrange(times_s[:2], wanted_s).T @ states[:2]
        if self._goes_back(states[1], smooth, states[0]):
            smooth = straight
        below = self._are_negative(smooth)
        smooth[below] = straight[below]
        self._keep(smooth)

    def _goes_back(self, before: Array, between: Array, after: Array) -> bool:
        """Return whether an amount that passed, left or bubbled falls, or a rate is negative, on the way."""
        layout = self._layout
        passed = np.vstack([before, between, after])[:, layout.amounts]
        falls = (np.diff(passed, axis=0) < -ROUNDING * after[layout.amounts].max()).any()
        return bool(falls or (between[:, layout.rates] < 0).any())

    def _are_negative(self, states: Array) -> np.ndarray[tuple[int, ...], np.dtype[np.bool_]]:
        """Return which states (K, size) hold less than zero of a substance, (K,)."""
        model = self._transport.model
        totals = model.all_totals(self._layout.totals_of(states))
        substances = [name != ACID for name in model.totals]
        return np.asarray((totals[substances] < 0).any(axis=(0, 2)))

    def end(self, outcome: Outcome) -> None:
        """Carry the amounts over to what follows."""
        samples, layout = self._samples, self._layout
        amounts = outcome.state[layout.amounts]
        for key, place in self._keys:
            samples.passed_mol[key] = float(amounts[place])
            # a reaction of this stage stays where it stopped
            samples.extent_mol[key][samples.taken :] = amounts[place]
        gases = layout.reactions + layout.gases
        released = amounts[layout.reactions : gases].reshape(self._released_before.shape)
        samples.released_so_far_mol = self._released_before + released
        samples.settled_so_far_mol = self._settled_before + amounts[gases:]
        samples.steps += outcome.steps
        held_current = outcome.holds_current and self._transport.border.direction != 0
        samples.supply_limited = samples.supply_limited or held_current

    def _keep(self, states: Array) -> None:
        """Keep the states (K, size) of the next K samples."""
        samples, transport, layout = self._samples, self._transport, self._layout
        count = len(states)
        at = slice(samples.taken, samples.taken + count)
        samples.totals[at] = states[:, layout.totals].reshape(count, *layout.shape)
        samples.equilibrium[at] = layout.equilibrium_of(states).swapaxes(0, 1)
        samples.direction[at] = transport.border.direction
        amounts = states[:, layout.amounts]
        for key, place in self._keys:
            samples.extent_mol[key][at] = amounts[:, place]
        gases = layout.reactions + layout.gases
        released = amounts[:, layout.reactions : gases].reshape(count, *self._released_before.shape)
        samples.released_mol[at] = self._released_before + released
        samples.settled_mol[at] = self._settled_before + amounts[:, gases:]
        samples.liquid_V[at] = transport.border.thermal_V * states[:, layout.u].sum(1)
        samples.open_V[at] = self._open_V
        if transport.border.direction:
            current_A = np.exp(states[:, layout.ln_current])
            samples.current_A[at] = current_A
            samples.potential_V[at] = states[:, layout.potential]
            samples.lamp_V[at] = self._lamp.voltage_V(current_A) if self._lamp else 0.0
            self._keep_shares(at, states[:, layout.rates])
        samples.taken += count

    def _keep_shares(self, at: slice, rates: Array) -> None:
        currents = (rates * self._electrons).reshape(len(rates), 2, -1)
        currents /= currents.sum(axis=2, keepdims=True)
        shares = currents.reshape(len(rates), -1)
        for key, place in self._keys:
            self._samples.share[key][at] = shares[:, place]
