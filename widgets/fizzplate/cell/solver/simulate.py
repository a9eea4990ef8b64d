"""Run cells: advance them stage by stage, and keep their records.

Cells that are alike but for their measures and strengths are worked out side by side.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell.record import record
from fizzplate.cell.solver.bdf import Integrator, Tolerance
from fizzplate.cell.solver.first_instant import NO_CURRENT_A, first_potentials
from fizzplate.cell.solver.lagged_coefficients import Lagged
from fizzplate.cell.solver.model import Model, transport_of
from fizzplate.cell.solver.samples import Samples, StageSampler
from fizzplate.data import find

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.cell.cell import Cell, Stage
    from fizzplate.cell.physics.circuit import Supply
    from fizzplate.cell.physics.species import Speciated
    from fizzplate.cell.run import Run
    from fizzplate.cell.solver.state import Held, Unknowns
    from fizzplate.cell.solver.transport import Transport

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]


@dataclass(frozen=True)
class Standing:
    """Cells that are alike as they stand at the start of a stage, with their equations."""

    transport: Transport
    lagged: Lagged
    totals: Array  #: (M, B, N)
    speciated: Speciated
    mixing: Array  #: (B, 2)

    @classmethod
    def of(cls, courses: Sequence[Course], direction: int) -> Standing:
        """Return how cells stand, with the current about to flow one way (+1, -1) or none (0)."""
        models = [course.model for course in courses]
        solids_mol = [course.model.solids_mol(course.kept) for course in courses]
        transport = transport_of(models, direction, solids_mol[0])
        lagged = Lagged(models[0].mobilities, solids_mol)
        totals = np.array([course.totals for course in courses]).swapaxes(0, 1)
        speciated = transport.model.speciate(totals, np.array([c.ln_hydrogen for c in courses]))
        lagged.refresh(transport, speciated.concentration_mol_m3, slice(None))
        nothing = np.zeros(transport.face_model.electrons.shape)
        for lane in range(len(courses)):
            lagged.limit_solids(transport, lane, nothing, 0.0)
        mixing = np.array([course.mixing for course in courses])
        return cls(transport, lagged, totals, speciated, mixing)

    def first_potentials(self, supplies: Sequence[Supply]) -> tuple[Unknowns, Held]:
        """Solve potentials and currents at the first instant."""
        concentration = self.speciated.concentration_mol_m3
        return first_potentials(self.transport, supplies, self.totals, concentration, self.mixing)


class StuckError(RuntimeError):
    """A run found no end: no step could be solved, or too many were needed."""


@dataclass
class Course:
    """One cell on its way: its model, what is kept of the run, and how its liquid stands."""

    model: Model
    kept: Samples
    totals: Array  #: (M, N)
    ln_hydrogen: Array  #: (N,)
    mixing: Array  #: (2,)
    stuck: bool = False  #: no step could be solved, or there was no end of steps

    @classmethod
    def at_start(cls, cell: Cell, wanted_s: Array, trace_mol_dm3: float = 0.0) -> Course:
        """Return the course of a cell before its first stage."""
        model = Model.of(cell, trace_mol_dm3=trace_mol_dm3) if trace_mol_dm3 else Model.of(cell)
        kept = Samples.empty(model, wanted_s)
        return cls(model, kept, model.start_totals, model.start_ln_hydrogen, np.zeros(2))

    def likeness(self) -> tuple[object, ...]:
        """Return what must be the same in two cells for them to be worked out side by side."""
        model, cell = self.model, self.model.cell
        plated = (tuple(solids) for solids in model.solids_mol(self.kept))
        return (
            model.ions,
            model.temperature_K,
            cell.pressure_kPa,
            cell.vessel.name,
            self.totals.shape,
            cell.cathode,
            cell.anode,
            model.surface(),
            *plated,
        )


def simulate(
    cells: Sequence[Cell],
    stages: Sequence[Stage],
    samples: int,
    tolerance: Tolerance | None = None,
) -> list[Run]:
    """Run cells through the same stages and return their records, in the same order.

    Where the liquid loses all its ions somewhere, a run may find no end of steps. Such a cell is run
    again with a trace of salt, and its record says so.

    Raises
    ------
    StuckError
        If that does not help either.
    """
    ends_s = np.cumsum([60.0 * stage.minutes for stage in stages])
    wanted_s = np.linspace(0.0, float(ends_s[-1]), samples)
    tolerance = tolerance or Tolerance()
    courses = [Course.at_start(cell, wanted_s) for cell in cells]
    _follow(courses, stages, ends_s, tolerance)
    traced = [k for k, course in enumerate(courses) if course.stuck]
    trace = find("model", quantity="trace to finish").value
    again = [Course.at_start(cells[k], wanted_s, trace) for k in traced]
    _follow(again, stages, ends_s, tolerance)
    for k, course in zip(traced, again, strict=True):
        if course.stuck:
            raise StuckError(f"no step could be solved {course.kept.reached_s:g} s into the run")
        courses[k] = course
    return [
        record(course.model, course.kept, trace_mol_dm3=trace if k in traced else 0.0)
        for k, course in enumerate(courses)
    ]


def _follow(
    courses: Sequence[Course], stages: Sequence[Stage], ends_s: Array, tolerance: Tolerance
) -> None:
    """Take courses through all stages, as far as they go."""
    start_s = 0.0
    for stage, end_s in zip(stages, ends_s, strict=True):
        direction = 0 if stage.off else -1 if stage.swapped else 1
        alike: dict[tuple[object, ...], list[Course]] = {}
        for course in courses:
            if not course.stuck:
                alike.setdefault(course.likeness(), []).append(course)
        for group in alike.values():
            _advance(group, direction, start_s, float(end_s), tolerance)
        start_s = float(end_s)


def _advance(
    courses: Sequence[Course],
    direction: int,
    start_s: float,
    end_s: float,
    tolerance: Tolerance,
    *,
    blocked: bool = False,
) -> None:
    """Advance cells that are alike through one stage.

    Where the voltage is too low for any reaction the liquid stands as with an open switch: such cells
    are ``blocked``, and the supply's voltage stands between their electrodes.
    """
    integrator = begin(courses, direction, start_s, tolerance)
    if direction:
        ln_current = integrator.states[:, integrator.layout.ln_current]
        flows = ln_current >= math.log(NO_CURRENT_A)
        if not flows.all():
            standing = [c for c, flowing in zip(courses, flows, strict=True) if not flowing]
            _advance(standing, 0, start_s, end_s, tolerance, blocked=True)
            courses = [c for c, flowing in zip(courses, flows, strict=True) if flowing]
            if not courses:
                return
            integrator.keep(np.flatnonzero(flows))
    samplers = [
        StageSampler(
            course.kept,
            integrator.transport,
            integrator.layout,
            course.model.cell.lamp,
            state,
            open_V=course.model.cell.supply.most_V if blocked else 0.0,
        )
        for course, state in zip(courses, integrator.states, strict=True)
    ]
    outcomes = integrator.advance(end_s, samplers, largest_step_s=(end_s - start_s) / 10)
    layout = integrator.layout
    for course, sampler, outcome in zip(courses, samplers, outcomes, strict=True):
        if outcome is None:
            course.stuck = True
            continue
        sampler.end(outcome)
        course.totals = outcome.state[layout.totals].reshape(layout.shape)
        course.ln_hydrogen = outcome.state[layout.ln_hydrogen]
        course.mixing = outcome.state[layout.mixing]


def begin(
    courses: Sequence[Course], direction: int, start_s: float, tolerance: Tolerance
) -> Integrator:
    """Return an integrator of cells that are alike, potentials and currents solved for as they stand."""
    standing = Standing.of(courses, direction)
    supplies = [course.model.cell.supply for course in courses]
    unknowns, held = standing.first_potentials(supplies)
    concentration = standing.speciated.concentration_mol_m3
    made = np.abs(np.array([course.model.start_totals for course in courses])).max(axis=2).T
    charge = standing.transport.model.charge
    ions = np.abs(concentration[:, :, 0] * charge[:, None]).sum(0) / 2
    return Integrator(
        standing.transport,
        supplies,
        unknowns,
        standing.transport.extents_mol_s(unknowns, standing.speciated),
        standing.speciated.ln_hydrogen,
        start_s=start_s,
        lagged=standing.lagged,
        scale_mol_m3=np.maximum(made, 0.05 * ions),
        held=held,
        tolerance=tolerance,
    )
