"""One implicit step of whole cells: liquid, both electrodes and the circuit solved together.

B cells that are alike are solved together. In each the nodes hold the solved totals, and the five
unknowns of :mod:`border <fizzplate.cell.solver.border>` border the system.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell.physics import (
    REFERENCE_DIFFUSION_M2_S,
    FaceModel,
    FlowModel,
    FreeConvection,
    Kinetics,
    at_ends,
    settling_per_s,
)
from fizzplate.cell.solver.border import BORDER, Border
from fizzplate.cell.solver.linear import BlockTridiagonal, solve_each
from fizzplate.cell.solver.state import Unknowns

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.cell.physics import (
        Electrode,
        ExchangeFactors,
        Faces,
        Flows,
        Geometry,
        Lamp,
        Release,
        Speciation,
        SpeciesProfile,
    )
    from fizzplate.cell.solver.state import Step

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    Places = np.ndarray[tuple[int, ...], np.dtype[np.int_]]
    Flags = np.ndarray[tuple[int, ...], np.dtype[np.bool_]]

MAX_POTENTIAL_STEP_V = 0.2
MAX_LN_CURRENT_STEP = 1.0
MAX_MIXING_STEP = 5.0  # of the reference coefficient
MAX_WAY_BACK = 0.8  # of a potential's way to the equilibrium of the reactions, in one iteration
LIMITS = np.array(
    [
        MAX_POTENTIAL_STEP_V,
        MAX_POTENTIAL_STEP_V,
        MAX_LN_CURRENT_STEP,
        MAX_MIXING_STEP,
        MAX_MIXING_STEP,
    ]
)
MIN_MOL_M3 = 1e-8  # less counts as zero
ROUNDING = 1e-6  # of a concentration: less counts as zero
MIN_REMAINING_FRACTION = 0.2  # of a concentration after one iteration


@dataclass(frozen=True, slots=True)
class NewtonStep:
    """The result of one Newton iteration.

    Parameters
    ----------
    unknowns
        The new unknowns.
    change
        What the totals changed by, (M, B, N).
    extent_mol_s
        Rate of every reaction at electrode 0 and 1, linearised as the totals are: balances close.
        (B, 2, R).
    released_mol_s
        Rate of every gas that leaves at electrode 0 and 1, then of its bubbles, (B, 2, 2 releases).
    settled_mol_s
        Rate at which every solid settles, linearised likewise, (B, solids).
    below
        How far the lowest of all totals is below zero, mol/m3, (B,).
    border_change
        Largest change of the bordering unknowns, V, ln A or relative mixing, (B,).
    clipped
        Whether a change was cut back, (B,).
    """

    unknowns: Unknowns
    change: Array
    extent_mol_s: Array
    released_mol_s: Array
    settled_mol_s: Array
    below: Array
    border_change: Array
    clipped: Flags


@dataclass(frozen=True, slots=True)
class Linearisation:
    """The equations of a step linearised: B cells, N nodes, M totals, five bordering unknowns.

    The arrays over nodes are the solver's own: they hold until the next linearisation.

    Parameters
    ----------
    flows, faces
        What they were made from.
    residual
        Of the nodes, (B, N, M), mol/s.
    lower, diagonal, upper
        Its derivative by the totals, blocks (B, N, M, M).
    by_border
        Its derivative by both potentials, ln I and both mixings, (B, N, M, 5).
    border, border_by_totals, border_miss
        The border's own equations: (B, 5, 5), (B, 5, N, M) and (B, 5).
    """

    flows: Flows
    faces: Faces
    residual: Array
    lower: Array
    diagonal: Array
    upper: Array
    by_border: Array
    border: Array
    border_by_totals: Array
    border_miss: Array


class Transport:
    """The discrete equations of B cells with the same electrodes and direction of the current.

    Parameters
    ----------
    grids, model
        Geometries with the same number of nodes and film, and speciation.
    electrodes
        Reactions at position 0 and at the other end.
    direction
        +1 while electrode 0 is the cathode, -1 while it is the anode, 0 with the switch open.
    lamps
        In series in each cell, or None.
    releases
        Dissolved gases that leave when above saturation.
    temperature_K
        Of the whole cell.
    exchange_factors
        By what each cell's exchange current densities are multiplied; nothing, if left out.
    film_factors
        By what each cell's unmixed layers are thicker; by nothing, if left out.
    """

    def __init__(
        self,
        grids: Sequence[Geometry],
        model: Speciation,
        electrodes: tuple[Electrode, Electrode],
        *,
        direction: int,
        lamps: Sequence[Lamp | None],
        releases: Sequence[Release],
        temperature_K: float,
        exchange_factors: Sequence[ExchangeFactors] = (),
        film_factors: Sequence[float] = (),
    ) -> None:
        self.model = model
        self.electrodes = electrodes
        self.releases = tuple(releases)
        #: liquid that each node owns, (B, N)
        self.volume_m3 = np.array([grid.volume_m3 for grid in grids])
        self.flow = FlowModel(grids, model)
        factors = exchange_factors or [{}] * len(grids)
        thicker = film_factors or [1.0] * len(grids)
        self.kinetics = Kinetics(electrodes, len(model.carried), factors, temperature_K)
        area_m2 = np.array([grid.area_m2 for grid in grids])
        self.face_model = FaceModel(model, electrodes, self.kinetics, releases, area_m2)
        self.border = Border(
            (self.volume_m3.shape[1], len(model.solved)),
            area_m2,
            grids[0].film_m,
            self.face_model.bubbles,
            direction=direction,
            lamps=lamps,
            temperature_K=temperature_K,
            film_factors=thicker,
        )
        self.convection = FreeConvection(grids, model.system, thicker)
        #: the liquid's half at each electrode, where its bubbles rise, as shares of it, (B, 2, N)
        self._halves = np.array([_halves(grid) for grid in grids])
        self._settling_m3_s = settling_per_s(grids)[:, None] * self.volume_m3
        self._solid_parts = np.array([model.solved_parts(name) for name in model.solids])
        self._solid_parts = self._solid_parts.reshape(-1, len(model.solved))
        self._never_negative = ~model.solved_may_be_negative()[:, None, None]
        #: ln K at the nodes, lagged a step, (constants, B, N)
        self.constants = np.zeros((model.constant_count, *self.volume_m3.shape))
        self._allocate()

    def set_constants(self, constants: Array, members: Places | slice) -> None:
        """Take constants of the equilibria at the nodes of some cells over, (constants, cells, N)."""
        self.constants[:, members] = constants

    def let_films_flow(
        self, system_mol_m3: Array, members: Places | slice, part: float = 1.0
    ) -> None:
        """Take over (part of) the composition of some cells whose weight moves the films, (S, cells, N)."""
        if self.convection.flows:
            mixing_m2_s, still_m = self.convection.follow(system_mol_m3, members, part)
            self.flow.set_convection(mixing_m2_s, members)
            self.border.still_m[members] = still_m

    def let_bubbles_rise(self, system_mol_m3: Array, members: Places | slice) -> None:
        """Take over the composition of some cells that bubbles rise through, (S, cells, N)."""
        if not self.releases:
            return
        rows = [self.model.species.index(release.species) for release in self.releases]
        flat = self.model.lumping[rows] @ system_mol_m3.reshape(len(system_mol_m3), -1)
        dissolved = flat.reshape(-1, *system_mol_m3.shape[1:]).transpose(1, 2, 0)
        self.face_model.bubbling.rise_through(self._halves[members] @ dissolved, members)

    def _allocate(self) -> None:
        cells, nodes = self.volume_m3.shape
        m = len(self.model.solved)
        self._solver = BlockTridiagonal(cells, nodes, m, columns=1 + BORDER)
        self._storage = np.eye(m)[:, :, None, None] * self.volume_m3

    def keep(self, members: Places) -> None:
        """Keep only these cells."""
        self.volume_m3 = self.volume_m3[members]
        self._settling_m3_s = self._settling_m3_s[members]
        self._halves = self._halves[members]
        self.constants = self.constants[:, members]
        for part in (self.flow, self.convection, self.kinetics, self.face_model, self.border):
            part.keep(members)
        self._allocate()

    def _faces(self, now: Unknowns, speciated: SpeciesProfile) -> Faces:
        current_A = np.exp(now.ln_current) if self.border.direction else None
        return self.face_model.at(speciated, now.potential_V, current_A)

    def extents_mol_s(self, now: Unknowns, speciated: SpeciesProfile) -> Array:
        """Return the rate of every reaction at electrode 0 and 1, (B, 2, R), mol/s."""
        faces = self._faces(now, speciated)
        return self.face_model.extents_mol_s(faces, np.exp(now.ln_current))

    def improve(
        self,
        now: Unknowns,
        speciated: SpeciesProfile,
        step: Step,
        reach: Array = LIMITS,
        part: Array | None = None,
    ) -> NewtonStep:
        """Improve the unknowns at the end of a step by one Newton iteration.

        ``reach`` is the most that each of the bordering unknowns may change by, (B, 5) or (5,), and
        ``part`` how much of all changes is taken, (B,): all of them, if it is left out.
        """
        system = self.linearise(now, speciated, step)
        flows, faces = system.flows, system.faces
        cells, m = len(now.u), len(now.totals)
        solution = self._solver.solve().reshape(cells, -1, 1 + BORDER)
        gradient = system.border_by_totals.reshape(cells, BORDER, -1)
        border_response = gradient @ solution
        wanted = solve_each(
            system.border - border_response[:, :, 1:],
            border_response[:, :, :1] - system.border_miss[:, :, None],
        )[:, :, 0]
        taken = np.minimum(np.maximum(wanted, -reach), reach)
        if faces.rates is not None:
            sigma = self.kinetics.sigma
            back_V = -MAX_WAY_BACK * faces.rates.to_equilibrium_V
            taken[:, :2] = sigma * np.maximum(sigma * taken[:, :2], back_V)
        change = -solution[:, :, 0] - (solution[:, :, 1:] @ taken[:, :, None])[:, :, 0]
        change = change.reshape(cells, -1, m).transpose(2, 0, 1)
        if part is not None and not (part == 1.0).all():
            change, taken = change * part[:, None], taken * part[:, None]
        new, cut, below = self._not_too_low(now.totals, now.totals + change)
        clipped = cut | (taken != wanted).any(axis=1)
        if cut.any():
            change = new - now.totals
        ln_step = taken[:, 2]
        u = now.u + flows.u_change + flows.u_by_ln_current * ln_step[:, None]
        u += (flows.u_by_mixing * (REFERENCE_DIFFUSION_M2_S * taken[:, 3:].T[:, :, None])).sum(0)
        u += (flows.u_by_before * change[..., :-1] + flows.u_by_after * change[..., 1:]).sum(0)
        at_faces = at_ends(change)
        released = faces.released + (faces.released_by_totals @ at_faces[..., None])[..., 0]
        released += faces.released_by_E * taken[:, :2, None]
        released += faces.released_by_ln * ln_step[:, None, None]
        stirred = np.abs(taken[:, 3:]) / (1 + np.abs(now.mixing))
        return NewtonStep(
            unknowns=Unknowns(
                new,
                u,
                now.potential_V + taken[:, :2],
                now.ln_current + ln_step,
                now.mixing + taken[:, 3:],
            ),
            change=change,
            extent_mol_s=self.face_model.extents_mol_s(
                faces, np.exp(now.ln_current), at_faces, taken[:, :2], ln_step
            ),
            released_mol_s=released,
            settled_mol_s=self._settling_mol_s(speciated, change),
            below=below,
            border_change=np.maximum(np.abs(taken[:, :3]).max(axis=1), stirred.max(axis=1)),
            clipped=clipped,
        )

    def _settling_mol_s(self, speciated: SpeciesProfile, change: Array) -> Array:
        """Return how much of every solid settles in a second after a change of the totals, (B, solids)."""
        after = speciated.precipitate_mol_m3 + (
            speciated.carried_slope[speciated.species :] * change
        ).sum(axis=1)
        return np.asarray((after * self._settling_m3_s).sum(axis=2).T)

    def _settle(self, speciated: SpeciesProfile, residual: Array, diagonal: Array) -> None:
        """Add to the nodes' equations what settles out of them."""
        if not len(self._solid_parts):
            return
        K, places = len(self._solid_parts), residual.shape[1:]
        parts = self._solid_parts.T
        settled = speciated.precipitate_mol_m3 * self._settling_m3_s
        residual += (parts @ settled.reshape(K, -1)).reshape(-1, *places)
        by_totals = speciated.carried_slope[speciated.species :] * self._settling_m3_s
        diagonal += (parts @ by_totals.reshape(K, -1)).reshape(diagonal.shape)

    def _not_too_low(self, old: Array, new: Array) -> tuple[Array, Flags, Array]:
        """Let no concentration fall below a fraction of itself in one iteration.

        The total that is not solved for is held up through the acid excess, which may have any sign.
        Returns, besides, how far anything is below zero.
        """
        row = self.model.expansion[self.model.eliminated_row]
        before = (row @ old.reshape(len(old), -1)).reshape(old.shape[1:])
        # what is not solved for is a small difference where little is left: rounding is not cut
        rounding = MIN_MOL_M3 + ROUNDING * np.abs(before).max(axis=1, keepdims=True)
        least = np.minimum(MIN_REMAINING_FRACTION * old, old) - rounding
        too_low = (new < least) & self._never_negative
        cut: Flags = np.asarray(too_low.any(axis=(0, 2)))
        if cut.any():
            new = np.where(too_low, least, new)
        after = (row @ new.reshape(len(new), -1)).reshape(before.shape)
        floor = np.minimum(MIN_REMAINING_FRACTION * before, before) - rounding
        lacks = after < floor
        if lacks.any():
            cut = cut | lacks.any(axis=1)
            part = np.where(lacks, (before - floor) / np.where(lacks, before - after, 1.0), 1.0)
            new = old + part * (new - old)
        lowest = np.minimum(after.min(axis=1), np.where(self._never_negative, new, 0.0).min((0, 2)))
        return new, cut, -lowest

    def below(self, totals: Array) -> Array:
        """Return how far the lowest of all totals is below zero, mol/m3, (B,)."""
        row = self.model.expansion[self.model.eliminated_row]
        gone = (row @ totals.reshape(len(totals), -1)).reshape(totals.shape[1:])
        solved = np.where(self._never_negative, totals, 0.0).min(axis=(0, 2))
        return np.asarray(np.maximum(-np.minimum(gone.min(axis=1), solved), 0.0))

    def linearise(self, now: Unknowns, speciated: SpeciesProfile, step: Step) -> Linearisation:
        """Return the equations of a step linearised at the present unknowns."""
        flows = self.flow.flows(
            speciated,
            now.u,
            self.border.current_mol_s(now.ln_current),
            REFERENCE_DIFFUSION_M2_S * np.maximum(now.mixing, 0.0),
        )
        faces = self._faces(now, speciated)
        solver = self._solver
        leading = step.leading[:, None]
        residual = self.volume_m3 * (leading * now.totals + step.totals)
        residual[..., :-1] += flows.totals
        residual[..., 1:] -= flows.totals
        diagonal = self._storage * leading
        diagonal[..., :-1] += flows.by_before
        diagonal[..., 1:] -= flows.by_after
        self._settle(speciated, residual, diagonal)
        by_border = solver.right[..., 1:]
        by_border[:, 0] = by_border[:, -1] = 0.0
        by_ln_current = flows.by_ln_current.transpose(1, 2, 0)
        by_border[:, 1:, :, 2] = -by_ln_current
        by_border[:, :-1, :, 2] += by_ln_current
        by_mixing = REFERENCE_DIFFUSION_M2_S * flows.by_mixing.transpose(2, 3, 1, 0)
        by_border[:, 1:, :, 3:] = -by_mixing
        by_border[:, :-1, :, 3:] += by_mixing
        for side, node in enumerate((0, -1)):
            residual[..., node] -= faces.source[:, side].T
            diagonal[..., node] -= faces.source_by_totals[:, side].transpose(1, 2, 0)
            by_border[:, node, :, side] = -faces.source_by_E[:, side]
            by_border[:, node, :, 2] -= faces.source_by_ln[:, side]
        residual = residual.transpose(1, 2, 0)
        solver.right[..., 0] = residual
        solver.lower[:, 1:] = -flows.by_before.transpose(2, 3, 0, 1)
        solver.diagonal[...] = diagonal.transpose(2, 3, 0, 1)
        solver.upper[:, :-1] = flows.by_after.transpose(2, 3, 0, 1)
        border, gradient, miss = self.border.equations(now, flows, faces, step)
        return Linearisation(
            flows=flows,
            faces=faces,
            residual=residual,
            lower=solver.lower,
            diagonal=solver.diagonal,
            upper=solver.upper,
            by_border=by_border,
            border=border,
            border_by_totals=gradient,
            border_miss=miss,
        )


def _halves(grid: Geometry) -> Array:
    """Return the share that each node has in the half of the liquid at electrode 0 and 1, (2, N)."""
    at_0 = grid.position_m < 0.5 * grid.position_m[-1]
    volume_m3 = np.array([at_0, ~at_0]) * grid.volume_m3
    return np.asarray(volume_m3 / volume_m3.sum(axis=1, keepdims=True))
