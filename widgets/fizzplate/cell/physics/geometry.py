"""The path of the current from one electrode to the other, cut into nodes.

Nodes lie on both electrode faces and exactly at the edge of each film. Between neighbouring nodes a
face has a conductance area/length; each node owns half of the liquid on either side of it. The film
covers the whole wetted surface, the rest of the vessel has the resistance of its real shape, and
the whole volume stores.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.words import InputError

if TYPE_CHECKING:
    from fizzplate.cell.physics.vessels import Vessel

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

FIRST_STEP_M = 0.5e-6  # coarser first steps put limiting currents several per cent wrong
GROWTH = 1.31
CORE_STEPS = 5
LIMB_STEPS = 4
BEND_STEPS = 24
STILL_GROWTH = 1.2
PUDDLE_MARGIN_M = 5e-3  # of liquid beyond both electrodes
BLOCK = 8  # the linear solver wants one node less than a multiple of this


@dataclass(frozen=True, slots=True)
class Geometry:
    """A grid of N nodes from the face of electrode 0 to the face of electrode 1.

    Parameters
    ----------
    position_m
        Places of the nodes along the gap, (N,).
    volume_m3
        Liquid that each node owns, (N,).
    conductance_m
        Area over length of each face between nodes, (N - 1,).
    mixing_m2_s
        Mixing coefficient that adds to every diffusion coefficient at each face, (N - 1,).
    area_m2
        Wetted surface of one electrode.
    film_m
        Thickness of the layer at each electrode that only bubbles and free convection mix.
    height_m
        Of the wetted surface, along which a lighter or heavier liquid rises or sinks.
    tortuosity
        How much slower than in free liquid ions get along, by longer ways through fibres.
    depth_m
        How far particles sink to the bottom; endless where fibres hold them.
    """

    position_m: Array
    volume_m3: Array
    conductance_m: Array
    mixing_m2_s: Array
    area_m2: float
    film_m: float
    height_m: float
    tortuosity: float = 1.0
    depth_m: float = math.inf

    @property
    def cell_constant_per_m(self) -> float:
        """Resistance times conductivity of the whole path in a uniform solution, 1/m."""
        return float(np.sum(1.0 / self.conductance_m))


@dataclass(frozen=True, slots=True)
class Zone:
    """A stretch of the path: its steps and how the liquid in it conducts, stores and mixes."""

    steps_m: Array
    conduction_area_m2: float
    storage_area_m2: float
    mixing_m2_s: float


def assemble(zones: list[Zone], area_m2: float, film_m: float, height_m: float) -> Geometry:
    """Join zones, in order from electrode 0 to electrode 1, into one grid."""
    steps = np.concatenate([zone.steps_m for zone in zones])

    def along(values: list[float]) -> Array:
        return np.repeat(values, [zone.steps_m.size for zone in zones])

    stored = steps * along([zone.storage_area_m2 for zone in zones])
    volume = np.zeros(steps.size + 1)
    volume[:-1] += stored / 2
    volume[1:] += stored / 2
    return Geometry(
        position_m=np.concatenate([[0.0], np.cumsum(steps)]),
        volume_m3=volume,
        conductance_m=along([zone.conduction_area_m2 for zone in zones]) / steps,
        mixing_m2_s=along([zone.mixing_m2_s for zone in zones]),
        area_m2=area_m2,
        film_m=film_m,
        height_m=height_m,
    )


def graded_steps_m(length_m: float, first_m: float = FIRST_STEP_M, growth: float = GROWTH) -> Array:
    """Return steps that grow geometrically from ``first_m`` and fill ``length_m`` exactly."""
    count = max(1, round(math.log1p(length_m * (growth - 1) / first_m) / math.log(growth)))
    steps = growth ** np.arange(count)
    return np.asarray(steps * (length_m / steps.sum()))


def rods_cell_constant_per_m(gap_m: float, radius_m: float, immersed_length_m: float) -> float:
    """Cell constant of two parallel rods in an unbounded liquid, 1/m.

    ``K = arccosh(d / 2a) / (pi l)`` with the distance ``d = gap + 2a`` of the axes, the radius
    ``a`` and the immersed length ``l``: the potential of two line charges, standard electrostatics.

    Examples
    --------
    >>> round(rods_cell_constant_per_m(0.025, 0.0025, 0.035), 1)
    22.5
    """
    distance_m = gap_m + 2 * radius_m
    return math.acosh(distance_m / (2 * radius_m)) / (math.pi * immersed_length_m)


def geometry(
    vessel: Vessel, *, gap_cm: float, immersed_area_cm2: float, volume_cm3: float
) -> Geometry:
    """Return the grid of a vessel filled and set up as given.

    Raises
    ------
    InputError
        If the volume is too small for the gap.
    """
    gap_m, area_m2 = gap_cm * 1e-2, immersed_area_cm2 * 1e-4
    if vessel.name == "paper strip":
        return _paper_strip(vessel, gap_m, area_m2)
    depth_m = vessel.quantity("depth") * 1e-3
    if vessel.name == "still column":
        return replace(_still(gap_m, area_m2, area_m2, area_m2), depth_m=depth_m)
    build = {"beaker": _beaker, "U-tube": _u_tube, "dish": _dish}[vessel.name]
    return replace(build(vessel, gap_m, area_m2, volume_cm3 * 1e-6), depth_m=depth_m)


def _film(film_m: float, area_m2: float) -> tuple[Zone, Zone]:
    steps = graded_steps_m(film_m)
    return Zone(steps, area_m2, area_m2, 0.0), Zone(steps[::-1], area_m2, area_m2, 0.0)


def _still(
    gap_m: float, conduction_area_m2: float, storage_area_m2: float, area_m2: float
) -> Geometry:
    """Return a path on which nothing is mixed: fine at both faces, coarse in the middle."""
    # an even number of steps, one node less than a multiple of the solver's block
    half = graded_steps_m(gap_m / 2, FIRST_STEP_M, STILL_GROWTH)
    count = half.size + _fill(2 * half.size) // 2
    steps = STILL_GROWTH ** np.arange(count)
    half = np.asarray(steps * (gap_m / 2 / steps.sum()))
    zone = Zone(np.concatenate([half, half[::-1]]), conduction_area_m2, storage_area_m2, 0.0)
    return assemble([zone], area_m2, 0.0, 0.0)


def _paper_strip(vessel: Vessel, gap_m: float, area_m2: float) -> Geometry:
    cross_m2 = vessel.quantity("width") * 1e-2 * vessel.quantity("thickness") * 1e-3
    liquid_m2 = cross_m2 * vessel.quantity("porosity")
    tortuosity = vessel.quantity("tortuosity")
    strip = _still(gap_m, liquid_m2 / tortuosity, liquid_m2, area_m2)
    return replace(strip, tortuosity=tortuosity)


def _dish(vessel: Vessel, gap_m: float, area_m2: float, volume_m3: float) -> Geometry:
    film_m = vessel.film_mm * 1e-3
    first, last = _film(film_m, area_m2)
    # a puddle as wide as its volume and depth make it, the electrodes dipped in at both ends
    width_m = volume_m3 / (vessel.quantity("depth") * 1e-3 * (gap_m + PUDDLE_MARGIN_M))
    length_m = gap_m - 2 * film_m
    steps = CORE_STEPS + _fill(2 * first.steps_m.size + CORE_STEPS)
    core = Zone(
        steps_m=np.full(steps, length_m / steps),
        conduction_area_m2=width_m * vessel.quantity("depth") * 1e-3,
        storage_area_m2=(volume_m3 - 2 * film_m * area_m2) / length_m,
        mixing_m2_s=vessel.quantity("mixing"),
    )
    return assemble([first, core, last], area_m2, film_m, vessel.quantity("depth") * 1e-3)


def _fill(count: int) -> int:
    """Return how many steps make a grid that the linear solver can cut into equal blocks."""
    return -(count + 2) % BLOCK


def _beaker(vessel: Vessel, gap_m: float, area_m2: float, volume_m3: float) -> Geometry:
    film_m = vessel.film_mm * 1e-3
    first, last = _film(film_m, area_m2)
    radius_m = vessel.quantity("rod diameter") * 1e-3 / 2
    immersed_length_m = area_m2 / (2 * math.pi * radius_m)
    whole = rods_cell_constant_per_m(gap_m, radius_m, immersed_length_m)
    core_per_m = whole * vessel.quantity("wall factor") - 2 * film_m / area_m2
    steps = CORE_STEPS + _fill(2 * first.steps_m.size + CORE_STEPS)
    length_m = gap_m - 2 * film_m
    core = Zone(
        steps_m=np.full(steps, length_m / steps),
        conduction_area_m2=length_m / core_per_m,
        storage_area_m2=(volume_m3 - 2 * film_m * area_m2) / length_m,
        mixing_m2_s=vessel.quantity("mixing"),
    )
    return assemble([first, core, last], area_m2, film_m, immersed_length_m)


def _u_tube(vessel: Vessel, gap_m: float, area_m2: float, volume_m3: float) -> Geometry:
    film_m = vessel.film_mm * 1e-3
    first, last = _film(film_m, area_m2)
    bore_m2 = math.pi / 4 * (vessel.quantity("bore") * 1e-2) ** 2
    # Each electrode stands in a limb that its bubbles stir; the rest of the path is the bend.
    limb_m = gap_m / 8
    bend_m = gap_m - 2 * (limb_m + film_m)
    limb_m3 = (volume_m3 - bend_m * bore_m2) / 2 - film_m * area_m2
    if limb_m3 <= limb_m * bore_m2 / 2:
        raise InputError(
            "gap_cm",
            gap_m * 1e2,
            f"a shorter path: {volume_m3 * 1e6:g} cm3 do not fill this one in a U-tube "
            f"{vessel.quantity('bore'):g} cm wide",
        )
    limb = Zone(
        steps_m=np.full(LIMB_STEPS, limb_m / LIMB_STEPS),
        conduction_area_m2=bore_m2,
        storage_area_m2=limb_m3 / limb_m,
        mixing_m2_s=vessel.quantity("mixing"),
    )
    count = BEND_STEPS + _fill(2 * (first.steps_m.size + LIMB_STEPS) + BEND_STEPS)
    # Fine where a front enters from a stirred limb, coarse in the middle.
    parts = 1.25 ** np.minimum(np.arange(count), np.arange(count)[::-1])
    bend = Zone(
        steps_m=parts * (bend_m / parts.sum()),
        conduction_area_m2=bore_m2,
        storage_area_m2=bore_m2,
        mixing_m2_s=vessel.quantity("bend mixing"),
    )
    height_m = area_m2 / (math.pi * vessel.quantity("rod diameter") * 1e-3)
    return assemble([first, limb, bend, limb, last], area_m2, film_m, height_m)
