"""Oxygen of the air, which is dissolved in every solution and reduced at a cathode: no run has it.

Its current at a potential ``E`` of the cathode is

    1/I = 1/I_L + 1/I_T,    I_T = i0 A exp(alpha f (E0 - ln(10) pH / f - E)),    I_L = 4 F A D c / d,

Tafel's law in series with the limiting current; ``f = F/RT``, ``c`` by Henry's law under air, ``d`` half the
film's greatest thickness, as it usually is, or ``(pi D t)^(1/2)`` after a time ``t`` where nothing is mixed
(Cottrell). ``i0`` and ``alpha`` are those of oxygen's formation on the same material: good to a factor of
ten, as those are.

:mod:`fizzplate.cell.residual_current` adds it to a current-voltage curve; :func:`oxygen_beside` says how
much it would take beside a run.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data
from fizzplate.cell.physics import kinetic_value
from fizzplate.cell.solver import voltage_needed
from fizzplate.chemistry import FARADAY_C_MOL, GAS_J_MOL_K, ZERO_CELSIUS_K
from fizzplate.chemistry.substances import saturation_mol_m3
from fizzplate.chemistry.transport_properties import diffusion_coefficient_m2_s

if TYPE_CHECKING:
    from collections.abc import Callable

    from fizzplate.cell.physics import CellLike, Geometry
    from fizzplate.cell.solver import Samples

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

REACTION = "oxygen from water"  # whose kinetics are taken for the way back
AIR_OXYGEN = 0.21  # by volume
ELECTRONS = 4
USUAL_LAYER = (
    0.5  # of the film's greatest thickness: draughts, warmth and a few bubbles thin it; a choice
)
HALVINGS = 50  # until a current is known
FIRST_LOOK_S = 60.0  # a class reads no meter sooner; in still liquid more flows before
PROBES_A = (1e-6, 1e-5, 1e-4, 1e-3, 1e-2)  # currents by which anode and liquid are known
HELD = 1 - 1e-6  # of the supply's largest current
ENDLESS_OHM = 1e9


def limiting_current_A(cell: CellLike, time_s: float) -> float:
    """Return the largest current that oxygen of the air can carry to the cathode, A.

    Parameters
    ----------
    cell
        The cell.
    time_s
        How long the current has flowed, which counts where nothing is mixed.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> round(1e3 * limiting_current_A(Cell("H2SO4"), 60.0), 2)
    0.66
    """
    diffusion_m2_s = diffusion_coefficient_m2_s("O2")
    dissolved_mol_m3 = AIR_OXYGEN * saturation_mol_m3("O2", pressure_kPa=cell.pressure_kPa)
    layer_m = USUAL_LAYER * cell.geometry.film_m or math.sqrt(math.pi * diffusion_m2_s * time_s)
    supply_mol_s = cell.geometry.area_m2 * diffusion_m2_s * dissolved_mol_m3 / layer_m
    return ELECTRONS * FARADAY_C_MOL * supply_mol_s


class OxygenReduction:
    """Oxygen of the air reduced at a cathode, after some time or at several, s."""

    def __init__(self, cell: CellLike, material: str, time_s: Array) -> None:
        self._limit_A = np.array([limiting_current_A(cell, float(each)) for each in time_s])
        self._f = FARADAY_C_MOL / (GAS_J_MOL_K * (cell.temperature_C + ZERO_CELSIUS_K))
        exchange_A_m2 = kinetic_value(REACTION, material, "exchange current density")
        self._exchange_A = exchange_A_m2 * cell.geometry.area_m2
        self._transfer = kinetic_value(REACTION, material, "transfer coefficient")
        self.standard_V = data.find("electrode_reactions", reaction=REACTION).value

    def current_A(self, potential_V: Array, pH: Array) -> Array:
        """Return the current at potentials and compositions of the face."""
        drive_V = self.standard_V - math.log(10) * pH / self._f - potential_V
        exponent = np.clip(self._transfer * self._f * drive_V, -300.0, 300.0)
        tafel_A = self._exchange_A * np.exp(exponent)
        return np.asarray(1 / (1 / self._limit_A + 1 / tafel_A))

    def alone_A(self, potential_V: Callable[[Array], Array], pH: Array) -> Array:
        """Return the current that flows with oxygen alone.

        Parameters
        ----------
        potential_V
            The potential that is left for the cathode at currents in A; it rises with them.
        pH
            At the face.
        """
        least_A, most_A = np.zeros(self._limit_A.shape), self._limit_A
        for _ in range(HALVINGS):
            middle_A = 0.5 * (least_A + most_A)
            too_much = self.current_A(potential_V(middle_A), pH) < middle_A
            least_A = np.where(too_much, least_A, middle_A)
            most_A = np.where(too_much, middle_A, most_A)
        return np.asarray(most_A)


@dataclass(frozen=True, slots=True)
class OxygenBeside:
    """The current that oxygen of the air would take beside a run's, at the sample where it counts most.

    Parameters
    ----------
    oxygen_A
        What oxygen would take, A.
    run_A
        The run's own current then, A; zero where nothing flows in the model.
    """

    oxygen_A: float
    run_A: float

    @property
    def share(self) -> float:
        """What oxygen takes in proportion to the run's current."""
        return self.oxygen_A / self.run_A if self.run_A else math.inf


def oxygen_beside(
    cell: CellLike, samples: Samples, cathode_pH: Array, conductivity_S_m: Array
) -> OxygenBeside | None:
    """Return what oxygen of the air would take beside a run; none if the switch was never closed.

    It takes what :class:`OxygenReduction` gives at the cathode's potential, but never more than the supply
    can drive with oxygen alone. The cathode's potential is then ``E(run) + R (I - I(run))`` with the
    resistance ``R`` of the liquid, without end where the supply holds the current. Where nothing flows in
    the run, it is what the voltage leaves for the cathode.

    Parameters
    ----------
    cell
        The cell as it was through these samples.
    samples
        Of a part of a run, S of them.
    cathode_pH
        At the face of whichever electrode is the cathode, (S,).
    conductivity_S_m
        At every place, (S, N).
    """
    # where the supply has too little voltage, the samples are those of an open switch
    blocked = (samples.open_V > 0) & (samples.time_s > 0)
    flowing = (samples.direction != 0) & (samples.time_s > 0)
    found = []
    if blocked.any():
        oxygen = OxygenReduction(cell, cell.cathode, np.array([FIRST_LOOK_S]))
        alone_A = oxygen.alone_A(_potential_left_V(cell), cathode_pH[blocked][:1])
        found.append(OxygenBeside(float(alone_A[0]), 0.0))
    for direction in (1, -1):
        here = flowing & (samples.direction == direction)
        if here.any():
            run_A = samples.current_A[here]
            side = 0 if direction > 0 else 1
            oxygen = OxygenReduction(
                cell,
                cell.anode if side else cell.cathode,
                np.maximum(samples.time_s[here], FIRST_LOOK_S),
            )
            held = run_A > HELD * cell.supply.max_current_A
            beside_A = _beside_A(
                oxygen,
                samples.potential_V[here, side],
                cathode_pH[here],
                run_A,
                np.where(held, ENDLESS_OHM, resistance_ohm(conductivity_S_m[here], cell.geometry)),
            )
            found += [OxygenBeside(*each) for each in np.stack([beside_A, run_A], 1).tolist()]
    return max(found, key=lambda each: (each.share, each.oxygen_A), default=None)


def _beside_A(
    oxygen: OxygenReduction, potential_V: Array, pH: Array, run_A: Array, ohm: Array
) -> Array:
    """Return oxygen's current at a run's potentials, but no more than flows with oxygen alone."""

    def along_V(current_A: Array) -> Array:
        return np.asarray(potential_V + ohm * (current_A - run_A))

    return np.minimum(oxygen.current_A(potential_V, pH), oxygen.alone_A(along_V, pH))


def _potential_left_V(cell: CellLike) -> Callable[[Array], Array]:
    """Return the cathode's potential by the current, where the voltage is too small for a run's reactions."""
    probes = [voltage_needed(cell, each) for each in PROBES_A]
    supply_V = cell.supply.max_voltage_V
    left_V = [each.cathode_V + each.voltage_V - supply_V for each in probes]

    def potential_V(current_A: Array) -> Array:
        return np.asarray(np.interp(np.log(current_A), np.log(PROBES_A), left_V))

    return potential_V


def resistance_ohm(conductivity_S_m: Array, geometry: Geometry) -> Array:
    """Return the resistance of the path by its conductivities, (..., N) to (...)."""
    between = 0.5 * (conductivity_S_m[..., :-1] + conductivity_S_m[..., 1:])
    return np.asarray((1 / (between * geometry.conductance_m)).sum(-1))
