"""Make the record of a run from its samples."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data
from fizzplate.cell.air_oxygen import OxygenBeside, oxygen_beside
from fizzplate.cell.electrode_record import ElectrodeRecord, main_products
from fizzplate.cell.influence import influential_changes
from fizzplate.cell.made import Made, added_up
from fizzplate.cell.part import Part
from fizzplate.cell.physics import COVERED_FROM, GasCollection
from fizzplate.cell.provenance import sources_of
from fizzplate.cell.run import Run
from fizzplate.cell.uncertainty import Uncertainty
from fizzplate.cell.warnings import Crystals, RunConditions, warnings
from fizzplate.chemistry import electrodes, molar_mass_g_mol, parse_formula, species_name

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping, Sequence

    from fizzplate.cell.physics import CellLike
    from fizzplate.cell.solver import Model, Samples, Segment, Stage, Trajectory

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

OTHER_SHARE = 0.001  # of the current under crystals: less makes nothing else (a choice)
PLATES = 0.05  # of the current: less deposits no visible layer
GONE = 0.999  # of its mass
LIQUID_J_M3_K = 4.18e6  # heat capacity of water by volume; dilute solutions are within 5 %


def record(
    trajectory: Trajectory,
    stages: Sequence[Stage],
    cells_from: Mapping[int, CellLike],
    *,
    boils: bool = False,
) -> Run:
    """Make the record of a run from what the solver returns.

    Parameters
    ----------
    trajectory
        Of the cell.
    stages, cells_from
        What it was taken through, and by the place of a stage the cell as it is from that stage on.
    boils
        Whether the run ends because the liquid would boil.
    """
    parts = [Part.of(segment) for segment in trajectory.segments]
    last = parts[-1].segment.model
    changes = influential_changes(parts)
    uncertainty = Uncertainty(
        parts[0].segment.model.cell,
        last.trace_mol_dm3,
        stages,
        cells_from,
        samples=sum(part.count for part in parts),
        changes=changes,
    )

    def joined(values: Callable[[Samples], Array]) -> Array:
        return np.concatenate([values(part.segment.samples) for part in parts])

    time_s = joined(lambda samples: samples.time_s)
    current_A = joined(lambda samples: samples.current_A)
    direction = np.concatenate([part.segment.samples.direction for part in parts])
    lamp_V = joined(lambda samples: samples.lamp_V)
    voltage = np.concatenate([part.voltage_V for part in parts])
    volume_m3 = np.repeat([part.volume_m3.sum() for part in parts], [part.count for part in parts])
    made = [Made.at(side, trajectory.segments) for side in (0, 1)]
    cathode, anode = (
        _electrode(parts, side, made[side], volume_m3, uncertainty) for side in (0, 1)
    )
    temperature = _temperature_C(time_s, current_A, voltage, last.cell.temperature_C, volume_m3)
    beside = _oxygen_beside(parts)
    crystallising = _each_once(each for part in parts for each in _crystallising(part))
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
            crystallising=crystallising,
        )
        for cell, samples in ((part.segment.model.cell, part.segment.samples) for part in parts)
    ]
    return Run(
        cells=tuple(part.segment.model.cell for part in parts),
        stages=tuple(stages),
        time_s=time_s,
        current_A=current_A,
        charge_C=sum(made[0].charges_C.values(), start=np.zeros(time_s.size)),
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
        changes=changes,
        steps=sum(part.segment.samples.steps for part in parts),
        _concentration=_joined_by_name(parts, [part.known_mol_m3 for part in parts]),
        _velocity=_joined_by_name(parts, [part.velocity_m_s for part in parts]),
        _haze=_joined_by_name(parts, [part.haze_mol_m3 for part in parts]),
        _settled_mol=added_up(trajectory.segments, [part.settled_mol for part in parts]),
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
        plates = reaction.sigma < 0 and reaction.solids.get(reaction.product, 0) > 0
        if at != side or not reaction.limited_by or not plates:
            continue
        ion = by_name[model.speciation.species[next(iter(reaction.limited_by))]]
        used = 1 - ion[:, face] / np.maximum(ion[:, beyond], 1e-12)
        result = np.maximum(result, np.where(share > PLATES, np.clip(used, 0.0, 1.0), 0.0))
    return result


def _each_once(found: Iterator[Crystals]) -> tuple[Crystals, ...]:
    """Join what parts of a run found of the same salt: another product counts if any part made one.

    Where a metal dissolves under crystals, ions that it gave and that are oxidised further are the same ones.
    """
    besides: dict[tuple[str, str], bool] = {}
    for each in found:
        key = each.source, each.salt
        besides[key] = besides.get(key, False) or each.besides
    of_metals = {salt for source, salt in besides if not parse_formula(source).charge}
    return tuple(
        Crystals(source, salt, each)
        for (source, salt), each in besides.items()
        if salt not in of_metals or not parse_formula(source).charge
    )


def _crystallising(part: Part) -> Iterator[Crystals]:
    """Yield of which salts crystals slow down what makes metal ions in a part of a run."""
    samples, names = part.segment.samples, part.segment.model.speciation.species
    layers = {(side, species_name(reaction.product)) for side, reaction in samples.share}
    for (side, reaction), share in samples.share.items():
        at_face = {row: part.species_mol_m3[names[row]] for row in range(len(names))}
        for salt in reaction.saturations:
            if (side, salt.name) in layers:  # a product of the electrode, and told as such
                continue
            q = salt.q({row: c[:, 0 if side == 0 else -1] for row, c in at_face.items()})
            covered = (q > COVERED_FROM) & (share > 0)
            if covered.any():
                dissolving = [
                    other_share
                    for (other_side, other), other_share in samples.share.items()
                    if other_side == side and other.solid == reaction.solid and other.saturations
                ]
                besides = bool((np.sum(dissolving, axis=0)[covered] < 1 - OTHER_SHARE).any())
                yield Crystals(reaction.solid or reaction.product, salt.name, besides)


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


def _electrode(
    parts: Sequence[Part], side: int, made: Made, volume_m3: Array, uncertainty: Uncertainty
) -> ElectrodeRecord:
    segments = [part.segment for part in parts]
    passed_C = {product: float(charge_C[-1]) for product, charge_C in made.charges_C.items()}
    cell = parts[-1].segment.model.cell
    face = 0 if side == 0 else -1
    left_mol, bubbles_mol = _released_mol(segments, side)
    return ElectrodeRecord(
        material=cell.cathode if side == 0 else cell.anode,
        products=main_products(passed_C),
        potential_V=np.concatenate([each.samples.potential_V[:, side] for each in segments]),
        pH=np.concatenate([part.pH[:, face] for part in parts]),
        limiting_share=np.concatenate(
            [
                _limiting_share(part.segment.model, part.segment.samples, side, part.species_mol_m3)
                for part in parts
            ]
        ),
        _side=side,
        _made=made,
        _uncertainty=uncertainty,
        _gas_collection=GasCollection(
            volume_m3,
            cell.temperature_C,
            cell.pressure_kPa,
            left_mol,
            _carried_mol(parts),
            bubbles_mol,
        ),
    )


def _released_mol(
    segments: Sequence[Segment], side: int
) -> tuple[dict[str, Array], dict[str, Array]]:
    """Return gases that left the liquid at either electrode, and what formed bubbles at this one, mol."""
    left: list[dict[str, Array]] = []
    bubbles: list[dict[str, Array]] = []
    for segment in segments:
        samples, releases = segment.samples, segment.model.releases
        mol = np.concatenate([samples.released_mol, samples.released_so_far_mol[None]])
        gases = [release.species for release in releases]
        left.append({gas: mol[:, :, k].sum(1) for k, gas in enumerate(gases)})
        bubbles.append({gas: mol[:, side, len(gases) + k] for k, gas in enumerate(gases)})
    return added_up(segments, left), added_up(segments, bubbles)


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
