"""Run a cell: put the model together, advance it stage by stage, and keep the record."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell.circuit import CURRENT_EXPONENT
from fizzplate.cell.face import Release
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
    from fizzplate.cell.run import Run

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

CARRIED = ("Cl2", "Br2", "I2")  # whose dissolved molecules the transport model carries
COVERED_FROM_MOL_M3 = 1.0  # of a metal's ions: it covers the cathode within seconds
TRACE_IONS = ("Na+", "NO3-")  # stand for what the purest water in a school still holds
CRYSTAL_IONS = ("K+", "MnO4-")
SILVER_HALIDES = {"Cl-", "Br-", "I-"}
LEAST_LN_CURRENT = -5000.0  # below what any reaction gives when it is far from possible
NO_CURRENT_A = 1e-12  # less changes nothing that could be seen or weighed in a lesson


@dataclass(frozen=True)
class Model:
    """A cell made ready for computing: species, coefficients, and the liquid as it was made."""

    cell: Cell
    speciation: Speciation
    mobilities: Mobilities
    releases: tuple[Release, ...]
    temperature_K: float
    start_totals: Array  #: (M, N), mol/m3
    start_ln_hydrogen: Array  #: (N,)

    @classmethod
    def of(cls, cell: Cell, *, corrections: bool = True) -> Model:
        """Return the model of a cell; without ``corrections`` at infinite-dilution coefficients."""
        temperature_K = cell.temperature_C + ZERO_CELSIUS_K
        trace = find("model", quantity="trace in pure water").value
        held = dict(cell.ions_mol_dm3) or dict.fromkeys(TRACE_IONS, trace)
        made = {ion: 1e3 * c for ion, c in held.items()}
        crystal = CRYSTAL_IONS if cell.crystal else ()
        ions = list(dict.fromkeys([*made, *_from_electrodes(cell), *crystal]))
        if "Fe2+" in ions:
            ions.append("Fe3+")
        strength = 0.5 * sum(c * parse_formula(ion).charge ** 2 for ion, c in held.items())
        speciation = Speciation(
            ions, hydrogensulfate_constant_mol_m3=hydrogensulfate_constant_mol_m3(strength)
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
            surface=self._surface() if role == "cathode" else "",
            plated=plated,
        )
        return Electrode(material, possible, len(self.speciation.species), self.temperature_K)

    def _surface(self) -> str:
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

    def transport(
        self, direction: int, solids_mol: Sequence[Mapping[str, float]] = ({}, {})
    ) -> Transport:
        """Return the equations with the current one way (+1, -1) or none (0).

        ``solids_mol`` says what is on electrode 0 and 1 besides their own material.
        """
        roles = ("cathode", "anode") if direction >= 0 else ("anode", "cathode")
        materials = (self.cell.cathode, self.cell.anode)
        left, right = (
            self.electrode(role, material, [name for name, mol in solids.items() if mol > 0])
            for role, material, solids in zip(roles, materials, solids_mol, strict=True)
        )
        return Transport(
            self.cell.geometry,
            self.speciation,
            (left, right),
            direction=direction,
            lamp=self.cell.lamp,
            releases=self.releases,
            temperature_K=self.temperature_K,
        )

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


def _left_mol(
    gained_mol: Mapping[str, float], material: str, mass_g: float | None
) -> dict[str, float]:
    """Return the solids on an electrode that can run out: its own only if its mass is known."""
    own = electrodes()[material].formula
    left = {solid: mol for solid, mol in gained_mol.items() if solid != own and mol > 0}
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
        excess += hydrogen + sulfate * hydrogen / (speciation.hydrogensulfate + hydrogen)
    totals = np.array(
        [excess if name == ACID else made_mol_m3.get(name, 0.0) for name in speciation.solved]
    )
    column = totals[:, None]
    guess = speciation.first_guess(np.array([excess]))
    return totals, float(speciation.speciate(column, guess).ln_hydrogen[0])


def simulate(
    cell: Cell, stages: Sequence[Stage], samples: int, tolerance: Tolerance | None = None
) -> Run:
    """Run a cell through its stages and return the record."""
    model = Model.of(cell)
    ends_s = np.cumsum([60.0 * stage.minutes for stage in stages])
    wanted_s = np.linspace(0.0, float(ends_s[-1]), samples)
    kept = Samples.empty(model, wanted_s)
    totals, ln_hydrogen = model.start_totals, model.start_ln_hydrogen
    mixing: Array = np.zeros(2)
    start_s = 0.0
    for stage, end_s in zip(stages, ends_s, strict=True):
        direction = 0 if stage.off else -1 if stage.swapped else 1
        solids_mol = model.solids_mol(kept)
        transport = model.transport(direction, solids_mol)
        lagged = Lagged(model.mobilities, solids_mol)
        integrator = begin(
            model, transport, totals, ln_hydrogen, mixing, start_s, lagged, tolerance
        )
        blocked = direction != 0 and math.exp(integrator.start_ln_current) < NO_CURRENT_A
        if blocked:
            # the voltage is too low for any reaction: the liquid stands as with an open switch
            transport = model.transport(0, solids_mol)
            integrator = begin(
                model, transport, totals, ln_hydrogen, mixing, start_s, lagged, tolerance
            )
        open_V = cell.supply.most_V if blocked else 0.0
        sampler = StageSampler(kept, transport, integrator, open_V=open_V)
        integrator.advance(float(end_s), sampler, largest_step_s=(float(end_s) - start_s) / 10)
        sampler.end()
        unknowns = integrator.layout.unknowns(integrator.state)
        totals, mixing = unknowns.totals, unknowns.mixing
        ln_hydrogen = integrator.state[integrator.layout.ln_hydrogen]
        start_s = float(end_s)
    return record(model, kept)


def begin(
    model: Model,
    transport: Transport,
    totals: Array,
    ln_hydrogen: Array,
    mixing: Array,
    start_s: float,
    lagged: Lagged,
    tolerance: Tolerance | None,
) -> Integrator:
    """Return an integrator with potentials and current solved for the liquid as it is."""
    cell = model.cell
    speciated = model.speciation.speciate(totals, ln_hydrogen)
    concentration = speciated.concentration_mol_m3
    lagged.refresh(transport, concentration)
    none = tuple(np.zeros(len(electrode.reactions)) for electrode in transport.electrodes)
    lagged.limit_solids(transport, (none[0], none[1]), 0.0)
    unknowns, held = first_potentials(transport, cell, totals, concentration, mixing)
    first = transport.extents_mol_s(unknowns, speciated)
    count = first.size + 2 * len(transport.releases)
    total = float(np.abs(concentration[:, 0] * model.speciation.charge).sum()) / 2
    scale = np.maximum(np.abs(model.start_totals).max(axis=1), 0.05 * total)
    return Integrator(
        transport,
        cell.supply,
        unknowns,
        np.zeros(count),
        first,
        speciated.ln_hydrogen,
        start_s=start_s,
        lagged=lagged,
        scale_mol_m3=scale,
        held=held,
        tolerance=tolerance or Tolerance(),
    )


def first_potentials(
    transport: Transport, cell: Cell, totals: Array, concentration: Array, mixing: Array
) -> tuple[Unknowns, Held]:
    """Solve potentials and current for a liquid that stands still: the first instant.

    The voltage that the supply must give rises steadily with the current: Newton's method on ln I,
    within a bracket that shrinks.
    """
    supply = cell.supply
    ln_area = math.log(cell.geometry.area_m2)
    faces = (concentration[:, 0], concentration[:, -1])
    potentials = np.zeros(2)
    mixing_m2_s = REFERENCE_DIFFUSION_M2_S * mixing
    still = transport.flow.steps_carrying(concentration, 0.0, mixing_m2_s)

    def at(ln_current: float) -> Unknowns:
        for side, electrode in enumerate(transport.electrodes):
            potentials[side] = electrode.potential(
                ln_current - ln_area, faces[side], float(potentials[side])
            )
        current_mol_s = transport.current_mol_s(ln_current)
        u = transport.flow.steps_carrying(concentration, current_mol_s, mixing_m2_s)
        return Unknowns(totals.copy(), u, potentials.copy(), ln_current, mixing)

    def slope_V(at: Unknowns) -> float:
        """Rise of the supply's voltage with ln I: electrodes, liquid, lamp."""
        by_ln = [
            1.0 / electrode.rates(float(E), face).ln_sum_by_E
            for electrode, E, face in zip(transport.electrodes, at.potential_V, faces, strict=True)
        ]
        liquid_V = transport.thermal_V * float((at.u - still).sum())
        cell_V = transport.direction * (by_ln[1] - by_ln[0] + liquid_V)
        return cell_V + transport.lamp_voltage_V(at.ln_current) / CURRENT_EXPONENT

    if not transport.direction:
        nothing = Unknowns(totals.copy(), still, potentials, math.log(NO_CURRENT_A), mixing)
        return nothing, Held(voltage=False, value=nothing.ln_current)
    high = supply.ln_most_A
    unknowns = at(high)
    if transport.supply_voltage_V(unknowns) <= supply.most_V:
        return unknowns, Held(voltage=False, value=high)
    low = LEAST_LN_CURRENT
    guess = high - 2.0  # a little below the supply's limit, where most cells work
    for _ in range(80):
        unknowns = at(guess)
        miss_V = transport.supply_voltage_V(unknowns) - supply.most_V
        if abs(miss_V) < 1e-6:
            break
        low, high = (low, guess) if miss_V > 0 else (guess, high)
        newton = guess - miss_V / slope_V(unknowns)
        guess = newton if low < newton < high else 0.5 * (low + high)
    return unknowns, Held(voltage=True, value=supply.most_V)
