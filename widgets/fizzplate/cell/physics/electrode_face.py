"""What enters and leaves the liquid at both electrode faces: products of the current, and gas."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell.physics.bubbles import BubbleModel
from fizzplate.cell.physics.mixing import BUBBLES
from fizzplate.chemistry import FARADAY_C_MOL

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.cell.physics.bubbles import Release
    from fizzplate.cell.physics.butler_volmer import FaceRates, Kinetics
    from fizzplate.cell.physics.electrode_reactions import Electrode, Reaction
    from fizzplate.cell.physics.speciation import Speciation
    from fizzplate.cell.physics.species import SpeciesProfile

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    Places = np.ndarray[tuple[int, ...], np.dtype[np.int_]]


@dataclass(frozen=True, slots=True)
class Faces:
    """Everything that enters or leaves at the two faces of B cells, with its derivatives.

    R is the number of reactions of the electrode that has more of them.

    Parameters
    ----------
    source, source_by_totals, source_by_E, source_by_ln
        Solved totals in mol/s, (B, 2, M), and their derivatives by the totals at the face, the
        electrode's potential and the logarithm of the current: (B, 2, M, M), (B, 2, M), (B, 2, M).
    rates
        Of the reactions; None while no current flows.
    share_by_totals
        Derivatives of the shares, (B, 2, R, M).
    miss_by_totals
        Derivative of what the reactions miss of the current, (B, 2, M).
    released
        Gas that leaves, then bubbles that form, mol/s, (B, 2, 2 releases).
    released_by_totals, released_by_E, released_by_ln
        Its derivatives, (B, 2, 2 releases, M), (B, 2, 2 releases), (B, 2, 2 releases).
    """

    source: Array
    source_by_totals: Array
    source_by_E: Array
    source_by_ln: Array
    rates: FaceRates | None
    share_by_totals: Array
    miss_by_totals: Array
    released: Array
    released_by_totals: Array
    released_by_E: Array
    released_by_ln: Array


class FaceModel:
    """Both electrode faces in the liquid's equations.

    Parameters
    ----------
    model, electrodes, kinetics
        Speciation and reactions.
    releases
        Dissolved gases that leave when above saturation.
    area_m2
        Wetted surface of each cell's electrodes, (B,).
    """

    def __init__(
        self,
        model: Speciation,
        electrodes: tuple[Electrode, Electrode],
        kinetics: Kinetics,
        releases: Sequence[Release],
        area_m2: Array,
    ) -> None:
        most = max(len(electrode.reactions) for electrode in electrodes)
        #: of each reaction at each electrode, (2, R)
        self.electrons = np.ones((2, most))
        #: 1 for every reaction whose bubbles stir
        self.bubbles = np.zeros((2, most))
        self._model = model
        self._kinetics = kinetics
        #: what an electron of each reaction makes of the solved totals, then of the releases
        self._per_electron = np.zeros((2, most, len(model.solved) + len(releases)))
        for side, electrode in enumerate(electrodes):
            for k, reaction in enumerate(electrode.reactions):
                self.electrons[side, k] = reaction.electrons
                self.bubbles[side, k] = reaction.product in BUBBLES
                self._per_electron[side, k] = self._made_per_electron(reaction, releases)
        self._area_m2 = area_m2
        self.bubbling = BubbleModel(releases, area_m2)
        self._release_row = np.array(
            [model.species.index(release.species) for release in releases], dtype=np.int_
        )
        self._release_parts = np.array(
            [model.solved_parts(release.species) for release in releases]
        ).reshape(len(releases), len(model.solved))

    def keep(self, members: Places) -> None:
        """Keep only these cells."""
        self._area_m2 = self._area_m2[members]
        self.bubbling.keep(members)

    def _made_per_electron(self, reaction: Reaction, releases: Sequence[Release]) -> Array:
        change = np.zeros(len(self._model.solved))
        for side, sign in ((reaction.formed, 1.0), (reaction.consumed, -1.0)):
            for species, count in side.items():
                if species in self._model.species:
                    change += sign * count * self._model.solved_parts(species)
        made = [float(reaction.formed.get(release.species, 0)) for release in releases]
        return np.concatenate([change, made]) / reaction.electrons

    def at(self, speciated: SpeciesProfile, potential_V: Array, current_A: Array | None) -> Faces:
        """Return the faces in liquids, at electrode potentials (B, 2) and currents (B,), if any flow."""
        last = speciated.carried_mol_m3.shape[-1] - 1
        species = at_ends(speciated.carried_mol_m3)
        by_totals = speciated.carried_slope[..., ::last].transpose(2, 3, 0, 1)
        c = species[..., self._release_row]
        cells, m, releases = len(species), len(self._model.solved), c.shape[-1]
        if current_A is None:
            rates = None
            made, made_by_E = np.zeros((2, cells, 2, m + releases))
            # no longer than the slopes that a liquid without a current comes with
            made_by_totals = np.zeros((cells, 2, m + releases, by_totals.shape[-1]))
            share_by_totals = np.zeros((cells, 2, self.electrons.shape[1], m))
            miss_by_totals = made[..., :m]
        else:
            self.set_activities(speciated)
            ln_density = np.log(current_A / self._area_m2)[:, None]
            rates = self._kinetics.rates(potential_V, species, ln_density)
            per_second = (current_A / FARADAY_C_MOL)[:, None, None]
            share_by_totals = rates.share_by_c @ by_totals
            made = per_second * (rates.share[:, :, None] @ self._per_electron)[:, :, 0]
            made_by_E = per_second * (rates.share_by_E[:, :, None] @ self._per_electron)[:, :, 0]
            made_by_totals = self._per_electron.transpose(0, 2, 1) @ share_by_totals
            made_by_totals *= per_second[..., None]
            miss_by_totals = (rates.miss_by_c[:, :, None] @ by_totals)[:, :, 0]
        if not releases:
            return Faces(
                source=made,
                source_by_totals=made_by_totals,
                source_by_E=made_by_E,
                source_by_ln=made,
                rates=rates,
                share_by_totals=share_by_totals,
                miss_by_totals=miss_by_totals,
                released=c,
                released_by_totals=np.zeros((cells, 2, 0, by_totals.shape[-1])),
                released_by_E=c,
                released_by_ln=c,
            )
        leaving = self.bubbling.at(c, made[..., m:])
        by_made = leaving.by_made
        c_by_totals = by_totals[:, :, self._release_row]
        released_by_totals = leaving.by_c[..., None] * np.concatenate(
            [c_by_totals, c_by_totals], axis=2
        ) + by_made[..., None] * np.concatenate([made_by_totals[:, :, m:]] * 2, axis=2)
        released_by_E = by_made * np.concatenate([made_by_E[..., m:]] * 2, axis=2)
        released_by_ln = by_made * np.concatenate([made[..., m:]] * 2, axis=2)
        lost = self._release_parts
        return Faces(
            source=made[..., :m] - leaving.mol_s[..., :releases] @ lost,
            source_by_totals=made_by_totals[:, :, :m]
            - lost.T @ released_by_totals[:, :, :releases],
            source_by_E=made_by_E[..., :m] - released_by_E[..., :releases] @ lost,
            source_by_ln=made[..., :m] - released_by_ln[..., :releases] @ lost,
            rates=rates,
            share_by_totals=share_by_totals,
            miss_by_totals=miss_by_totals,
            released=leaving.mol_s,
            released_by_totals=released_by_totals,
            released_by_E=released_by_E,
            released_by_ln=released_by_ln,
        )

    def set_activities(self, speciated: SpeciesProfile) -> None:
        """Let the kinetics know how active what is at the faces of the liquids is."""
        faces = at_ends(speciated.system_mol_m3)
        ln_activity = self._model.ln_activities(faces.reshape(-1, faces.shape[-1]).T)
        self._kinetics.set_activities(ln_activity.T.reshape(*faces.shape[:2], -1))

    def extents_mol_s(
        self,
        faces: Faces,
        current_A: Array,
        change: Array | None = None,
        potential_step_V: Array | None = None,
        ln_current_step: Array | None = None,
    ) -> Array:
        """Return the rate of every reaction, linearised as the liquid's equations are, (B, 2, R), mol/s.

        ``change`` is of the totals at both faces, (B, 2, M), ``potential_step_V`` (B, 2),
        ``ln_current_step`` (B,).
        """
        if faces.rates is None:
            return np.zeros((len(faces.source), *self.electrons.shape))
        share = faces.rates.share
        if change is not None and potential_step_V is not None and ln_current_step is not None:
            share = (
                share * (1 + ln_current_step)[:, None, None]
                + faces.rates.share_by_E * potential_step_V[..., None]
                + (faces.share_by_totals @ change[..., None])[..., 0]
            )
        return np.asarray((current_A / FARADAY_C_MOL)[:, None, None] * share / self.electrons)


def at_ends(values: Array) -> Array:
    """Return (species, B, N) values at the first and the last node, (B, 2, species)."""
    return values[..., :: values.shape[-1] - 1].transpose(1, 2, 0)
