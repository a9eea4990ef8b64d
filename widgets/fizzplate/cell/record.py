"""Make the record of a run from its samples."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data
from fizzplate.cell.known_species import KnownSpecies
from fizzplate.cell.physics import GasCollection
from fizzplate.cell.provenance import sources_of
from fizzplate.cell.run import ElectrodeRecord, Run
from fizzplate.cell.warnings import RunConditions, warnings
from fizzplate.chemistry import FARADAY_C_MOL, GAS_J_MOL_K, electrodes, molar_mass_g_mol

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fizzplate.cell.physics import Geometry
    from fizzplate.cell.solver import Model, Samples, Trajectory

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

MIN_PRODUCT_SHARE = 1e-6  # of the charge: less is no product
PLATES = 0.05  # of the current: less deposits no visible layer
GONE = 0.999  # of its mass
LIQUID_J_M3_K = 4.18e6  # heat capacity of water by volume; dilute solutions are within 5 %


def record(trajectory: Trajectory, *, boils: bool = False) -> Run:
    """Make the record of a run from what the solver returns.

    Parameters
    ----------
    trajectory
        Of the cell.
    boils
        Whether the run ends because the liquid would boil.
    """
    model, samples = trajectory.model, trajectory.samples
    cell, speciation, grid = model.cell, model.speciation, model.cell.geometry
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
    pH = speciation.constants.pH(flat.system_mol_m3).reshape(count, nodes)
    clouds = flat.precipitate_mol_m3.reshape(-1, count, nodes)
    haze = dict(zip(speciation.solids, clouds, strict=True))
    cathode, anode = (_electrode(model, samples, side, by_name, pH) for side in (0, 1))
    voltage = samples.direction * (
        np.nan_to_num(samples.potential_V[:, 1] - samples.potential_V[:, 0]) + samples.liquid_V
    )
    voltage = voltage + samples.open_V
    temperature = _temperature_C(samples, voltage, cell.temperature_C, float(grid.volume_m3.sum()))
    conditions = RunConditions(
        cell=cell,
        supply_limited=samples.supply_limited,
        min_current_A=float(samples.current_A[samples.direction != 0].min(initial=math.inf)),
        highest_temperature_C=float(temperature.max()),
        boils_after_s=float(samples.time_s[-1]) if boils else None,
        anode_gone=_gone(anode, cell.anode_mass_g),
        products=(*cathode.products, *anode.products),
        roughness=max(float(e.limiting_share[1:].max(initial=0.0)) for e in (cathode, anode)),
        water_lost_cm3=_water_lost_cm3(cathode, anode),
        trace_mol_dm3=model.trace_mol_dm3,
    )
    return Run(
        cell=cell,
        time_s=samples.time_s,
        current_A=samples.current_A,
        charge_C=_charge_C(samples),
        voltage_V=voltage,
        lamp_voltage_V=samples.lamp_V,
        supply_voltage_V=voltage + samples.lamp_V,
        swapped=samples.direction < 0,
        cathode=cathode,
        anode=anode,
        ions=known.ions,
        dissolved=known.dissolved,
        position_m=grid.position_m,
        volume_m3=grid.volume_m3,
        pH=pH,
        conductivity_S_m=conductivity,
        temperature_C=temperature,
        warning_sentences=warnings(conditions),
        sources=sources_of(model),
        steps=samples.steps,
        _concentration=known.concentrations(by_name),
        _velocity=velocity,
        _haze=haze,
    )


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


def _charge_C(samples: Samples) -> Array:
    """Charge from the extents: what passed an electrode, whichever way, adds up."""
    total = np.zeros(samples.time_s.size)
    for (side, reaction), extent in samples.extent_mol.items():
        if side == 0:
            total += reaction.electrons * extent
    return total * FARADAY_C_MOL


def _temperature_C(samples: Samples, voltage_V: Array, room_C: float, volume_m3: float) -> Array:
    """Liquid's temperature: heat of the current less what the wall loses; upper estimate."""
    loss_W_K = data.find("model", quantity="heat loss").value
    capacity_J_K = LIQUID_J_M3_K * volume_m3
    power_W = np.maximum(voltage_V, 0.0) * samples.current_A
    warmer = np.zeros(samples.time_s.size)
    for i, step_s in enumerate(np.diff(samples.time_s), start=1):
        keep = np.exp(-loss_W_K / capacity_J_K * step_s)
        mean_W = 0.5 * (power_W[i] + power_W[i - 1])
        warmer[i] = warmer[i - 1] * keep + mean_W / loss_W_K * (1 - keep)
    return np.asarray(room_C + warmer)


def _electrode(
    model: Model, samples: Samples, side: int, by_name: Mapping[str, Array], pH: Array
) -> ElectrodeRecord:
    volume_m3 = model.cell.geometry.volume_m3
    shares: dict[str, Array] = {}
    amounts: dict[str, Array] = {}
    charges: dict[str, Array] = {}
    solids: dict[str, Array] = {}
    for (at, reaction), extent in samples.extent_mol.items():
        if at != side:
            continue
        amount = reaction.formed[reaction.product] * extent
        shares[reaction.product] = shares.get(reaction.product, 0.0) + samples.share[at, reaction]
        amounts[reaction.product] = amounts.get(reaction.product, 0.0) + amount
        passed_C = FARADAY_C_MOL * reaction.electrons * extent
        charges[reaction.product] = charges.get(reaction.product, 0.0) + passed_C
        for solid, count in reaction.solids.items():
            solids[solid] = solids.get(solid, 0.0) + count * extent
    made = {product: float(passed_C[-1]) for product, passed_C in charges.items()}
    least_C = MIN_PRODUCT_SHARE * sum(made.values())
    products = tuple(p for p in sorted(made, key=lambda p: -made[p]) if made[p] > least_C)
    face = 0 if side == 0 else -1
    left, dissolved = {}, {}
    for k, release in enumerate(model.releases):
        left[release.species] = samples.released_mol[:, :, k].sum(1)
        dissolved[release.species] = by_name[release.species] @ volume_m3
    cell = model.cell
    return ElectrodeRecord(
        material=cell.cathode if side == 0 else cell.anode,
        products=products,
        potential_V=samples.potential_V[:, side],
        pH=pH[:, face],
        limiting_share=_limiting_share(model, samples, side, by_name),
        _shares=shares,
        _amounts_mol=amounts,
        _charges_C=charges,
        _solid_mol=solids,
        _gas_collection=GasCollection(
            float(volume_m3.sum()), cell.temperature_C, cell.pressure_kPa, left, dissolved
        ),
    )
