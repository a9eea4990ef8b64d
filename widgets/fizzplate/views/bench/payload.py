"""Hand a run, or a cell at rest, to the page in one piece: a plain header and one string of 32-bit floats.

The page draws every frame from these arrays without asking Python again. Sums (charge, amounts,
masses, volumes) are the full record's; only the places along the gap, and the instants of a very
long record, are thinned to what a drawing can show.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import numpy as np

from fizzplate.cell import MIN_CURRENT_A, SPONGY, oxide_film
from fizzplate.chemistry import (
    electrode_equation,
    electrodes,
    half_equation,
    parse_formula,
    pretty,
    wording_for,
)
from fizzplate.chemistry.substances import BANDS, absorption_dm3_mol_cm, indicators, kind_of
from fizzplate.views.web.theme import haze_property, ion_property, solid_property
from fizzplate.words import DEFAULT_WORDING, InputError, board_slots

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fizzplate.cell import Cell, ElectrodeRecord, Liquid, Run
    from fizzplate.chemistry import Equation
    from fizzplate.words import Wording

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

MIN_HAZE_MOL_M3 = 0.02  # less is no cloud to be seen
MAX_POSITIONS = 64
MAX_BYTES = 400_000
MAX_SAMPLES = 241
SETTLED_G_CM3 = {
    "Pb": 11.3,
    "PbO2": 9.4,
    "AgCl": 5.6,
    "AgBr": 6.5,
    "AgI": 5.7,
    "Ag2SO4": 5.5,
}  # from memory
SEEN_DEPTH_CM = 0.15  # of the tinted liquid: a beaker's own depth would hide iodine's spreading


@dataclass(frozen=True, slots=True)
class Payload:
    """A run, or a cell at rest, as the page receives it.

    Parameters
    ----------
    header
        Plain data: what is in the cell, and where each array begins (``index``), by name:
        ``offset`` and ``length`` in 32-bit elements.
    array_bytes
        All arrays one behind the other, little-endian 32-bit floats. An array over times and positions
        has all positions of one instant, then those of the next.
    """

    header: Mapping[str, Any]
    array_bytes: bytes


class ArrayBlock:
    """Arrays one after the other, and where each begins."""

    def __init__(self) -> None:
        self.index: dict[str, dict[str, int]] = {}
        self._pieces: list[Array] = []
        self._offset = 0

    @classmethod
    def behind(cls, others: ArrayBlock) -> ArrayBlock:
        """Begin where others end."""
        begun = cls()
        begun._offset = others._offset
        return begun

    def take(self, others: ArrayBlock) -> None:
        """Let the bytes of others follow, which have an index of their own."""
        self._pieces += others._pieces
        self._offset = others._offset

    def add(self, name: str, values: Array) -> None:
        """Put an array behind the others."""
        self.index[name] = {"offset": self._offset, "length": values.size}
        self._pieces.append(values)
        self._offset += values.size

    def pack(self) -> bytes:
        """Return all arrays as little-endian 32-bit floats."""
        return np.concatenate([each.ravel() for each in self._pieces]).astype("<f4").tobytes()


def payload(run: Run, wording: Wording = DEFAULT_WORDING, unchanged: Run | None = None) -> Payload:
    """Make the header and the bytes of a run.

    Parameters
    ----------
    run
        What is shown.
    wording
        The board's wording: whether hydrogen and oxygen are drawn to come from ions or from water.
    unchanged
        Of a run that was changed while it went on, the same without changes. Until the first change its
        values are sent, and its places and scales are kept: a class sees again just what it saw.
    """
    when = _spread(run.time_s.size, MAX_SAMPLES)
    where = _places(run if unchanged is None else unchanged)
    species = _species(run)
    arrays = ArrayBlock()
    seen = _Seen(run, unchanged)
    for name, values in _by_time(run).items():
        arrays.add(name, seen.by_time(name, values)[when])
    arrays.add("position_m", run.position_m[where])
    arrays.add("pH", seen.field(run.pH, "pH")[np.ix_(when, where)])
    for formula in species:
        field = seen.field(run.concentration(formula), "concentration", formula)
        arrays.add(f"c:{formula}", field[np.ix_(when, where)])
    clouds = _clouds(run)
    for formula in clouds:
        arrays.add(f"h:{formula}", run.haze_mol_m3(formula)[np.ix_(when, where)])
        # the solid at the bottom, as if it still clouded the whole liquid
        settled_mol_m3 = 1e6 * run.settled_mol(formula) / run.volume_cm3
        arrays.add(f"settled_mol_m3:{formula}", settled_mol_m3[when])
    for formula in species:
        if parse_formula(formula).charge:
            field = seen.field(run.drift_velocity_m_s(formula), "drift_velocity_m_s", formula)
            arrays.add(f"v:{formula}", field[np.ix_(when, where)])
    neutral = [formula for formula in species if not parse_formula(formula).charge]
    if neutral:
        # The field moves no molecule: all share one array of zeros.
        arrays.add(f"v:{neutral[0]}", np.zeros((when.size, where.size)))
        still = arrays.index[f"v:{neutral[0]}"]
        arrays.index.update({f"v:{formula}": still for formula in neutral})
    board = wording_for(run.cell.ions_mol_dm3, wording)
    header = _header(run) | board_words(wording) | _what_happens(run, board)
    header["index"] = arrays.index
    if unchanged is not None:
        header["unchanged"] = _for_scales(unchanged, board, arrays)
    return Payload(header, arrays.pack())


class _Seen:
    """What a class saw of a run until it was changed: the values of the run without changes.

    The model finds the same until then, but for what a step of the solver is right to; the crowd of drawn
    ions would show even that.
    """

    def __init__(self, run: Run, unchanged: Run | None) -> None:
        self._unchanged = unchanged
        self._until = 0
        if unchanged is not None:
            until = min(run.samples_of_stage(0).stop, unchanged.time_s.size)
            if np.allclose(run.time_s[:until], unchanged.time_s[:until]):
                self._until = until
            self._by_time = _by_time(unchanged)

    def by_time(self, name: str, values: Array) -> Array:
        """Return an array over the samples with what was seen of it."""
        return self._over(values, self._by_time.get(name)) if self._until else values

    def field(self, values: Array, of: str, formula: str = "") -> Array:
        """Return an array over samples and places with what was seen of it."""
        if not self._until or self._unchanged is None:
            return values
        if not formula:
            return self._over(values, getattr(self._unchanged, of))
        known = formula in _species(self._unchanged)
        return self._over(values, getattr(self._unchanged, of)(formula) if known else None)

    def _over(self, values: Array, seen: Array | None) -> Array:
        if seen is None:
            return values
        return np.concatenate([seen[: self._until], values[self._until :]])


def _what_happens(run: Run, board: Wording) -> dict[str, Any]:
    """Say how long a run lasts, and what its electrodes make."""
    return {
        "minutes": float(run.time_s[-1]) / 60,
        "idle": bool(run.current_A.max() < MIN_CURRENT_A),
        "electrodes": [
            _electrode(record, role, board)
            for record, role in ((run.cathode, "cathode"), (run.anode, "anode"))
        ],
    }


def _for_scales(run: Run, board: Wording, arrays: ArrayBlock) -> dict[str, Any]:
    """Add what the scales of the picture follow from in a run, and say where: drift in the middle alone."""
    when = _spread(run.time_s.size, MAX_SAMPLES)
    spread = _places(run)
    middle = int(np.searchsorted(run.position_m[spread], run.position_m[-1] / 2, "right"))
    where = spread[np.unique([0, middle - 1, middle, spread.size - 1])]
    own = ArrayBlock.behind(arrays)
    for name, values in _by_time(run).items():
        own.add(name, values[when])
    own.add("position_m", run.position_m[where])
    for formula in _species(run):
        if parse_formula(formula).charge:
            own.add(f"v:{formula}", run.drift_velocity_m_s(formula)[np.ix_(when, where)])
    arrays.take(own)
    return _what_happens(run, board) | {"species": _species_data(run), "index": own.index}


def payload_at_rest(cell: Cell, wording: Wording = DEFAULT_WORDING) -> Payload:
    """Make the header and the bytes of a cell whose switch is open: its liquid and its geometry.

    Such a cell has no times, so every array over time is left out.
    """
    liquid = cell.liquid()
    where = _spread(liquid.position_m.size, MAX_POSITIONS)
    arrays = ArrayBlock()
    arrays.add("position_m", liquid.position_m[where])
    arrays.add("pH", liquid.pH[where])
    for side, face in enumerate((0, -1)):
        arrays.add(f"{side}:pH", liquid.pH[[face]])
    for formula in _species(liquid):
        arrays.add(f"c:{formula}", liquid.concentration(formula)[where])
    for formula in _clouds(liquid):
        arrays.add(f"h:{formula}", liquid.haze_mol_m3(formula)[where])
    materials = zip(("cathode", "anode"), (cell.cathode, cell.anode), strict=True)
    header = (
        _header(liquid)
        | board_words(wording)
        | {
            "minutes": 0.0,
            "idle": True,
            "electrodes": [_clean_electrode(material, role) for role, material in materials],
            "index": arrays.index,
        }
    )
    return Payload(header, arrays.pack())


def equation_of(
    product: str, role: str, material: str, wording: Wording = DEFAULT_WORDING
) -> Equation:
    """Return how a run made a product at an electrode, even if its wires were swapped later.

    Examples
    --------
    >>> from fizzplate.words.wording import Wording
    >>> print(equation_of("H2", "cathode", "graphite", Wording(hydrogen_from="H2O")))
    2H2O + 2e- -> H2 + 2OH-
    """
    source = wording.source_of(product)
    if source:
        equation = half_equation(product, source=source)
    else:
        own = electrodes()[material].formula
        try:
            equation = electrode_equation(product, role, own)
        except InputError:
            other = "anode" if role == "cathode" else "cathode"
            equation = electrode_equation(product, other, own)
    return replace(equation, electrons_taken=wording.electrons == "minus", states=wording.states)


def board_words(wording: Wording) -> dict[str, Any]:
    """Give the board's words: short names of both electrodes, and what fills a sentence's slots."""
    return {"names": wording.short_names, "slots": dict(board_slots(wording))}


def _header(held: Run | Liquid) -> dict[str, Any]:
    """Say what is in a cell, and what its parts measure."""
    cell = held.cell
    return {
        "solution": " + ".join(cell.solution_formulae),
        "name": cell.name,
        "vessel": cell.vessel.name,
        "wettedCm2": cell.immersed_area_cm2,
        "filmM": cell.vessel.film_mm * 1e-3,
        "supplyV": cell.supply_V,
        "lamp": None if cell.lamp is None else _lamp(cell.lamp),
        "species": _species_data(held),
        "poured": _poured_in(held),
        "liquidColours": _colours(held),
        "hazes": [{"formula": f, "tint": haze_property(f)} for f in _clouds(held)],
        "indicators": {name: list(scale) for name, scale in indicators().items()},
    }


def _species_data(held: Run | Liquid) -> list[dict[str, Any]]:
    """Say how each ion and dissolved product is drawn."""
    return [
        {
            "formula": formula,
            "label": pretty(formula),
            "charge": parse_formula(formula).charge,
            "tint": ion_property(formula),
            "dissolved": formula in held.dissolved,
        }
        for formula in _species(held)
    ]


def _poured_in(held: Run | Liquid) -> list[str]:
    """List the ions of what is added during a run: a class knows them."""
    cells = getattr(held, "cells", ())
    return list(dict.fromkeys(ion for cell in cells for ion in cell.ions_mol_dm3))


def _lamp(lamp: Any) -> dict[str, float]:
    return {"volts": lamp.rated_V, "amps": lamp.rated_A}


def _clean_electrode(material: str, role: str) -> dict[str, Any]:
    return {
        "material": material,
        "role": role,
        "layerTint": "",
        "layerGCm3": 1e-3 * electrodes()[material].density_kg_m3,
        "spongy": False,
        "products": [],
    }


def _electrode(record: ElectrodeRecord, role: str, board: Wording) -> dict[str, Any]:
    return {
        "material": record.material,
        "role": role,
        "layerTint": _layer_tint(record),
        "layerGCm3": _layer_density_g_cm3(record),
        "layers": _layers(record),
        "spongy": bool(record.limiting_share[1:].max(initial=0.0) > SPONGY),
        "products": [_product(record, product, role, board) for product in record.products],
    }


def _product(record: ElectrodeRecord, product: str, role: str, board: Wording) -> dict[str, Any]:
    """Say what a product is, what is used for one of it and what is left, and how it is drawn."""
    equation = equation_of(product, role, record.material, board)
    made = next(n for n, species in (*equation.products, *equation.reactants) if species == product)
    used = _used(equation, record)
    left = [(n, s) for n, s in equation.products if s not in {"e-", product}]
    kind = kind_of(product)
    return {
        "formula": product,
        "label": pretty(product),
        "charge": parse_formula(product).charge,
        "kind": kind,
        "electrons": equation.electrons // made,
        "consumed": {"formula": used[1], "count": used[0] // made},
        "released": [
            {"formula": species, "label": pretty(species), "count": count // made}
            for count, species in left
        ],
        "tint": solid_property(product) if kind == "solid" else ion_property(product),
        "metal": _own_metal(record, equation) if kind == "ion" else "",
    }


def _used(equation: Equation, record: ElectrodeRecord) -> tuple[int, str]:
    """Return what comes to the electrode to react there: an ion, water where no ion does, or nothing."""
    dissolved = [(n, s) for n, s in equation.reactants if s != "e-" and s not in record.solids]
    return next((each for each in dissolved if each[1] != "H2O"), next(iter(dissolved), (0, "")))


def _own_metal(record: ElectrodeRecord, equation: Equation) -> str:
    """Return the metal of the electrode that goes into solution so, or an empty text."""
    return next((species for _, species in equation.reactants if species in record.solids), "")


def _settled_most(record: ElectrodeRecord) -> str:
    """Return the solid of which most has settled, or an empty text."""
    gained = {solid: float(record.mass_g(solid).max()) for solid in record.solids}
    most = max(gained, key=lambda solid: gained[solid], default="")
    return most if most and gained[most] > 0 else ""


def _layer_tint(record: ElectrodeRecord) -> str:
    """Return the property of the solid of which most has settled, or an empty text."""
    most = _settled_most(record)
    return solid_property(most) if most else ""


def _layer_density_g_cm3(record: ElectrodeRecord) -> float:
    """Return the density of what has settled most, or of the electrode where it only wears."""
    metals = {each.formula: 1e-3 * each.density_kg_m3 for each in electrodes().values()}
    own = electrodes()[record.material].formula
    return (metals | SETTLED_G_CM3)[_settled_most(record) or own]


def _layers(record: ElectrodeRecord) -> list[dict[str, Any]]:
    """List the solids that settle on an electrode or leave it; carbon wears too little."""
    metals = {each.formula: 1e-3 * each.density_kg_m3 for each in electrodes().values()}
    known = metals | SETTLED_G_CM3
    own = known[electrodes()[record.material].formula]
    return [
        {"formula": solid, "tint": solid_property(solid), "gCm3": known.get(solid, own)}
        for solid in record.solids
        if solid != "C"
    ]


def _colours(held: Run | Liquid) -> list[dict[str, Any]]:
    """Give the absorbance of red, green and blue light for each mol/m³ of what colours the liquid."""
    vessel = held.cell.vessel
    on_paper = vessel.takes_crystal
    depth_cm = 0.1 * vessel.quantity("thickness") if on_paper else SEEN_DEPTH_CM
    coloured = []
    for formula in _species(held):
        absorption = absorption_dm3_mol_cm(formula)
        if absorption:
            absorbance = [1e-3 * depth_cm * absorption[band] for band in BANDS]
            coloured.append({"formula": formula, "absorbance": absorbance})
    return coloured


def _species(held: Run | Liquid) -> tuple[str, ...]:
    """List what is shown in the liquid: ions, then dissolved products."""
    return (*held.ions, *(formula for formula in held.dissolved if formula not in held.ions))


def _clouds(held: Run | Liquid) -> list[str]:
    """List the solids that cloud the liquid enough to be seen."""
    return [f for f in held.hazes if float(held.haze_mol_m3(f).max()) > MIN_HAZE_MOL_M3]


def _by_time(run: Run) -> dict[str, Array]:
    arrays = {
        "time_s": run.time_s,
        "current_A": run.current_A,
        "supply_V": run.supply_voltage_V,
        "voltage_V": run.voltage_V,
        "lamp_V": run.lamp_voltage_V,
        "charge_C": run.charge_C,
        "swapped": run.swapped.astype(float),
    }
    if np.ptp(run.volume_cm3):
        arrays["volume_cm3"] = run.volume_cm3
    for side, record in enumerate((run.cathode, run.anode)):
        arrays[f"{side}:pH"] = record.pH
        for product in record.products:
            arrays[f"{side}:share:{product}"] = record.share(product)
            arrays[f"{side}:amount_mol:{product}"] = record.amount_mol(product)
            if kind_of(product) == "gas":
                arrays[f"{side}:gas_cm3:{product}"] = record.gas_cm3(product)
                arrays[f"{side}:collected_cm3:{product}"] = record.gas_cm3(product, collected=True)
                arrays[f"{side}:bubbles_cm3:{product}"] = record.bubbles_cm3(product)
        for solid in record.solids:
            arrays[f"{side}:mass_g:{solid}"] = record.mass_g(solid)
        if (film := oxide_film(run, side)).any():
            arrays[f"{side}:film"] = film
        arrays[f"{side}:layer_g"] = _layer_g(record)
        arrays[f"{side}:loose_g"] = _loose_g(record)
    return arrays


def _layer_g(record: ElectrodeRecord) -> Array:
    """Return the mass of what has settled less what the metal lost; carbon wears too little."""
    settled = [record.mass_g(solid) for solid in record.solids if solid != "C"]
    return np.asarray(np.sum(settled, axis=0)) if settled else np.zeros_like(record.pH)


def _loose_g(record: ElectrodeRecord) -> Array:
    """Return the mass that has settled while the current was too much for a firm deposit."""
    layer = _layer_g(record)
    grown = np.maximum(np.diff(layer), 0.0) * (record.limiting_share[1:] > SPONGY)
    loose = np.concatenate([[0.0], np.cumsum(grown)])
    return np.asarray(np.minimum(loose, np.maximum(layer, 0.0)))


def _spread(count: int, most: int) -> np.ndarray[tuple[int, ...], np.dtype[np.int_]]:
    """Choose at most ``most`` of ``count`` indices, evenly, with both ends."""
    return np.unique(np.linspace(0, count - 1, min(count, most)).round().astype(int))


def _places(run: Run) -> np.ndarray[tuple[int, ...], np.dtype[np.int_]]:
    """Choose which places along the gap are sent of a run."""
    samples = min(run.time_s.size, MAX_SAMPLES)
    return _spread(run.position_m.size, _positions_that_fit(run, samples))


def _positions_that_fit(run: Run, samples: int) -> int:
    """Say how many places along the gap may be sent within the bytes allowed."""
    species = _species(run)
    moved = sum(1 for formula in species if parse_formula(formula).charge)
    fields = 1 + len(species) + moved + (moved < len(species)) + len(_clouds(run))
    left = MAX_BYTES / 4 - len(_by_time(run)) * samples - MAX_POSITIONS
    return min(MAX_POSITIONS, int(left / (fields * samples)))
