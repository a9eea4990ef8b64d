"""Make the record of a run from its samples."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data
from fizzplate.cell.air_oxygen import OxygenBeside, oxygen_beside
from fizzplate.cell.known_species import KnownSpecies
from fizzplate.cell.physics import GasCollection
from fizzplate.cell.provenance import sources_of
from fizzplate.cell.run import ElectrodeRecord, Run
from fizzplate.cell.warnings import RunConditions, warnings
from fizzplate.chemistry import FARADAY_C_MOL, GAS_J_MOL_K, electrodes, molar_mass_g_mol

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from fizzplate.cell.physics import Geometry, Reaction
    from fizzplate.cell.solver import Model, Samples, Segment, Trajectory

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

MIN_PRODUCT_SHARE = 1e-6  # of the charge: less is no product
PLATES = 0.05  # of the current: less deposits no visible layer
GONE = 0.999  # of its mass
LIQUID_J_M3_K = 4.18e6  # heat capacity of water by volume; dilute solutions are within 5 %


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
        )

    @property
    def count(self) -> int:
        """Number of samples."""
        return self.segment.samples.time_s.size

    @property
    def volume_m3(self) -> Array:
        """Liquid that each place owns, (N,)."""
        return self.segment.model.cell.geometry.volume_m3


def record(trajectory: Trajectory, *, boils: bool = False) -> Run:
    """Make the record of a run from what the solver returns.

    Parameters
    ----------
    trajectory
        Of the cell.
    boils
        Whether the run ends because the liquid would boil.
    """
    parts = [Part.of(segment) for segment in trajectory.segments]
    last = parts[-1].segment.model

    def joined(values: Callable[[Samples], Array]) -> Array:
        return np.concatenate([values(part.segment.samples) for part in parts])

    time_s = joined(lambda samples: samples.time_s)
    current_A = joined(lambda samples: samples.current_A)
    direction = np.concatenate([part.segment.samples.direction for part in parts])
    lamp_V = joined(lambda samples: samples.lamp_V)
    voltage = np.concatenate([part.voltage_V for part in parts])
    volume_m3 = np.repeat([part.volume_m3.sum() for part in parts], [part.count for part in parts])
    cathode, anode = (_electrode(parts, side, volume_m3) for side in (0, 1))
    temperature = _temperature_C(time_s, current_A, voltage, last.cell.temperature_C, volume_m3)
    beside = _oxygen_beside(parts)
    conditions = [
        RunConditions(
            cell=cell,
            supply_limited=samples.supply_limited,
            min_current_A=float(samples.current_A[samples.direction != 0].min(initial=math.inf)),
            highest_temperature_C=float(temperature.max()),
            boils_after_s=float(time_s[-1]) if boils else None,
            anode_gone=_gone(anode, cell.anode_mass_g),
            products=(*cathode.products, *anode.products),
            roughness=max(float(e.limiting_share[1:].max(initial=0.0)) for e in (cathode, anode)),
            water_lost_cm3=_water_lost_cm3(cathode, anode),
            trace_mol_dm3=last.trace_mol_dm3,
            oxygen_beside=beside,
        )
        for cell, samples in ((part.segment.model.cell, part.segment.samples) for part in parts)
    ]
    return Run(
        cells=tuple(part.segment.model.cell for part in parts),
        time_s=time_s,
        current_A=current_A,
        charge_C=_charge_C(parts),
        voltage_V=voltage,
        lamp_voltage_V=lamp_V,
        supply_voltage_V=voltage + lamp_V,
        swapped=direction < 0,
        cathode=cathode,
        anode=anode,
        ions=tuple(dict.fromkeys(ion for part in parts for ion in part.known.ions)),
        dissolved=tuple(dict.fromkeys(name for part in parts for name in part.known.dissolved)),
        position_m=last.cell.geometry.position_m,
        volume_m3=parts[0].volume_m3,
        pH=np.concatenate([part.pH for part in parts]),
        conductivity_S_m=np.concatenate([part.conductivity_S_m for part in parts]),
        temperature_C=temperature,
        warning_sentences=warnings(conditions),
        sources=sources_of(last),
        steps=sum(part.segment.samples.steps for part in parts),
        _concentration=_joined_by_name(parts, [part.known_mol_m3 for part in parts]),
        _velocity=_joined_by_name(parts, [part.velocity_m_s for part in parts]),
        _haze=_joined_by_name(parts, [part.haze_mol_m3 for part in parts]),
        _liquid=tuple((part.count, part.volume_m3) for part in parts),
    )


def _oxygen_beside(parts: Sequence[Part]) -> OxygenBeside | None:
    """Return what oxygen of the air would take at the cathode where it counts most in a run."""
    found = []
    for part in parts:
        samples = part.segment.samples
        cathode_pH = np.where(samples.direction < 0, part.pH[:, -1], part.pH[:, 0])
        cell = part.segment.model.cell
        found.append(oxygen_beside(cell, samples, cathode_pH, part.conductivity_S_m))
    known = [each for each in found if each is not None]
    return max(known, key=lambda each: (each.share, each.oxygen_A), default=None)


def _joined_by_name(
    parts: Sequence[Part], values: Sequence[Mapping[str, Array]]
) -> dict[str, Array]:
    """Join arrays (samples, N) of each part by name; what a part does not know is not there, zero."""
    names = dict.fromkeys(name for each in values for name in each)
    return {
        name: np.concatenate(
            [
                each[name] if name in each else np.zeros(part.pH.shape)
                for part, each in zip(parts, values, strict=True)
            ]
        )
        for name in names
    }


def _added_up(parts: Sequence[Part], values: Sequence[Mapping[str, Array]]) -> dict[str, Array]:
    """Join by name what each part adds to: (samples + 1,) with what it has added at its end."""
    names = dict.fromkeys(name for each in values for name in each)
    joined = {}
    for name in names:
        before, found = 0.0, []
        for part, each in zip(parts, values, strict=True):
            more = before + each.get(name, np.zeros(part.count + 1))
            found.append(more[:-1])
            before = float(more[-1])
        joined[name] = np.concatenate(found)
    return joined


def _water_lost_cm3(*electrodes_: ElectrodeRecord) -> float:
    """Return the water that the current has split: two molecules for each of oxygen, cm3."""
    oxygen = sum(float(e.amount_mol(gas)[-1]) for e in electrodes_ for gas in ("O2", "CO2"))
    return 2 * oxygen * molar_mass_g_mol("H2O")


def _gone(electrode: ElectrodeRecord, mass_g: float | None) -> bool:
    """Return whether an electrode of this mass has been used up."""
    if mass_g is None:
        return False
    own = electrodes()[electrode.material].formula
    return float(electrode.mass_g(own).min()) < -GONE * mass_g


def _limiting_share(
    model: Model, samples: Samples, side: int, by_name: Mapping[str, Array]
) -> Array:
    """Return how near a plating metal's ions at the face are to being used up, (samples,).

    One less their concentration at the face over that beyond the film; of several metals that of
    whichever is nearest to its limit.
    """
    grid = model.cell.geometry
    result = np.zeros(samples.time_s.size)
    if not grid.film_m:
        return result
    place = grid.position_m if side == 0 else grid.position_m[-1] - grid.position_m
    beyond = np.abs(place - grid.film_m).argmin()
    face = 0 if side == 0 else -1
    for (at, reaction), share in samples.share.items():
        if at != side or not reaction.limited_by or reaction.solids.get(reaction.product, 0) <= 0:
            continue
        ion = by_name[model.speciation.species[reaction.limited_by[0]]]
        used = 1 - ion[:, face] / np.maximum(ion[:, beyond], 1e-12)
        result = np.maximum(result, np.where(share > PLATES, np.clip(used, 0.0, 1.0), 0.0))
    return result


def _field_per_m(samples: Samples, grid: Geometry, conductivity: Array, thermal_V: float) -> Array:
    """Gradient of the potential in RT/F per metre that drives the current, (samples, N)."""
    area = grid.conductance_m * np.diff(grid.position_m)
    at_node = np.concatenate([area[:1], 0.5 * (area[:-1] + area[1:]), area[-1:]])
    signed = samples.direction * samples.current_A
    return np.asarray(signed[:, None] / (conductivity * at_node * thermal_V))


def _with_end(samples: Samples, key: tuple[int, Reaction]) -> Array:
    """Return how often a reaction has happened in a part of a run, and at its end, (samples + 1,), mol."""
    extent = samples.extent_mol[key]
    return np.append(extent, samples.passed_mol.get(key, 0.0))


def _charge_C(parts: Sequence[Part]) -> Array:
    """Charge from the extents: what passed an electrode, whichever way, adds up."""
    totals = []
    for part in parts:
        total = np.zeros(part.count + 1)
        for key in part.segment.samples.extent_mol:
            side, reaction = key
            if side == 0:
                total += reaction.electrons * _with_end(part.segment.samples, key)
        totals.append({"charge": total})
    return _added_up(parts, totals)["charge"] * FARADAY_C_MOL


def _temperature_C(
    time_s: Array, current_A: Array, voltage_V: Array, room_C: float, volume_m3: Array
) -> Array:
    """Liquid's temperature: heat of the current less what the wall loses; upper estimate.

    What is poured in is as warm as the room.
    """
    loss_W_K = data.find("model", quantity="heat loss").value
    capacity_J_K = LIQUID_J_M3_K * volume_m3
    power_W = np.maximum(voltage_V, 0.0) * current_A
    warmer = np.zeros(time_s.size)
    for i, step_s in enumerate(np.diff(time_s), start=1):
        keep = np.exp(-loss_W_K / capacity_J_K[i] * step_s)
        mean_W = 0.5 * (power_W[i] + power_W[i - 1])
        spread = volume_m3[i - 1] / volume_m3[i]
        warmer[i] = warmer[i - 1] * spread * keep + mean_W / loss_W_K * (1 - keep)
    return np.asarray(room_C + warmer)


def _electrode(parts: Sequence[Part], side: int, volume_m3: Array) -> ElectrodeRecord:
    each = [_at_one_electrode(part, side) for part in parts]
    charges = _added_up(parts, [one.charges_C for one in each])
    made = {product: float(passed_C[-1]) for product, passed_C in charges.items()}
    least_C = MIN_PRODUCT_SHARE * sum(made.values())
    products = tuple(p for p in sorted(made, key=lambda p: -made[p]) if made[p] > least_C)
    samples = [part.segment.samples for part in parts]
    cell = parts[-1].segment.model.cell
    face = 0 if side == 0 else -1
    return ElectrodeRecord(
        material=cell.cathode if side == 0 else cell.anode,
        products=products,
        potential_V=np.concatenate([one.potential_V[:, side] for one in samples]),
        pH=np.concatenate([part.pH[:, face] for part in parts]),
        limiting_share=np.concatenate(
            [
                _limiting_share(part.segment.model, part.segment.samples, side, part.species_mol_m3)
                for part in parts
            ]
        ),
        _shares=_shares(parts, each),
        _amounts_mol=_added_up(parts, [one.amounts_mol for one in each]),
        _charges_C=charges,
        _solid_mol=_added_up(parts, [one.solids_mol for one in each]),
        _gas_collection=GasCollection(
            volume_m3,
            cell.temperature_C,
            cell.pressure_kPa,
            _added_up(parts, [one.left_mol for one in each]),
            _carried_mol(parts),
            _added_up(parts, [one.bubbles_mol for one in each]),
        ),
    )


def _shares(parts: Sequence[Part], each: Sequence[ElectrodePart]) -> dict[str, Array]:
    """Return the share of the current that makes each product, (samples,)."""
    names = dict.fromkeys(product for one in each for product in one.shares)
    return {
        name: np.concatenate(
            [
                one.shares.get(name, np.zeros(part.count))
                for part, one in zip(parts, each, strict=True)
            ]
        )
        for name in names
    }


def _carried_mol(parts: Sequence[Part]) -> dict[str, Array]:
    """Return the gases that are dissolved as molecules and can leave, (samples,), mol."""
    names = dict.fromkeys(
        release.species for part in parts for release in part.segment.model.releases
    )
    return {
        name: np.concatenate(
            [
                part.species_mol_m3[name] @ part.volume_m3
                if name in part.species_mol_m3
                else np.zeros(part.count)
                for part in parts
            ]
        )
        for name in names
    }


@dataclass(frozen=True)
class ElectrodePart:
    """What one electrode did in a part of a run, by product or solid.

    Shares have an entry a sample, amounts one more for the end of the part.
    """

    shares: dict[str, Array]
    amounts_mol: dict[str, Array]
    charges_C: dict[str, Array]
    solids_mol: dict[str, Array]
    left_mol: dict[str, Array]  #: gases that left the liquid at either electrode
    bubbles_mol: dict[str, Array]  #: of the same, what formed bubbles at this one


def _at_one_electrode(part: Part, side: int) -> ElectrodePart:
    samples = part.segment.samples
    found = ElectrodePart({}, {}, {}, {}, {}, {})
    for key in samples.extent_mol:
        at, reaction = key
        if at != side:
            continue
        product, extent = reaction.product, _with_end(samples, key)
        amount = reaction.formed[product] * extent
        found.shares[product] = found.shares.get(product, 0.0) + samples.share[key]
        found.amounts_mol[product] = found.amounts_mol.get(product, 0.0) + amount
        passed_C = FARADAY_C_MOL * reaction.electrons * extent
        found.charges_C[product] = found.charges_C.get(product, 0.0) + passed_C
        for solid, count in reaction.solids.items():
            found.solids_mol[solid] = found.solids_mol.get(solid, 0.0) + count * extent
    releases = part.segment.model.releases
    released_mol = np.concatenate([samples.released_mol, samples.released_so_far_mol[None]])
    for k, release in enumerate(releases):
        found.left_mol[release.species] = released_mol[:, :, k].sum(1)
        found.bubbles_mol[release.species] = released_mol[:, side, len(releases) + k]
    return found
