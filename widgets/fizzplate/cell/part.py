"""What a part of a run shows, as long as one model holds: until a stage changes the supply or the liquid."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell.known_species import KnownSpecies
from fizzplate.chemistry import FARADAY_C_MOL, GAS_J_MOL_K

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fizzplate.cell.physics import Geometry
    from fizzplate.cell.solver import Samples, Segment

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]


@dataclass(frozen=True)
class Part:
    """What a part of a run with one model shows, each array with an entry a sample."""

    segment: Segment
    voltage_V: Array
    pH: Array  #: (samples, N)
    conductivity_S_m: Array  #: (samples, N)
    species_mol_m3: Mapping[str, Array]  #: every species of the liquid, (samples, N)
    known: KnownSpecies
    known_mol_m3: Mapping[str, Array]
    velocity_m_s: Mapping[str, Array]
    haze_mol_m3: Mapping[str, Array]
    settled_mol: Mapping[str, Array]  #: (samples + 1,)

    @classmethod
    def of(cls, segment: Segment) -> Part:
        """Return what one part shows."""
        model, samples = segment.model, segment.samples
        speciation, grid = model.speciation, model.cell.geometry
        if not samples.time_s.size:
            return cls._without_samples(segment)
        count, m, nodes = samples.totals.shape
        flat = speciation.at_own_strength(
            samples.totals.transpose(1, 0, 2).reshape(m, -1),
            samples.equilibrium.transpose(1, 0, 2).reshape(speciation.unknowns, -1),
        )
        concentration = flat.concentration_mol_m3.reshape(-1, count, nodes)
        migration, _ = model.mobilities.evaluate(flat.system_mol_m3)
        migration = migration.reshape(concentration.shape)
        thermal_V = GAS_J_MOL_K * model.temperature_K / FARADAY_C_MOL
        charge = speciation.charge
        conductivity = (FARADAY_C_MOL / thermal_V) * np.einsum(
            "s,sij,sij->ij", charge**2, migration, concentration
        )
        by_name = dict(zip(speciation.species, concentration, strict=True))
        field_u = _field_per_m(samples, grid, conductivity, thermal_V)
        velocity = {
            name: -z * migration[i] * field_u / grid.tortuosity
            for i, (name, z) in enumerate(zip(speciation.species, charge, strict=True))
            if z
        }
        known = KnownSpecies.of(speciation)
        clouds = flat.precipitate_mol_m3.reshape(-1, count, nodes)
        voltage = samples.direction * (
            np.nan_to_num(samples.potential_V[:, 1] - samples.potential_V[:, 0]) + samples.liquid_V
        )
        return cls(
            segment=segment,
            voltage_V=voltage + samples.open_V,
            pH=speciation.constants.pH(flat.system_mol_m3).reshape(count, nodes),
            conductivity_S_m=conductivity,
            species_mol_m3=by_name,
            known=known,
            known_mol_m3=known.concentrations(by_name),
            velocity_m_s=velocity,
            haze_mol_m3=dict(zip(speciation.solids, clouds, strict=True)),
            settled_mol=_settled_mol(segment),
        )

    @classmethod
    def _without_samples(cls, segment: Segment) -> Part:
        """Return a part too short to be sampled: only what passed in it counts."""
        speciation = segment.model.speciation
        nothing = np.zeros((0, segment.model.cell.geometry.volume_m3.size))
        species = dict.fromkeys(speciation.species, nothing)
        known = KnownSpecies.of(speciation)
        return cls(
            segment=segment,
            voltage_V=np.zeros(0),
            pH=nothing,
            conductivity_S_m=nothing,
            species_mol_m3=species,
            known=known,
            known_mol_m3=known.concentrations(species),
            velocity_m_s={},
            haze_mol_m3=dict.fromkeys(speciation.solids, nothing),
            settled_mol=_settled_mol(segment),
        )

    @property
    def count(self) -> int:
        """Number of samples."""
        return self.segment.samples.time_s.size

    @property
    def volume_m3(self) -> Array:
        """Liquid that each place owns, (N,)."""
        return self.segment.model.cell.geometry.volume_m3


def _settled_mol(segment: Segment) -> dict[str, Array]:
    """Return what has settled of each solid in a part of a run, and at its end, (samples + 1,), mol."""
    samples = segment.samples
    settled = np.concatenate([samples.settled_mol, samples.settled_so_far_mol[None]])
    return dict(zip(segment.model.speciation.solids, settled.T, strict=True))


def _field_per_m(samples: Samples, grid: Geometry, conductivity: Array, thermal_V: float) -> Array:
    """Gradient of the potential in RT/F per metre that drives the current, (samples, N)."""
    area = grid.conductance_m * np.diff(grid.position_m)
    at_node = np.concatenate([area[:1], 0.5 * (area[:-1] + area[1:]), area[-1:]])
    signed = samples.direction * samples.current_A
    return np.asarray(signed[:, None] / (conductivity * at_node * thermal_V))
