"""One implicit step of the whole cell: liquid, both electrodes and the circuit solved together.

The nodes hold the solved totals; five unknowns border the system: both electrode potentials, the
logarithm of the current, and how much the bubbles at each electrode mix its film. Their equations
are ``ln(sum of current densities) = ln(I / area)`` at each electrode, the voltage loop or the current
that the supply holds, and at each electrode the mixing that follows the gas made there.
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
from fizzplate.cell.speciation import ACID
from fizzplate.cell.state import Unknowns
from fizzplate.cell.stirring import REFERENCE_DIFFUSION_M2_S, Stirring
from fizzplate.chemistry.constants import FARADAY_C_MOL, GAS_J_MOL_K

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.cell.circuit import Lamp
    from fizzplate.cell.face import Face, Release
    from fizzplate.cell.flow import Flows
    from fizzplate.cell.geometry import Geometry
    from fizzplate.cell.kinetics import Electrode
    from fizzplate.cell.speciation import Speciated, Speciation
    from fizzplate.cell.state import Step

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

LARGEST_POTENTIAL_STEP_V = 0.2
LARGEST_LN_CURRENT_STEP = 1.0
LARGEST_MIXING_STEP = 5.0  # of the reference coefficient
BORDER = 5
LIMITS = np.array(
    [
        LARGEST_POTENTIAL_STEP_V,
        LARGEST_POTENTIAL_STEP_V,
        LARGEST_LN_CURRENT_STEP,
        LARGEST_MIXING_STEP,
        LARGEST_MIXING_STEP,
    ]
)
ROUNDING = 1e-7  # of a concentration: less is not told from nothing
LEAST_LEFT = 0.2  # of a concentration after one iteration


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
        Largest change of the bordering unknowns, V, ln A or relative mixing.
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
    """A step's equations linearised: N nodes, M totals, five bordering unknowns.

    The arrays over nodes are the solver's own: they hold until the next linearisation.

    Parameters
    ----------
    flows, faces
        What they were made from.
    residual
        Of the nodes, (N, M), mol/s.
    lower, diagonal, upper
        Its derivative by the totals, blocks (N, M, M).
    by_border
        Its derivative by both potentials, ln I and both mixings, (N, M, 5).
    border, border_by_totals, border_miss
        The border's own equations: (5, 5), (5, N, M) and (5,).
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


def _least_left(concentration: Array) -> Array:
    """Return how low a concentration may fall in one iteration, mol/m3."""
    return np.asarray(np.minimum(LEAST_LEFT * concentration - 1e-8, concentration))


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
        self.stirring = Stirring.of(grid.film_m)
        self._solver = BlockTridiagonal(grid.volume_m3.size, len(model.solved), columns=1 + BORDER)
        self._volume = grid.volume_m3
        self._storage = np.eye(len(model.solved))[:, :, None] * grid.volume_m3
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
        self, now: Unknowns, speciated: Speciated, step: Step, reach: Array = LIMITS
    ) -> Improved:
        """Improve the unknowns at the end of a step by one Newton iteration.

        ``reach`` is the most that each of the bordering unknowns may change by, (5,).
        """
        system = self.linearise(now, speciated, step)
        flows, faces = system.flows, system.faces
        solution = self._solver.solve().reshape(-1, 1 + BORDER)
        response = solution[:, 1:]
        gradient = system.border_by_totals.reshape(BORDER, -1)
        felt = gradient @ solution
        wanted = np.linalg.solve(system.border - felt[:, 1:], felt[:, 0] - system.border_miss)
        taken = np.minimum(np.maximum(wanted, -reach), reach)
        change = (-solution[:, 0] - response @ taken).reshape(-1, len(now.totals)).T
        new, cut = self._not_too_low(now.totals, now.totals + change)
        clipped = cut or bool((taken != wanted).any())
        if cut:
            change = new - now.totals
        u = now.u + flows.u_change + flows.u_by_ln_current * taken[2]
        u += flows.u_by_mixing @ (REFERENCE_DIFFUSION_M2_S * taken[3:])
        u += (flows.u_by_before * change[:, :-1] + flows.u_by_after * change[:, 1:]).sum(0)
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
                new,
                u,
                now.potential_V + taken[:2],
                now.ln_current + float(taken[2]),
                now.mixing + taken[3:],
            ),
            change=change,
            extent_mol_s=(extents[0], extents[1]),
            released_mol_s=released.reshape(2, len(self.releases)),
            border_change=max(
                float(np.abs(taken[:3]).max()),
                float(np.abs(taken[3:] / (1 + np.abs(now.mixing))).max()),
            ),
            clipped=clipped,
        )

    def _not_too_low(self, old: Array, new: Array) -> tuple[Array, bool]:
        """Let no concentration fall to less than a part of itself in one iteration.

        The total that is not solved for is held up through the acid excess, which may have any sign.
        """
        least = _least_left(old)
        too_low = (new < least) & self._never_negative
        cut = bool(too_low.any())
        if cut:
            new = np.where(too_low, least, new)
        row = self.model.expansion[self.model.eliminated_row]
        before = row @ old
        # what is not solved for is a small difference where little is left: rounding is not cut
        slack = ROUNDING * np.abs(before).max()
        short = np.maximum(LEAST_LEFT * before, 0.0) - slack - row @ new
        lacks = short > 0
        if lacks.any():
            cut = True
            acid = self.model.solved.index(ACID)
            new = new.copy()
            new[acid] += np.where(lacks, short, 0.0) / row[acid]
        return new, cut

    def linearise(self, now: Unknowns, speciated: Speciated, step: Step) -> Linearised:
        """Return the step's equations linearised at the present unknowns."""
        flows = self.flow.flows(
            speciated,
            now.u,
            self.current_mol_s(now.ln_current),
            REFERENCE_DIFFUSION_M2_S * np.maximum(now.mixing, 0.0),
        )
        faces = self._faces(now, speciated)
        solver = self._solver
        residual = self._volume * (step.leading * now.totals + step.totals)
        residual[:, :-1] += flows.totals
        residual[:, 1:] -= flows.totals
        diagonal = self._storage * step.leading
        diagonal[:, :, :-1] += flows.by_before
        diagonal[:, :, 1:] -= flows.by_after
        by_border = solver.right[:, :, 1:]
        by_border[0] = by_border[-1] = 0.0
        by_border[1:, :, 2] = -flows.by_ln_current.T
        by_border[:-1, :, 2] += flows.by_ln_current.T
        by_mixing = REFERENCE_DIFFUSION_M2_S * flows.by_mixing.transpose(1, 0, 2)
        by_border[1:, :, 3:] = -by_mixing
        by_border[:-1, :, 3:] += by_mixing
        for side, face in enumerate(faces):
            residual[:, face.node] -= face.source
            diagonal[:, :, face.node] -= face.source_by_totals
            by_border[face.node, :, side] = -face.source_by_E
            by_border[face.node, :, 2] -= face.source_by_ln
        solver.right[:, :, 0] = residual.T
        solver.lower[1:] = -flows.by_before.transpose(2, 0, 1)
        solver.diagonal[...] = diagonal.transpose(2, 0, 1)
        solver.upper[:-1] = flows.by_after.transpose(2, 0, 1)
        border, gradient, miss = self._border(now, flows, faces, step)
        return Linearised(
            flows=flows,
            faces=faces,
            residual=residual.T,
            lower=solver.lower,
            diagonal=solver.diagonal,
            upper=solver.upper,
            by_border=by_border,
            border=border,
            border_by_totals=gradient,
            border_miss=miss,
        )

    def _border(
        self, now: Unknowns, flows: Flows, faces: tuple[Face, Face], step: Step
    ) -> tuple[Array, Array, Array]:
        """Return the border's own equations: by the border, by the totals, and their miss."""
        m, nodes = now.totals.shape
        matrix = np.eye(BORDER)
        gradient = np.zeros((BORDER, nodes, m))
        miss = np.zeros(BORDER)
        self._mixing_rows(now, faces, step, matrix, gradient, miss)
        if not self.direction:
            return matrix, gradient, miss
        for side, face in enumerate(faces):
            if face.rates is not None:
                matrix[side, side] = face.rates.ln_sum_by_E
                matrix[side, 2] = -1.0
                gradient[side, face.node] = face.sum_by_totals
                miss[side] = face.rates.ln_sum - (now.ln_current - self._ln_area)
        if not step.held.voltage:
            miss[2] = now.ln_current - step.held.value
            return matrix, gradient, miss
        turn_V = self.direction * self.thermal_V
        by_ln_current = self.lamp_voltage_V(now.ln_current) / CURRENT_EXPONENT
        by_mixing = (turn_V * REFERENCE_DIFFUSION_M2_S) * flows.u_by_mixing.sum(0)
        matrix[2] = (
            -self.direction,
            self.direction,
            turn_V * float(flows.u_by_ln_current.sum()) + by_ln_current,
            *by_mixing,
        )
        gradient[2, :-1] += turn_V * flows.u_by_before.T
        gradient[2, 1:] += turn_V * flows.u_by_after.T
        short_V = self.supply_voltage_V(now) - step.held.value
        miss[2] = short_V + turn_V * float(flows.u_change.sum())
        return matrix, gradient, miss

    def _mixing_rows(
        self,
        now: Unknowns,
        faces: tuple[Face, Face],
        step: Step,
        matrix: Array,
        gradient: Array,
        miss: Array,
    ) -> None:
        """Fill in ``d(mixing)/dt = (wanted - mixing) / build-up time`` at both electrodes."""
        build_up_s = self.stirring.build_up_s
        for side, face in enumerate(faces):
            row = 3 + side
            matrix[row, row] = step.leading * build_up_s + 1.0
            miss[row] = matrix[row, row] * now.mixing[side] + step.mixing[side] * build_up_s
            if face.rates is None:
                continue
            bubbles = self.faces[side].bubbles
            density = self._current_A(now) / self.grid.area_m2
            gas = density * float(bubbles @ face.rates.share)
            wanted, slope = self.stirring.wanted_m2_s(gas)
            slope /= REFERENCE_DIFFUSION_M2_S
            miss[row] -= wanted / REFERENCE_DIFFUSION_M2_S
            matrix[row, side] = -slope * density * float(bubbles @ face.rates.share_by_E)
            matrix[row, 2] = -slope * gas
            gradient[row, face.node] = -slope * density * (bubbles @ face.share_by_totals)
