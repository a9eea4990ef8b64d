"""Cells made ready for computing: species, coefficients, and the liquid as it was made."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell.physics import (
    ACID,
    HALIDES,
    Electrode,
    Release,
    Speciation,
    is_wholly_passive,
    opposing,
    reactions,
)
from fizzplate.cell.solver.transport import Transport
from fizzplate.chemistry import (
    ZERO_CELSIUS_K,
    electrodes,
    molar_mass_g_mol,
    parse_formula,
    species_name,
)
from fizzplate.chemistry.substances import GASES, saturation_mol_m3
from fizzplate.chemistry.transport_properties import Mobilities
from fizzplate.data import find, rows

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from fizzplate.cell.physics import CellLike, ExchangeFactors, Reaction

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

HALOGENS = ("Cl2", "Br2", "I2")  # whose dissolved molecules the transport model carries
COVERED_FROM_MOL_M3 = 1.0  # of a metal's ions: it, or its oxide, covers an electrode within seconds
TRACE_IONS = ("Na+", "NO3-")  # stand for what the purest water in a school still holds
CRYSTAL_IONS = ("K+", "MnO4-")
TRACE_MOL = 1e-13  # of a solid: less is no layer that could be used up


@dataclass(frozen=True)
class Model:
    """A cell made ready for computing: species, coefficients, and the liquid as it was made."""

    cell: CellLike
    ions: tuple[str, ...]  #: what can be in the liquid
    traces: tuple[str, ...]  #: of those, what was only added as a trace
    trace_mol_dm3: float  #: of a salt that was added so that the run finds an end
    speciation: Speciation
    mobilities: Mobilities
    releases: tuple[Release, ...]
    temperature_K: float
    start_totals: Array  #: (M, N), mol/m3
    start_equilibrium: Array  #: what is known of it, (U, N)
    exchange_factors: ExchangeFactors = field(default_factory=dict)
    film_factor: float = 1.0  #: by what the unmixed layers are thicker

    @classmethod
    def of(cls, cell: CellLike, *, corrections: bool = True, trace_mol_dm3: float = 0.0) -> Model:
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
        traces = _traces(cell) if trace_mol_dm3 else ()
        speciation = Speciation(ions, traces=traces)
        uniform = initial_totals(speciation, made)
        totals = uniform[:, None] * np.ones(cell.geometry.volume_m3.size)
        if cell.crystal:
            totals[
                [speciation.solved.index(ion) for ion in crystal if ion in speciation.solved]
            ] += _crystal_mol_m3(cell)
        # nodes that are alike need no more than one equilibrium
        alike, node = np.unique(totals, axis=1, return_inverse=True)
        start = speciation.initial_composition(alike).equilibrium[:, node]
        return cls(
            cell=cell,
            ions=tuple(ions),
            traces=traces,
            trace_mol_dm3=trace_mol_dm3,
            speciation=speciation,
            mobilities=Mobilities(
                speciation.system,
                speciation.species,
                speciation.lumping,
                temperature_K,
                corrections=corrections,
            ),
            releases=_releases(speciation, cell),
            temperature_K=temperature_K,
            start_totals=totals,
            start_equilibrium=start,
        )

    def changed_to(self, cell: CellLike, totals: Array) -> Model:
        """Return the model of this liquid after the cell's supply or liquid was changed.

        Parameters
        ----------
        cell
            The cell as it is now. What it holds more than before was poured in and stirred.
        totals
            What was in the liquid before, (M, N), mol/m3.
        """
        if cell.volume_cm3 == self.cell.volume_cm3:
            return replace(self, cell=cell)
        traces = tuple(ion for ion in _traces(cell) if ion in self.ions)
        ions = dict.fromkeys([*self.ions, *cell.ions_mol_dm3, *_from_electrodes(cell)])
        speciation = Speciation(ions, traces=traces)
        before_mol = dict(
            zip(
                self.speciation.totals,
                self.speciation.all_totals(totals) @ self.cell.geometry.volume_m3,
                strict=True,
            )
        )
        held_mol = np.array([before_mol.get(name, 0.0) for name in speciation.solved])
        held_mol += initial_totals(speciation, _poured_mol(self.cell, cell))
        uniform = held_mol[:, None] / cell.geometry.volume_m3.sum()
        nodes = np.ones(cell.geometry.volume_m3.size)
        return replace(
            self,
            cell=cell,
            ions=tuple(ions),
            traces=traces,
            speciation=speciation,
            mobilities=Mobilities(
                speciation.system, speciation.species, speciation.lumping, self.temperature_K
            ),
            releases=_releases(speciation, cell),
            start_totals=uniform * nodes,
            start_equilibrium=speciation.initial_composition(uniform).equilibrium * nodes,
        )

    def with_trace(self, trace_mol_dm3: float) -> Model:
        """Return the same with a trace of a salt that takes part in nothing."""
        traced = Model.of(self.cell, trace_mol_dm3=trace_mol_dm3)
        return replace(traced, exchange_factors=self.exchange_factors, film_factor=self.film_factor)

    def electrode(self, role: str, material: str, plated: Iterable[str] = ()) -> Electrode:
        """Return an electrode with all reactions that are possible here, and those that oppose them."""
        possible = self._reactions(role, material, plated)
        metal = electrodes()[material]
        if not metal.active:
            return Electrode(material, possible)
        other = self._reactions("cathode" if role == "anode" else "anode", material, plated)
        anodic, cathodic = (possible, other) if role == "anode" else (other, possible)
        return Electrode(material, possible, opposing(role, metal.formula, anodic, cathodic))

    def _reactions(self, role: str, material: str, plated: Iterable[str]) -> tuple[Reaction, ...]:
        return reactions(
            role,
            material,
            self.speciation,
            saturation_mol_m3={
                halogen: saturation_mol_m3(halogen, pressure_kPa=self.cell.pressure_kPa)
                for halogen in HALOGENS
                if halogen in self.speciation.species
            },
            diffusion_m2_s=self.mobilities.diffusion_m2_s,
            surface=self.surface() if role == "cathode" else self.oxide(),
            plated=plated,
            made_mol_dm3=self.cell.ions_mol_dm3,
        )

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

    def oxide(self) -> str:
        """Return the name of the oxide that an anode makes of this solution's ions, or an empty text."""
        known = {
            row["material"] for row in rows("kinetics") if row["reaction"] == "oxygen from water"
        }
        return next(
            (
                species_name(row["product"])
                for row in rows("electrode_reactions")
                if row["electrode"] == "anode"
                and species_name(row["product"]) in known
                and 1e3 * self.cell.ions_mol_dm3.get(row["limited_by"], 0.0) >= COVERED_FROM_MOL_M3
            ),
            "",
        )

    def solids_mol(
        self, gained_mol: Sequence[Mapping[str, float]]
    ) -> tuple[dict[str, float], dict[str, float]]:
        """Return what can run out on electrode 0 and 1, given what each has gained, mol by formula."""
        cell = self.cell
        rods = ((cell.cathode, cell.cathode_mass_g), (cell.anode, cell.anode_mass_g))
        first, second = (
            _left_mol(gained, material, mass_g)
            for gained, (material, mass_g) in zip(gained_mol, rods, strict=True)
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
        model.speciation,
        (left, right),
        direction=direction,
        lamps=[cell.lamp for cell in cells],
        releases=model.releases,
        temperature_K=model.temperature_K,
        exchange_factors=[each.exchange_factors for each in models],
        film_factors=[each.film_factor for each in models],
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


def _traces(cell: CellLike) -> tuple[str, ...]:
    """Return the ions of a trace of salt beside a cell's own; in pure water they are all there is."""
    own = cell.ions_mol_dm3
    return tuple(set(TRACE_IONS) - set(own)) if own else ()


def _releases(speciation: Speciation, cell: CellLike) -> tuple[Release, ...]:
    """Return the gases that can leave the liquid; bromine and iodine stay in it."""
    return tuple(
        Release(gas, saturation_mol_m3(gas, pressure_kPa=cell.pressure_kPa))
        for gas in HALOGENS
        if gas in speciation.species and gas in GASES
    )


def _poured_mol(before: CellLike, after: CellLike) -> dict[str, float]:
    """Return how much of each ion a cell was given, mol."""
    return {
        ion: 1e-3
        * (strength * after.volume_cm3 - before.ions_mol_dm3.get(ion, 0.0) * before.volume_cm3)
        for ion, strength in after.ions_mol_dm3.items()
    }


def _from_electrodes(cell: CellLike) -> list[str]:
    """Return the ions that the electrodes can give.

    Silver in a solution of a halide gives none: its halide stays on it.
    """
    ions = [
        electrodes()[name].dissolves_as
        for name in (cell.cathode, cell.anode)
        if not is_wholly_passive(name, cell.ions_mol_dm3)
    ]
    halides = HALIDES & set(cell.ions_mol_dm3)
    return [ion for ion in ions if ion and not (ion == "Ag+" and halides)]


def _crystal_mol_m3(cell: CellLike) -> Array:
    """Return the concentration that a crystal in the middle of the strip adds, (N,), mol/m3."""
    position_m = cell.geometry.position_m
    half_m = cell.vessel.quantity("crystal width") * 1e-3 / 2
    from_middle = np.abs(position_m - position_m[-1] / 2)
    soft_m = 0.25 * half_m  # an edge that several nodes share
    inside = 0.5 * (1 - np.tanh((from_middle - half_m) / soft_m))
    strength_mol_m3 = 1e3 * cell.vessel.quantity("crystal strength")
    return np.asarray(strength_mol_m3 * inside)


def initial_totals(speciation: Speciation, made_mol_m3: Mapping[str, float]) -> Array:
    """Return the solved totals of a solution of these ions, (M,)."""
    excess = made_mol_m3.get("H+", 0.0) - made_mol_m3.get("OH-", 0.0)
    return np.array(
        [excess if name == ACID else made_mol_m3.get(name, 0.0) for name in speciation.solved]
    )
