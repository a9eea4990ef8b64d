"""Simulate cells stage by stage.

Cells with equal batch keys differ in measures and strengths only: one batch integrates them side by side.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell.physics import breaking_halide
from fizzplate.cell.solver.bdf import Integrator
from fizzplate.cell.solver.convergence import Tolerance
from fizzplate.cell.solver.first_instant import NO_CURRENT_A, first_potentials
from fizzplate.cell.solver.lagged_coefficients import LaggedCoefficients
from fizzplate.cell.solver.model import Model, transport_of
from fizzplate.cell.solver.samples import Samples, StageSampler
from fizzplate.data import find

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from fizzplate.cell.physics import CellLike, SpeciesProfile, Supply
    from fizzplate.cell.solver.stage import Stage
    from fizzplate.cell.solver.state import SupplyControl, Unknowns
    from fizzplate.cell.solver.transport import Transport

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]


@dataclass(frozen=True)
class InitialValues:
    """Initial values of a stage for a batch of cells, with the equations of the stage."""

    transport: Transport
    lagged: LaggedCoefficients
    totals: Array  #: (M, B, N)
    speciated: SpeciesProfile
    mixing: Array  #: (B, 2)

    @classmethod
    def of(cls, trajectories: Sequence[Trajectory], direction: int) -> InitialValues:
        """Return the initial values of a stage whose current flows one way (+1, -1) or not at all (0)."""
        models = [trajectory.model for trajectory in trajectories]
        solids_mol = [trajectory.solids_mol() for trajectory in trajectories]
        transport = transport_of(models, direction, solids_mol[0])
        lagged = LaggedCoefficients(models[0].mobilities, solids_mol)
        totals = np.array([trajectory.totals for trajectory in trajectories]).swapaxes(0, 1)
        speciated = transport.model.at_own_strength(
            totals, np.array([each.equilibrium for each in trajectories]).swapaxes(0, 1)
        )
        transport.let_films_flow(speciated.system_mol_m3, slice(None))
        lagged.refresh(transport, speciated.system_mol_m3, slice(None))
        nothing = np.zeros(transport.face_model.electrons.shape)
        for member in range(len(trajectories)):
            lagged.limit_solids(transport, member, nothing, 0.0)
            lagged.cover(transport, member, nothing, 0.0)
        mixing = np.array([trajectory.mixing for trajectory in trajectories])
        return cls(transport, lagged, totals, speciated, mixing)

    def first_potentials(self, supplies: Sequence[Supply]) -> tuple[Unknowns, SupplyControl]:
        """Solve potentials and currents at the first instant."""
        return first_potentials(self.transport, supplies, self.totals, self.speciated, self.mixing)


@dataclass(frozen=True, slots=True)
class Segment:
    """A part of a run for which one model held."""

    model: Model
    samples: Samples


class ConvergenceError(RuntimeError):
    """A run could not be finished: no step could be solved, or too many were needed."""


@dataclass
class Trajectory:
    """One cell's way through a run: its model, its samples, and the liquid at the end of the last stage.

    A cell whose supply or liquid is changed goes on with a model and samples of its own.
    """

    model: Model
    samples: Samples
    totals: Array  #: (M, N)
    equilibrium: Array  #: what is known of it, (U, N)
    mixing: Array  #: (2,)
    stuck: bool = False  #: no step could be solved, or too many were needed
    earlier: list[Segment] = field(default_factory=list)  #: what came before the last change

    @classmethod
    def at_start(cls, model: Model, wanted_s: Array) -> Trajectory:
        """Return the trajectory of a cell before its first stage."""
        samples = Samples.empty(model, wanted_s)
        return cls(model, samples, model.start_totals, model.start_equilibrium, np.zeros(2))

    @property
    def segments(self) -> tuple[Segment, ...]:
        """The run in parts, each with its model."""
        return (*self.earlier, Segment(self.model, self.samples))

    @property
    def reached_s(self) -> float:
        """Time of the last sample taken."""
        taken = [t for part in self.segments for t in part.samples.time_s[: part.samples.taken]]
        return float(taken[-1])

    def change_to(self, cell: CellLike) -> None:
        """Go on with a cell whose supply or liquid has been changed."""
        stirred = cell.volume_cm3 != self.model.cell.volume_cm3
        model = self.model.changed_to(cell, self.totals)
        wanted_s = self.samples.time_s[self.samples.taken :]
        self.earlier.append(Segment(self.model, self.samples.taken_so_far()))
        self.model, self.samples = model, Samples.empty(model, wanted_s)
        if stirred:
            self.totals, self.equilibrium = model.start_totals, model.start_equilibrium

    def solids_mol(self) -> tuple[dict[str, float], dict[str, float]]:
        """Return what can run out on electrode 0 and 1 by now, mol by formula."""
        return self.model.solids_mol([self._gained_mol(side) for side in (0, 1)])

    def _gained_mol(self, side: int) -> dict[str, float]:
        gained: dict[str, float] = {}
        for part in self.segments:
            for solid, mol in part.samples.gained_mol(side).items():
                gained[solid] = gained.get(solid, 0.0) + mol
        return gained

    def batch_key(self) -> tuple[object, ...]:
        """Return what must be the same in two cells for one batch to integrate both."""
        model, cell = self.model, self.model.cell
        plated = (tuple(solids) for solids in self.solids_mol())
        return (
            model.ions,
            model.temperature_K,
            cell.pressure_kPa,
            cell.vessel.name,
            self.totals.shape,
            cell.cathode,
            cell.anode,
            model.surface(),
            model.oxide(),
            # what keeps a metal from dissolving goes by the strength of the liquid
            *(breaking_halide(rod, cell.ions_mol_dm3) for rod in (cell.cathode, cell.anode)),
            *plated,
        )


def simulate(
    cells: Sequence[CellLike],
    stages: Sequence[Stage],
    samples: int,
    tolerance: Tolerance | None = None,
    *,
    changes: Mapping[int, Sequence[CellLike]] | None = None,
) -> list[Trajectory]:
    """Take cells through the same stages, and return their trajectories in the same order.

    As :func:`simulate_models`.
    """
    models = [Model.of(cell) for cell in cells]
    return simulate_models(models, stages, samples, tolerance, changes=changes)


def simulate_models(
    models: Sequence[Model],
    stages: Sequence[Stage],
    samples: int,
    tolerance: Tolerance | None = None,
    *,
    changes: Mapping[int, Sequence[CellLike]] | None = None,
) -> list[Trajectory]:
    """Take cells made ready through the same stages, and return their trajectories in the same order.

    ``changes`` names stages by their place, and the cells as they are from that stage on: another supply,
    or more liquid, stirred.

    Where the liquid loses all its ions somewhere, a run may need too many steps. Such a cell is run
    again with a trace of salt, which its model names.

    Raises
    ------
    ConvergenceError
        If that does not help either.
    """
    ends_s = np.cumsum([60.0 * stage.minutes for stage in stages])
    wanted_s = np.linspace(0.0, float(ends_s[-1]), samples)
    tolerance = tolerance or Tolerance()
    changes = changes or {}
    trajectories = [Trajectory.at_start(model, wanted_s) for model in models]
    _integrate(trajectories, stages, ends_s, tolerance, changes)
    stuck = [k for k, trajectory in enumerate(trajectories) if trajectory.stuck]
    trace = find("model", quantity="trace to finish").value
    again = [Trajectory.at_start(models[k].with_trace(trace), wanted_s) for k in stuck]
    again_changes = {place: [changed[k] for k in stuck] for place, changed in changes.items()}
    _integrate(again, stages, ends_s, tolerance, again_changes)
    for k, trajectory in zip(stuck, again, strict=True):
        if trajectory.stuck:
            raise ConvergenceError(
                f"no step could be solved {trajectory.reached_s:g} s into the run"
            )
        trajectories[k] = trajectory
    return trajectories


def _integrate(
    trajectories: Sequence[Trajectory],
    stages: Sequence[Stage],
    ends_s: Array,
    tolerance: Tolerance,
    changes: Mapping[int, Sequence[CellLike]],
) -> None:
    """Integrate all stages of every trajectory, as far as a step can be solved."""
    start_s = 0.0
    for place, (stage, end_s) in enumerate(zip(stages, ends_s, strict=True)):
        batches: dict[tuple[object, ...], list[Trajectory]] = {}
        for k, trajectory in enumerate(trajectories):
            if not trajectory.stuck:
                if place in changes:
                    trajectory.change_to(changes[place][k])
                batches.setdefault(trajectory.batch_key(), []).append(trajectory)
        for batch in batches.values():
            _integrate_stage(batch, stage.direction, start_s, float(end_s), tolerance)
        start_s = float(end_s)


def _integrate_stage(
    trajectories: Sequence[Trajectory],
    direction: int,
    start_s: float,
    end_s: float,
    tolerance: Tolerance,
    *,
    blocked: bool = False,
) -> None:
    """Integrate one stage of a batch.

    Where the voltage is too low for any reaction the liquid stands as with an open switch: such cells
    are ``blocked``, and the supply's voltage stands between their electrodes.
    """
    integrator = stage_integrator(trajectories, direction, start_s, tolerance)
    if direction:
        ln_current = integrator.states[:, integrator.layout.ln_current]
        flows = ln_current >= math.log(NO_CURRENT_A)
        if not flows.all():
            still = [c for c, flowing in zip(trajectories, flows, strict=True) if not flowing]
            _integrate_stage(still, 0, start_s, end_s, tolerance, blocked=True)
            trajectories = [c for c, flowing in zip(trajectories, flows, strict=True) if flowing]
            if not trajectories:
                return
            integrator.keep(np.flatnonzero(flows))
    samplers = [
        StageSampler(
            trajectory.samples,
            integrator.transport,
            integrator.layout,
            trajectory.model.cell.lamp,
            state,
            open_V=trajectory.model.cell.supply.max_voltage_V if blocked else 0.0,
        )
        for trajectory, state in zip(trajectories, integrator.states, strict=True)
    ]
    outcomes = integrator.advance(end_s, samplers, max_step_s=(end_s - start_s) / 10)
    layout = integrator.layout
    for trajectory, sampler, outcome in zip(trajectories, samplers, outcomes, strict=True):
        if outcome is None:
            trajectory.stuck = True
            continue
        sampler.end(outcome)
        trajectory.totals = outcome.state[layout.totals].reshape(layout.shape)
        trajectory.equilibrium = layout.equilibrium_of(outcome.state[None])[:, 0]
        trajectory.mixing = outcome.state[layout.mixing]


def stage_integrator(
    trajectories: Sequence[Trajectory], direction: int, start_s: float, tolerance: Tolerance
) -> Integrator:
    """Return the integrator of a stage of a batch, its first potentials and currents solved."""
    initial = InitialValues.of(trajectories, direction)
    supplies = [trajectory.model.cell.supply for trajectory in trajectories]
    unknowns, supply_control = initial.first_potentials(supplies)
    concentration = initial.speciated.concentration_mol_m3
    made = (
        np.abs(np.array([trajectory.model.start_totals for trajectory in trajectories]))
        .max(axis=2)
        .T
    )
    charge = initial.transport.model.charge
    ions = np.abs(concentration[:, :, 0] * charge[:, None]).sum(0) / 2
    return Integrator(
        initial.transport,
        supplies,
        unknowns,
        initial.transport.extents_mol_s(unknowns, initial.speciated),
        initial.speciated.equilibrium,
        start_s=start_s,
        lagged=initial.lagged,
        scale_mol_m3=np.maximum(made, 0.05 * ions),
        supply_control=supply_control,
        tolerance=tolerance,
    )
