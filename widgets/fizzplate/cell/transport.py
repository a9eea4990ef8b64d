"""One implicit step of the whole cell: liquid, both electrodes and the circuit solved together.

The nodes hold the solved totals; three unknowns border the system: both electrode potentials and
the logarithm of the current. Their equations are ``ln(sum of current densities) = ln(I / area)`` at
each electrode, and the voltage loop or the current that the supply holds.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell.circuit import CURRENT_EXPONENT
from fizzplate.cell.face import FaceModel
from fizzplate.cell.flow import FlowModel
from fizzplate.cell.linear import BlockTridiagonal
from fizzplate.chemistry.constants import FARADAY_C_MOL, GAS_J_MOL_K

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.cell.circuit import Lamp
    from fizzplate.cell.face import Face, Release
    from fizzplate.cell.flow import Flows
    from fizzplate.cell.geometry import Geometry
    from fizzplate.cell.kinetics import Electrode
    from fizzplate.cell.speciation import Speciated, Speciation

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

LARGEST_POTENTIAL_STEP_V = 0.2
LARGEST_LN_CURRENT_STEP = 1.0
LEAST_LEFT = 0.2  # of a concentration after one iteration


@dataclass(frozen=True, slots=True)
class Held:
    """What the supply holds: its voltage (V), or the logarithm of the current (A)."""

    voltage: bool
    value: float


@dataclass(slots=True)
class Unknowns:
    """The unknowns of a step."""

    totals: Array  #: solved totals, (M, N), mol/m3
    u: Array  #: potential steps between nodes in RT/F, (N - 1,)
    potential_V: Array  #: of electrode 0 and 1 against the liquid at its face, (2,)
    ln_current: float  #: ln(I / A)


@dataclass(frozen=True, slots=True)
class Improved:
    """The result of one Newton iteration.

    Parameters
    ----------
    unknowns
        The new unknowns.
    change
        What the totals changed by, (M, N).
    extent_mol_s
        Rate of every reaction at electrode 0 and 1, linearised as the totals are: balances close.
    released_mol_s
        Rate of every gas that leaves at electrode 0 and 1, (2, releases).
    border_change
        Largest change of the bordering unknowns, V or ln A.
    clipped
        Whether a change was cut back.
    """

    unknowns: Unknowns
    change: Array
    extent_mol_s: tuple[Array, Array]
    released_mol_s: Array
    border_change: float
    clipped: bool


@dataclass(frozen=True, slots=True)
class Linearised:
    """A step's equations linearised: N nodes, M totals, three bordering unknowns.

    Parameters
    ----------
    flows, faces
        What they were made from.
    residual
        Of the nodes, (N, M), mol/s.
    lower, diagonal, upper
        Its derivative by the totals, blocks (N, M, M).
    by_border
        Its derivative by both potentials and ln I, (N, M, 3).
    border, border_by_totals, border_miss
        The border's own equations: (3, 3), (3, N, M) and (3,).
    """

    flows: Flows
    faces: tuple[Face, Face]
    residual: Array
    lower: Array
    diagonal: Array
    upper: Array
    by_border: Array
    border: Array
    border_by_totals: Array
    border_miss: Array


class Transport:
    """The discrete equations of one cell with given electrodes and one direction of the current.

    Parameters
    ----------
    grid, model
        Geometry and speciation.
    electrodes
        Reactions at position 0 and at the other end.
    direction
        +1 while electrode 0 is the cathode, -1 while it is the anode, 0 with the switch open.
    lamp
        In series, or None.
    releases
        Dissolved gases that leave when above saturation.
    temperature_K
        Of the whole cell.
    """

    def __init__(
        self,
        grid: Geometry,
        model: Speciation,
        electrodes: tuple[Electrode, Electrode],
        *,
        direction: int,
        lamp: Lamp | None,
        releases: Sequence[Release],
        temperature_K: float,
    ) -> None:
        self.grid = grid
        self.model = model
        self.electrodes = electrodes
        self.direction = direction
        self.lamp = lamp
        self.releases = tuple(releases)
        self.flow = FlowModel(grid, model)
        self.thermal_V = GAS_J_MOL_K * temperature_K / FARADAY_C_MOL
        self.faces = tuple(
            FaceModel(node, model, electrode, releases, grid.area_m2)
            for node, electrode in zip((0, -1), electrodes, strict=True)
        )
        self._solver = BlockTridiagonal(grid.volume_m3.size, len(model.solved), columns=4)
        self._ln_area = math.log(grid.area_m2)
        self._never_negative = ~model.solved_may_be_negative()[:, None]

    def lamp_voltage_V(self, ln_current: float) -> float:
        """Return the voltage across the lamp, V."""
        return 0.0 if self.lamp is None else float(self.lamp.voltage_V(math.exp(ln_current)))

    def supply_voltage_V(self, now: Unknowns) -> float:
        """Return the voltage that the supply gives, V."""
        liquid_V = self.thermal_V * float(now.u.sum())
        cell_V = self.direction * (now.potential_V[1] - now.potential_V[0] + liquid_V)
        return float(cell_V) + self.lamp_voltage_V(now.ln_current)

    def current_mol_s(self, ln_current: float) -> float:
        """Return the charge that flows to electrode 1 through the liquid, mol/s."""
        return -self.direction * math.exp(ln_current) / FARADAY_C_MOL if self.direction else 0.0

    def _current_A(self, now: Unknowns) -> float:
        return math.exp(now.ln_current) if self.direction else 0.0

    def _faces(self, now: Unknowns, speciated: Speciated) -> tuple[Face, Face]:
        current_A = self._current_A(now)
        first, last = (
            model.at(speciated, float(E), current_A)
            for model, E in zip(self.faces, now.potential_V, strict=True)
        )
        return first, last

    def extents_mol_s(self, now: Unknowns, speciated: Speciated) -> Array:
        """Return the rate of every reaction at electrode 0 and then 1, mol/s."""
        faces, current_A = self._faces(now, speciated), self._current_A(now)
        return np.concatenate(
            [
                model.extent_mol_s(face, current_A)
                for model, face in zip(self.faces, faces, strict=True)
            ]
        )

    def improve(
        self,
        now: Unknowns,
        speciated: Speciated,
        history: Array,
        leading: float,
        held: Held,
    ) -> Improved:
        """Improve the unknowns of a step by one Newton iteration.

        Parameters
        ----------
        now, speciated
            The present unknowns and their species.
        history, leading
            The rate of change of the totals is ``leading * totals + history``, (M, N), 1/s.
        held
            What the supply holds.
        """
        system = self.linearise(now, speciated, history, leading, held)
        flows, faces = system.flows, system.faces
        right = np.concatenate([-system.residual[:, :, None], system.by_border], axis=2)
        solution = self._solver.solve(system.lower, system.diagonal, system.upper, right)
        x, response = solution[:, :, 0], solution[:, :, 1:]
        gradient = system.border_by_totals.reshape(3, -1)
        step = np.linalg.solve(
            system.border - gradient @ response.reshape(-1, 3),
            -system.border_miss - gradient @ x.ravel(),
        )
        limits = (LARGEST_POTENTIAL_STEP_V, LARGEST_POTENTIAL_STEP_V, LARGEST_LN_CURRENT_STEP)
        taken = np.clip(step, np.negative(limits), limits)
        change = (x - response @ taken).T
        least = np.minimum(LEAST_LEFT * now.totals - 1e-8, now.totals)
        too_low = (now.totals + change < least) & self._never_negative
        clipped = bool(np.any(taken != step)) or bool(too_low.any())
        if too_low.any():
            change = np.where(too_low, least - now.totals, change)
        u = now.u + flows.u_change + flows.u_by_ln_current * taken[2]
        u += (flows.u_by_before * change[:, :-1]).sum(0) + (flows.u_by_after * change[:, 1:]).sum(0)
        extents = tuple(
            model.extent_mol_s(
                face,
                self._current_A(now),
                change=change[:, face.node],
                potential_step_V=float(taken[side]),
                ln_current_step=float(taken[2]),
            )
            for side, (model, face) in enumerate(zip(self.faces, faces, strict=True))
        )
        released = np.array([f.released + f.released_by_totals @ change[:, f.node] for f in faces])
        return Improved(
            unknowns=Unknowns(
                now.totals + change,
                u,
                now.potential_V + taken[:2],
                now.ln_current + float(taken[2]),
            ),
            change=change,
            extent_mol_s=(extents[0], extents[1]),
            released_mol_s=released.reshape(2, len(self.releases)),
            border_change=float(np.abs(step).max()),
            clipped=clipped,
        )

    def linearise(
        self, now: Unknowns, speciated: Speciated, history: Array, leading: float, held: Held
    ) -> Linearised:
        """Return the step's equations linearised at the present unknowns."""
        flows = self.flow.flows(speciated, now.u, self.current_mol_s(now.ln_current))
        faces = self._faces(now, speciated)
        volume = self.grid.volume_m3
        m, nodes = now.totals.shape
        residual = volume * (leading * now.totals + history)
        residual[:, :-1] += flows.totals
        residual[:, 1:] -= flows.totals
        diagonal = np.zeros((m, m, nodes))
        diagonal[np.arange(m), np.arange(m)] = volume * leading
        diagonal[:, :, :-1] += flows.by_before
        diagonal[:, :, 1:] -= flows.by_after
        lower = np.zeros((nodes, m, m))
        upper = np.zeros((nodes, m, m))
        lower[1:] = -flows.by_before.transpose(2, 0, 1)
        upper[:-1] = flows.by_after.transpose(2, 0, 1)
        by_border = np.zeros((nodes, m, 3))
        by_border[:-1, :, 2] += flows.by_ln_current.T
        by_border[1:, :, 2] -= flows.by_ln_current.T
        for side, face in enumerate(faces):
            residual[:, face.node] -= face.source
            diagonal[:, :, face.node] -= face.source_by_totals
            by_border[face.node, :, side] = -face.source_by_E
            by_border[face.node, :, 2] -= face.source_by_ln
        border, gradient, miss = self._border(now, flows, faces, held)
        return Linearised(
            flows=flows,
            faces=faces,
            residual=residual.T,
            lower=lower,
            diagonal=diagonal.transpose(2, 0, 1),
            upper=upper,
            by_border=by_border,
            border=border,
            border_by_totals=gradient,
            border_miss=miss,
        )

    def _border(
        self, now: Unknowns, flows: Flows, faces: tuple[Face, Face], held: Held
    ) -> tuple[Array, Array, Array]:
        """Return the border's own equations: by potentials and ln I, by the totals, and their miss."""
        m, nodes = now.totals.shape
        matrix = np.eye(3)
        gradient = np.zeros((3, nodes, m))
        miss = np.zeros(3)
        if not self.direction:
            return matrix, gradient, miss
        for side, face in enumerate(faces):
            if face.rates is not None:
                matrix[side, side] = face.rates.ln_sum_by_E
                matrix[side, 2] = -1.0
                gradient[side, face.node] = face.sum_by_totals
                miss[side] = face.rates.ln_sum - (now.ln_current - self._ln_area)
        if not held.voltage:
            miss[2] = now.ln_current - held.value
            return matrix, gradient, miss
        turn_V = self.direction * self.thermal_V
        matrix[2] = (
            -self.direction,
            self.direction,
            turn_V * float(flows.u_by_ln_current.sum())
            + self.lamp_voltage_V(now.ln_current) / CURRENT_EXPONENT,
        )
        gradient[2, :-1] += turn_V * flows.u_by_before.T
        gradient[2, 1:] += turn_V * flows.u_by_after.T
        miss[2] = self.supply_voltage_V(now) - held.value + turn_V * float(flows.u_change.sum())
        return matrix, gradient, miss
