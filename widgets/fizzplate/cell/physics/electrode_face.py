"""What enters and leaves the liquid at both electrode faces: products of the current, and gas."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data
from fizzplate.cell.physics.mixing import BUBBLES
from fizzplate.chemistry import FARADAY_C_MOL

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.cell.physics.butler_volmer import FaceRates, Kinetics
    from fizzplate.cell.physics.electrode_reactions import Electrode, Reaction
    from fizzplate.cell.physics.speciation import Speciation
    from fizzplate.cell.physics.species import SpeciesProfile

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    Places = np.ndarray[tuple[int, ...], np.dtype[np.int_]]

RELEASE_WIDTH_MOL_M3 = 0.2  # rounds the corner where a dissolved gas starts to leave


@dataclass(frozen=True, slots=True)
class Release:
    """A dissolved gas that leaves at the faces once it is above saturation."""

    species: str
    saturation_mol_m3: float


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
    released, released_by_totals
        Gas that leaves, mol/s, (B, 2, releases) and (B, 2, releases, M).
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
        self._per_electron = np.zeros((2, most, len(model.solved)))
        for side, electrode in enumerate(electrodes):
            for k, reaction in enumerate(electrode.reactions):
                self.electrons[side, k] = reaction.electrons
                self.bubbles[side, k] = reaction.product in BUBBLES
                self._per_electron[side, k] = self._made_per_electron(reaction)
        coefficient = data.find("model", quantity="release coefficient").value
        self._area_m2 = area_m2
        self._release_m3_s = coefficient * area_m2[:, None, None]
        self._saturation = np.array([release.saturation_mol_m3 for release in releases])
        self._release_row = [model.species.index(release.species) for release in releases]
        self._release_parts = np.array(
            [model.solved_parts(release.species) for release in releases]
        ).reshape(len(releases), len(model.solved))

    def keep(self, members: Places) -> None:
        """Keep only these cells."""
        self._area_m2 = self._area_m2[members]
        self._release_m3_s = self._release_m3_s[members]

    def _made_per_electron(self, reaction: Reaction) -> Array:
        change = np.zeros(len(self._model.solved))
        for side, sign in ((reaction.formed, 1.0), (reaction.consumed, -1.0)):
            for species, count in side.items():
                if species in self._model.species:
                    change += sign * count * self._model.solved_parts(species)
        return np.asarray(change / reaction.electrons)

    def at(self, speciated: SpeciesProfile, potential_V: Array, current_A: Array | None) -> Faces:
        """Return the faces in liquids, at electrode potentials (B, 2) and currents (B,), if any flow."""
        last = speciated.carried_mol_m3.shape[-1] - 1
        species = at_ends(speciated.concentration_mol_m3)
        by_totals = speciated.slope[..., ::last].transpose(2, 3, 0, 1)
        released, by_c = self._leaving(species[..., self._release_row])
        released_by = by_c[..., None] * by_totals[:, :, self._release_row]
        source = -(released @ self._release_parts)
        source_by_totals = -(self._release_parts.T @ released_by)
        if current_A is None:
            none = np.zeros_like(source)
            empty = np.zeros((*source.shape[:2], self.electrons.shape[1], source.shape[2]))
            return Faces(
                source, source_by_totals, none, none, None, empty, none, released, released_by
            )
        ln_density = np.log(current_A / self._area_m2)[:, None]
        rates = self._kinetics.rates(potential_V, species, ln_density)
        per_second = (current_A / FARADAY_C_MOL)[:, None, None]
        share_by_totals = rates.share_by_c @ by_totals
        made = per_second * (rates.share[:, :, None] @ self._per_electron)[:, :, 0]
        made_by_E = (rates.share_by_E[:, :, None] @ self._per_electron)[:, :, 0]
        made_by_totals = self._per_electron.transpose(0, 2, 1) @ share_by_totals
        return Faces(
            source=source + made,
            source_by_totals=source_by_totals + per_second[..., None] * made_by_totals,
            source_by_E=per_second * made_by_E,
            source_by_ln=made,
            rates=rates,
            share_by_totals=share_by_totals,
            miss_by_totals=(rates.miss_by_c[:, :, None] @ by_totals)[:, :, 0],
            released=released,
            released_by_totals=released_by,
        )

    def _leaving(self, c: Array) -> tuple[Array, Array]:
        """Return mol/s of each gas that leaves, (B, 2, releases), and its derivative by concentration."""
        over = c - self._saturation
        root = np.hypot(over, RELEASE_WIDTH_MOL_M3)
        rounded, by_c = 0.5 * (over + root), 0.5 * (1 + over / root)
        # the factor c / saturation lets nothing leave where there is nothing
        scale = self._release_m3_s / self._saturation
        return scale * c * rounded, scale * (rounded + c * by_c)

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
