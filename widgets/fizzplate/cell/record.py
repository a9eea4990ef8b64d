"""Keep what is sampled while a run goes on, and make the record of it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data
from fizzplate.cell.gas import Collector
from fizzplate.cell.integrator import Layout, lagrange
from fizzplate.cell.run import ElectrodeRecord, Run
from fizzplate.cell.warnings import Circumstances, warnings
from fizzplate.chemistry import parse_formula
from fizzplate.chemistry.constants import FARADAY_C_MOL, GAS_J_MOL_K

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fizzplate.cell.integrator import Integrator
    from fizzplate.cell.kinetics import Reaction
    from fizzplate.cell.simulate import Model
    from fizzplate.cell.transport import Transport

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

LIQUID_J_M3_K = 4.18e6  # heat capacity of water by volume; dilute solutions are within 5 %


@dataclass
class Samples:
    """What is kept at the wanted times while a run goes on."""

    time_s: Array
    totals: Array  #: (samples, M, N)
    ln_hydrogen: Array  #: (samples, N)
    current_A: Array
    charge_C: Array
    potential_V: Array  #: (samples, 2)
    liquid_V: Array
    lamp_V: Array
    direction: np.ndarray[tuple[int, ...], np.dtype[np.int_]]
    extent_mol: dict[tuple[int, Reaction], Array] = field(default_factory=dict)
    share: dict[tuple[int, Reaction], Array] = field(default_factory=dict)
    released_mol: Array = field(default_factory=lambda: np.zeros((0, 2, 0)))
    limited: bool = False
    steps: int = 0
    _next: int = 0
    _transport: Transport | None = None
    _layout: Layout | None = None
    _keys: list[tuple[int, Reaction]] = field(default_factory=list)
    _before: dict[tuple[int, Reaction], float] = field(default_factory=dict)
    _released_before: Array = field(default_factory=lambda: np.zeros((2, 0)))

    @classmethod
    def empty(cls, model: Model, wanted_s: Array) -> Samples:
        """Return room for samples at the wanted times."""
        count, nodes = wanted_s.size, model.cell.geometry.volume_m3.size
        releases = len(model.releases)
        return cls(
            time_s=wanted_s,
            totals=np.zeros((count, len(model.speciation.solved), nodes)),
            ln_hydrogen=np.zeros((count, nodes)),
            current_A=np.zeros(count),
            charge_C=np.zeros(count),
            potential_V=np.full((count, 2), np.nan),
            liquid_V=np.zeros(count),
            lamp_V=np.zeros(count),
            direction=np.zeros(count, dtype=np.int_),
            released_mol=np.zeros((count, 2, releases)),
            _released_before=np.zeros((2, releases)),
        )

    def plated_mol(self, metal: str) -> tuple[float, float]:
        """Return the metal on each electrode at the end of the last stage, mol."""
        on = [0.0, 0.0]
        for (side, reaction), before in self._before.items():
            on[side] += before * (reaction.formed.get(metal, 0) - reaction.consumed.get(metal, 0))
        return max(on[0], 0.0), max(on[1], 0.0)

    def begin_stage(self, transport: Transport, integrator: Integrator, start_s: float) -> None:
        """Get ready for a stage, and sample its first instant if one is wanted there."""
        self._transport, self._layout = transport, integrator.layout
        self._keys = [
            (side, reaction)
            for side, electrode in enumerate(transport.electrodes)
            for reaction in electrode.reactions
        ]
        for key in self._keys:
            for kept in (self.extent_mol, self.share):
                kept.setdefault(key, np.zeros(self.time_s.size))
            self._before.setdefault(key, 0.0)
        self._ln_hydrogen = integrator.ln_hydrogen
        self._integrator = integrator
        if self._next < self.time_s.size and self.time_s[self._next] <= start_s:
            self._keep(start_s, integrator.state)

    def take(self, times_s: Array, states: Array) -> None:
        """Sample the wanted times that the last step passed, by the polynomial through its points."""
        while self._next < self.time_s.size and self.time_s[self._next] <= times_s[-1] * (1 + 1e-12):
            wanted = self.time_s[self._next]
            self._keep(wanted, lagrange(times_s, wanted) @ states)

    def _keep(self, time_s: float, state: Array) -> None:
        assert self._transport is not None
        assert self._layout is not None
        i, transport, layout = self._next, self._transport, self._layout
        unknowns = layout.unknowns(state)
        self.totals[i] = unknowns.totals
        self.ln_hydrogen[i] = self._integrator.ln_hydrogen
        self.direction[i] = transport.direction
        amounts = state[layout.amounts]
        count = len(self._keys)
        for key, amount in zip(self._keys, amounts[:count], strict=True):
            self.extent_mol[key][i] = amount
        for key, before in self._before.items():
            self.extent_mol[key][i] += before
        self.released_mol[i] = self._released_before + amounts[count:].reshape(2, -1)
        if transport.direction:
            self.current_A[i] = np.exp(unknowns.ln_current)
            self.potential_V[i] = unknowns.potential_V
            self.lamp_V[i] = transport.lamp_voltage_V(unknowns.ln_current)
            speciated = transport.model.speciate(unknowns.totals, self._integrator.ln_hydrogen)
            for side, electrode in enumerate(transport.electrodes):
                face = speciated.concentration_mol_m3[:, 0 if side == 0 else -1]
                rates = electrode.rates(float(unknowns.potential_V[side]), face)
                for reaction, share in zip(electrode.reactions, rates.share, strict=True):
                    self.share[side, reaction][i] = share
        self.liquid_V[i] = transport.thermal_V * unknowns.u.sum()
        self._next += 1

    def end_stage(self, integrator: Integrator) -> None:
        """Carry the amounts over to the next stage."""
        amounts = integrator.state[integrator.layout.amounts]
        count = len(self._keys)
        for key, amount in zip(self._keys, amounts[:count], strict=True):
            self._before[key] += float(amount)
        self._released_before = self._released_before + amounts[count:].reshape(2, -1)
        self.steps += integrator.steps
        self.limited = self.limited or (
            not integrator.held.voltage and integrator.transport.direction != 0
        )


def record(model: Model, kept: Samples) -> Run:
    """Make the record of a run from its samples."""
    cell, speciation, grid = model.cell, model.speciation, model.cell.geometry
    samples, m, nodes = kept.totals.shape
    flat = speciation.speciate(
        kept.totals.transpose(1, 0, 2).reshape(m, -1), kept.ln_hydrogen.ravel()
    )
    concentration = flat.concentration_mol_m3.reshape(-1, samples, nodes)
    migration, diffusion = model.mobilities.evaluate(flat.concentration_mol_m3)
    migration = migration.reshape(concentration.shape)
    thermal_V = GAS_J_MOL_K * model.temperature_K / FARADAY_C_MOL
    charge = speciation.charge
    conductivity = (FARADAY_C_MOL / thermal_V) * np.einsum(
        "s,sij,sij->ij", charge**2, migration, concentration
    )
    by_name = dict(zip(speciation.species, concentration, strict=True))
    ions = tuple(name for name, z in zip(speciation.species, charge, strict=True) if z and name != "ClO-")
    dissolved = tuple(name for name in ("Cl2", "HClO", "ClO-") if name in by_name)
    field_u = _field_per_m(kept, grid.position_m, grid, conductivity, thermal_V)
    velocity = {
        name: -z * migration[i] * field_u
        for i, (name, z) in enumerate(zip(speciation.species, charge, strict=True))
        if z
    }
    solids = flat.precipitate_mol_m3.reshape(-1, samples, nodes) @ grid.volume_m3
    haze = {h.solid: solids[i] for i, h in enumerate(speciation.hydroxides)}
    cathode, anode = (
        _electrode(model, kept, side, by_name, grid.volume_m3) for side in (0, 1)
    )
    charge_C = _charge_C(kept)
    voltage = kept.direction * (
        np.nan_to_num(kept.potential_V[:, 1] - kept.potential_V[:, 0]) + kept.liquid_V
    )
    temperature = _temperature_C(kept, voltage, cell.temperature_C, float(grid.volume_m3.sum()))
    circumstances = Circumstances(
        cell=cell,
        supply_limited=kept.limited,
        highest_temperature_C=float(temperature.max()),
        anode_loss_g=float(max(-anode.mass_g("Cu").min(), 0.0)),
    )
    return Run(
        cell=cell,
        time_s=kept.time_s,
        current_A=kept.current_A,
        charge_C=charge_C,
        voltage_V=voltage,
        lamp_voltage_V=kept.lamp_V,
        supply_voltage_V=voltage + kept.lamp_V,
        swapped=kept.direction < 0,
        cathode=cathode,
        anode=anode,
        ions=ions,
        dissolved=dissolved,
        position_m=grid.position_m,
        volume_m3=grid.volume_m3,
        conductivity_S_m=conductivity,
        temperature_C=temperature,
        warnings=warnings(circumstances),
        sources=sources_of(model),
        steps=kept.steps,
        _concentration=by_name,
        _velocity=velocity,
        _haze_mol=haze,
    )


def _field_per_m(
    kept: Samples, position_m: Array, grid: object, conductivity: Array, thermal_V: float
) -> Array:
    """Gradient of the potential in RT/F per metre that drives the current, (samples, N)."""
    conductance = grid.conductance_m  # type: ignore[attr-defined]
    steps = np.diff(position_m)
    area = conductance * steps
    at_node = np.empty(position_m.size)
    at_node[1:-1] = 0.5 * (area[:-1] + area[1:])
    at_node[0], at_node[-1] = area[0], area[-1]
    signed = kept.direction * kept.current_A
    return np.asarray(signed[:, None] / (conductivity * at_node * thermal_V))


def _charge_C(kept: Samples) -> Array:
    """Charge from the extents: what passed an electrode, whichever way, adds up."""
    total = np.zeros(kept.time_s.size)
    for (side, reaction), extent in kept.extent_mol.items():
        if side == 0:
            total += reaction.electrons * extent
    return total * FARADAY_C_MOL


def _temperature_C(kept: Samples, voltage_V: Array, room_C: float, volume_m3: float) -> Array:
    """Liquid's temperature: heat of the current less what the wall loses; upper estimate."""
    loss_W_K = data.find("model", quantity="heat loss").value
    capacity_J_K = LIQUID_J_M3_K * volume_m3
    power_W = np.maximum(voltage_V, 0.0) * kept.current_A
    warmer = np.zeros(kept.time_s.size)
    for i, step_s in enumerate(np.diff(kept.time_s), start=1):
        keep = np.exp(-loss_W_K / capacity_J_K * step_s)
        mean_W = 0.5 * (power_W[i] + power_W[i - 1])
        warmer[i] = warmer[i - 1] * keep + mean_W / loss_W_K * (1 - keep)
    return np.asarray(room_C + warmer)


def _electrode(
    model: Model, kept: Samples, side: int, by_name: Mapping[str, Array], volume_m3: Array
) -> ElectrodeRecord:
    shares: dict[str, Array] = {}
    amounts: dict[str, Array] = {}
    charge: dict[str, float] = {}
    metal = np.zeros(kept.time_s.size)
    for (at, reaction), extent in kept.extent_mol.items():
        if at != side:
            continue
        made = {**reaction.formed}.get(reaction.product, 1) * extent
        shares[reaction.product] = shares.get(reaction.product, 0.0) + kept.share[at, reaction]
        amounts[reaction.product] = amounts.get(reaction.product, 0.0) + made
        charge[reaction.product] = charge.get(reaction.product, 0.0) + float(
            reaction.electrons * extent[-1]
        )
        metal += (reaction.formed.get("Cu", 0) - reaction.consumed.get("Cu", 0)) * extent
    whole = sum(charge.values()) or 1.0
    ordered = sorted(charge, key=lambda product: -charge[product])
    products = tuple(product for product in ordered if charge[product] > 1e-6 * whole)
    face = 0 if side == 0 else -1
    left, dissolved = {}, {}
    for k, release in enumerate(model.releases):
        left[release.species] = kept.released_mol[:, :, k].sum(1) if shares.get(release.species) is not None else 0.0 * metal
        dissolved[release.species] = by_name[release.species] @ volume_m3
    cell = model.cell
    return ElectrodeRecord(
        material=cell.cathode if side == 0 else cell.anode,
        products=products,
        potential_V=kept.potential_V[:, side],
        pH=-np.log10(by_name["H+"][:, face] / 1e3),
        _shares=shares,
        _amounts_mol=amounts,
        _metal_mol={"Cu": metal},
        _collector=Collector(
            float(volume_m3.sum()), cell.temperature_C, cell.pressure_kPa, left, dissolved
        ),
    )


def sources_of(model: Model) -> tuple[data.Source, ...]:
    """Return the bibliography entries behind a run."""
    species = set(model.speciation.species)
    materials = {model.cell.anode, model.cell.cathode, "any"}
    used = []
    for table in data.table_names():
        for row in data.rows(table):
            about = {row.key[k] for k in ("species", "cation", "anion") if k in row.key}
            if about and not about <= species:
                continue
            if "material" in row.key and row["material"] not in materials:
                continue
            if "vessel" in row.key and row["vessel"] != model.cell.vessel.name:
                continue
            if "equation" in row.key and not _about(row["equation"], species):
                continue
            if table in MODEL_TABLES:
                used.append(row.source)
    return tuple(data.source(key) for key in dict.fromkeys(used))


MODEL_TABLES = frozenset(
    "equilibria electrode_reactions kinetics vessels model mobility diffusion ion_pairs fluidity gases".split()
)


def _about(equation: str, species: set[str]) -> bool:
    """Whether every ion of an equation can occur in this solution."""
    words = equation.replace("->", "+ ").split(" + ")
    ions = [word.strip().lstrip("0123456789") for word in words]
    return all(i in species for i in ions if i.endswith(("+", "-")) and i not in {"e-", "CuOH+"})
