"""Run cells: put their models together, advance them stage by stage, and keep their records.

Cells that are alike but for their measures and strengths are worked out side by side.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell.circuit import CURRENT_EXPONENT
from fizzplate.cell.face import Release, at_ends
from fizzplate.cell.integrator import Integrator, Tolerance
from fizzplate.cell.kinetics import Electrode, reactions
from fizzplate.cell.lagged import Lagged
from fizzplate.cell.record import record
from fizzplate.cell.samples import Samples, StageSampler
from fizzplate.cell.speciation import ACID, Speciation
from fizzplate.cell.state import Held, Unknowns
from fizzplate.cell.stirring import REFERENCE_DIFFUSION_M2_S
from fizzplate.cell.transport import Transport
from fizzplate.chemistry import electrodes, molar_mass_g_mol, parse_formula, species_name
from fizzplate.chemistry.conductivity import hydrogensulfate_constant_mol_m3
from fizzplate.chemistry.constants import ZERO_CELSIUS_K
from fizzplate.chemistry.diffusion import diffusion_coefficient_m2_s
from fizzplate.chemistry.gases import saturation_mol_m3
from fizzplate.chemistry.mobility import Mobilities
from fizzplate.data import find, rows

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from fizzplate.cell.cell import Cell, Stage
    from fizzplate.cell.circuit import Supply
    from fizzplate.cell.run import Run

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

CARRIED = ("Cl2", "Br2", "I2")  # whose dissolved molecules the transport model carries
COVERED_FROM_MOL_M3 = 1.0  # of a metal's ions: it covers the cathode within seconds
TRACE_IONS = ("Na+", "NO3-")  # stand for what the purest water in a school still holds
CRYSTAL_IONS = ("K+", "MnO4-")
SILVER_HALIDES = {"Cl-", "Br-", "I-"}
LEAST_LN_CURRENT = -5000.0  # below what any reaction gives when it is far from possible
TRACE_MOL = 1e-13  # of a solid: less is no layer that could be used up
NO_CURRENT_A = 1e-10  # less changes nothing that could be seen or weighed in a lesson


class StuckError(RuntimeError):
    """A run found no end: no step could be solved, or too many were needed."""


@dataclass(frozen=True)
class Model:
    """A cell made ready for computing: species, coefficients, and the liquid as it was made."""

    cell: Cell
    ions: tuple[str, ...]  #: what can be in the liquid
    traces: tuple[str, ...]  #: of those, what was only added as a trace
    speciation: Speciation
    mobilities: Mobilities
    releases: tuple[Release, ...]
    temperature_K: float
    start_totals: Array  #: (M, N), mol/m3
    start_ln_hydrogen: Array  #: (N,)

    @classmethod
    def of(cls, cell: Cell, *, corrections: bool = True, trace_mol_dm3: float = 0.0) -> Model:
        """Return the model of a cell; without ``corrections`` at infinite-dilution coefficients.

        ``trace_mol_dm3`` is of a salt that takes part in nothing, added to the liquid.
        """
        temperature_K = cell.temperature_C + ZERO_CELSIUS_K
        trace = find("model", quantity="trace in pure water").value
        held = dict(cell.ions_mol_dm3) or dict.fromkeys(TRACE_IONS, trace)
        if trace_mol_dm3:
            held |= {ion: held.get(ion, 0.0) + trace_mol_dm3 for ion in TRACE_IONS}
        made = {ion: 1e3 * c for ion, c in held.items()}
        crystal = CRYSTAL_IONS if cell.crystal else ()
        ions = list(dict.fromkeys([*made, *_from_electrodes(cell), *crystal]))
        if "Fe2+" in ions:
            ions.append("Fe3+")
        strength = 0.5 * sum(c * parse_formula(ion).charge ** 2 for ion, c in held.items())
        traces = tuple(set(TRACE_IONS) - set(cell.ions_mol_dm3)) if trace_mol_dm3 else ()
        speciation = Speciation(
            ions,
            hydrogensulfate_constant_mol_m3=hydrogensulfate_constant_mol_m3(strength),
            traces=traces,
        )
        uniform, acidity = as_made(speciation, made)
        totals = uniform[:, None] * np.ones(cell.geometry.volume_m3.size)
        if cell.crystal:
            totals[
                [speciation.solved.index(ion) for ion in crystal if ion in speciation.solved]
            ] += _crystal_mol_m3(cell)
        ln_hydrogen = speciation.speciate(totals, np.full(totals.shape[1], acidity)).ln_hydrogen
        return cls(
            cell=cell,
            ions=tuple(ions),
            traces=traces,
            speciation=speciation,
            mobilities=Mobilities(speciation.species, temperature_K, corrections=corrections),
            releases=tuple(
                Release(gas, saturation_mol_m3(gas, pressure_kPa=cell.pressure_kPa))
                for gas in CARRIED
                if gas in speciation.species
            ),
            temperature_K=temperature_K,
            start_totals=totals,
            start_ln_hydrogen=ln_hydrogen,
        )

    def electrode(self, role: str, material: str, plated: Iterable[str] = ()) -> Electrode:
        """Return an electrode with every reaction that is possible in this solution."""
        possible = reactions(
            role,
            material,
            self.speciation,
            saturation_mol_m3={
                release.species: release.saturation_mol_m3 for release in self.releases
            },
            diffusion_m2_s={
                name: diffusion_coefficient_m2_s(name) for name in self.speciation.species
            },
            surface=self.surface() if role == "cathode" else "",
            plated=plated,
        )
        return Electrode(material, possible)

    def surface(self) -> str:
        """Return the name of the noblest metal that plates from this solution, or an empty text."""
        plating = [
            (row.value, row["product"])
            for row in rows("electrode_reactions")
            if row["electrode"] == "cathode"
            and parse_formula(row["product"]).charge == 0
            and 1e3 * self.cell.ions_mol_dm3.get(row["limited_by"], 0.0) >= COVERED_FROM_MOL_M3
            and row["product"] != "H2"
        ]
        return species_name(max(plating)[1]) if plating else ""

    def solids_mol(self, kept: Samples) -> tuple[dict[str, float], dict[str, float]]:
        """Return what can run out on electrode 0 and 1 after the samples so far, mol by formula."""
        cell = self.cell
        first, second = (
            _left_mol(kept.gained_mol(side), material, mass_g)
            for side, (material, mass_g) in enumerate(
                ((cell.cathode, cell.cathode_mass_g), (cell.anode, cell.anode_mass_g))
            )
        )
        return first, second


def transport_of(
    models: Sequence[Model],
    direction: int,
    plated: Sequence[Iterable[str]] = ((), ()),
) -> Transport:
    """Return the equations of cells that are alike, with the current one way (+1, -1) or none (0).

    ``plated`` names what is on electrode 0 and 1 besides their own material.
    """
    model = models[0]
    roles = ("cathode", "anode") if direction >= 0 else ("anode", "cathode")
    materials = (model.cell.cathode, model.cell.anode)
    left, right = (
        model.electrode(role, material, names)
        for role, material, names in zip(roles, materials, plated, strict=True)
    )
    cells = [each.cell for each in models]
    return Transport(
        [cell.geometry for cell in cells],
        Speciation(
            model.ions,
            hydrogensulfate_constant_mol_m3=np.array(
                [each.speciation.hydrogensulfate[0] for each in models]
            ),
            traces=model.traces,
        ),
        (left, right),
        direction=direction,
        lamps=[cell.lamp for cell in cells],
        releases=model.releases,
        temperature_K=model.temperature_K,
    )


def _left_mol(
    gained_mol: Mapping[str, float], material: str, mass_g: float | None
) -> dict[str, float]:
    """Return the solids on an electrode that can run out: its own only if its mass is known."""
    own = electrodes()[material].formula
    left = {solid: mol for solid, mol in gained_mol.items() if solid != own and mol > TRACE_MOL}
    if mass_g is not None:
        left[own] = mass_g / molar_mass_g_mol(own) + gained_mol.get(own, 0.0)
    return left


def _from_electrodes(cell: Cell) -> list[str]:
    """Return the ions that the electrodes can give.

    Silver in a solution of a halide gives none: its halide stays on it.
    """
    ions = [electrodes()[name].dissolves_as for name in (cell.cathode, cell.anode)]
    halides = SILVER_HALIDES & set(cell.ions_mol_dm3)
    return [ion for ion in ions if ion and not (ion == "Ag+" and halides)]


def _crystal_mol_m3(cell: Cell) -> Array:
    """Return the concentration that a crystal in the middle of the strip adds, (N,), mol/m3."""
    position_m = cell.geometry.position_m
    half_m = cell.vessel.quantity("crystal width") * 1e-3 / 2
    from_middle = np.abs(position_m - position_m[-1] / 2)
    soft_m = 0.25 * half_m  # an edge that several nodes share
    inside = 0.5 * (1 - np.tanh((from_middle - half_m) / soft_m))
    strength_mol_m3 = 1e3 * cell.vessel.quantity("crystal strength")
    return np.asarray(strength_mol_m3 * inside)


def as_made(speciation: Speciation, made_mol_m3: Mapping[str, float]) -> tuple[Array, float]:
    """Return the solved totals and ln c(H+) of a solution of these ions.

    Without acid or alkali, metal ions that hydrolyse make it slightly acid, ``c(H+)^2 = K c(metal)``
    with the first hydrolysis constant; the eliminated ion carries the charge.
    """
    hydrogen = 0.0
    for row in rows("equilibria"):
        if row["kind"] == "hydrolysis" and not {"H+", "OH-"} & set(made_mol_m3):
            metal = row["equation"].split(" + ")[0]
            hydrogen += 1e3 * math.sqrt(row.value * made_mol_m3.get(metal, 0.0) * 1e-3)
    sulfate = made_mol_m3.get("SO4^2-", 0.0)
    excess = made_mol_m3.get("H+", 0.0) - made_mol_m3.get("OH-", 0.0)
    if hydrogen:
        excess += hydrogen + sulfate * hydrogen / (float(speciation.hydrogensulfate[0]) + hydrogen)
    totals = np.array(
        [excess if name == ACID else made_mol_m3.get(name, 0.0) for name in speciation.solved]
    )
    column = totals[:, None]
    guess = speciation.first_guess(np.array([excess]))
    return totals, float(speciation.speciate(column, guess).ln_hydrogen[0])


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
    models = [course.model for course in courses]
    solids_mol = [course.model.solids_mol(course.kept) for course in courses]
    transport = transport_of(models, direction, solids_mol[0])
    lagged = Lagged(models[0].mobilities, solids_mol)
    totals = np.array([course.totals for course in courses]).swapaxes(0, 1)
    speciated = transport.model.speciate(totals, np.array([c.ln_hydrogen for c in courses]))
    concentration = speciated.concentration_mol_m3
    lagged.refresh(transport, concentration, slice(None))
    nothing = np.zeros(transport.face_model.electrons.shape)
    for lane in range(len(courses)):
        lagged.limit_solids(transport, lane, nothing, 0.0)
    mixing = np.array([course.mixing for course in courses])
    supplies = [model.cell.supply for model in models]
    unknowns, held = first_potentials(transport, supplies, totals, concentration, mixing)
    made = np.abs(np.array([model.start_totals for model in models])).max(axis=2).T
    ions = np.abs(concentration[:, :, 0] * transport.model.charge[:, None]).sum(0) / 2
    return Integrator(
        transport,
        supplies,
        unknowns,
        transport.extents_mol_s(unknowns, speciated),
        speciated.ln_hydrogen,
        start_s=start_s,
        lagged=lagged,
        scale_mol_m3=np.maximum(made, 0.05 * ions),
        held=held,
        tolerance=tolerance,
    )


def first_potentials(
    transport: Transport,
    supplies: Sequence[Supply],
    totals: Array,
    concentration: Array,
    mixing: Array,
) -> tuple[Unknowns, Held]:
    """Solve potentials and current for liquids that stand still: the first instant.

    The voltage that a supply must give rises steadily with the current: Newton's method on ln I,
    within a bracket that shrinks.
    """
    most_V = np.array([supply.most_V for supply in supplies])
    high = np.array([supply.ln_most_A for supply in supplies])
    ln_area = np.log(transport.area_m2)
    faces = at_ends(concentration)
    mixing_m2_s = REFERENCE_DIFFUSION_M2_S * mixing
    still = transport.flow.steps_carrying(concentration, np.zeros_like(high), mixing_m2_s)
    potential_V = np.zeros((len(supplies), 2))

    def at(ln_current: Array, guess_V: Array) -> Unknowns:
        wanted = np.repeat((ln_current - ln_area)[:, None], 2, axis=1)
        solved_V = transport.kinetics.potentials(wanted, faces, guess_V)
        current_mol_s = transport.current_mol_s(ln_current)
        u = transport.flow.steps_carrying(concentration, current_mol_s, mixing_m2_s)
        return Unknowns(totals.copy(), u, solved_V, ln_current, mixing)

    def slope_V(now: Unknowns) -> Array:
        """Rise of the supply's voltage with ln I: electrodes, liquid, lamp."""
        by_ln = 1.0 / transport.kinetics.rates(now.potential_V, faces).ln_sum_by_E
        liquid_V = transport.thermal_V * (now.u - still).sum(axis=1)
        cell_V = transport.direction * (by_ln[:, 1] - by_ln[:, 0] + liquid_V)
        return np.asarray(cell_V + transport.lamp_voltage_V(now.ln_current) / CURRENT_EXPONENT)

    if not transport.direction:
        none = np.full_like(high, math.log(NO_CURRENT_A))
        nothing = Unknowns(totals.copy(), still, potential_V, none, mixing)
        return nothing, Held(np.zeros(none.shape, dtype=bool), none)
    unknowns = at(high, potential_V)
    enough = transport.supply_voltage_V(unknowns) <= most_V
    if enough.all():
        return unknowns, Held(~enough, high)
    low = np.full_like(high, LEAST_LN_CURRENT)
    limit = high
    guess = np.where(enough, limit, high - 2.0)  # a little below the limit, where most cells work
    for _ in range(80):
        unknowns = at(guess, unknowns.potential_V)
        miss_V = transport.supply_voltage_V(unknowns) - most_V
        off = ~enough & (np.abs(miss_V) >= 1e-6)
        if not off.any():
            break
        high, low = np.where(miss_V > 0, guess, high), np.where(miss_V > 0, low, guess)
        newton = guess - miss_V / slope_V(unknowns)
        inside = (low < newton) & (newton < high)
        guess = np.where(off, np.where(inside, newton, 0.5 * (low + high)), guess)
    return unknowns, Held(~enough, np.where(enough, limit, most_V))
