"""What enters and leaves the liquid at one electrode face: products of the current, and gas."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data
from fizzplate.cell.stirring import BUBBLES
from fizzplate.chemistry.constants import FARADAY_C_MOL

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.cell.kinetics import Electrode, FaceRates, Reaction
    from fizzplate.cell.speciation import Speciated, Speciation

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

RELEASE_WIDTH_MOL_M3 = 0.2  # rounds the corner where a dissolved gas starts to leave


@dataclass(frozen=True, slots=True)
class Release:
    """A dissolved gas that leaves at the faces once it is above saturation."""

    species: str
    saturation_mol_m3: float


@dataclass(frozen=True, slots=True)
class Face:
    """Everything that enters or leaves at one electrode face, with its derivatives."""

    node: int
    source: Array  #: solved totals, (M,), mol/s
    source_by_totals: Array  #: (M, M)
    source_by_E: Array  #: (M,)
    source_by_ln: Array  #: by the logarithm of the current, (M,)
    rates: FaceRates | None  #: None while no current flows
    share_by_totals: Array  #: (reactions, M)
    sum_by_totals: Array  #: of the logarithm of the summed current densities, (M,)
    released: Array  #: (releases,), mol/s
    released_by_totals: Array  #: (releases, M)


class FaceModel:
    """One electrode's face in the liquid's equations.

    Parameters
    ----------
    node
        0 or -1: the node on the face.
    model, electrode
        Speciation and reactions.
    releases
        Dissolved gases that leave when above saturation.
    area_m2
        Wetted surface.
    """

    def __init__(
        self,
        node: int,
        model: Speciation,
        electrode: Electrode,
        releases: Sequence[Release],
        area_m2: float,
    ) -> None:
        self.electrons = np.array([float(r.electrons) for r in electrode.reactions])
        #: 1 for every reaction whose bubbles stir
        self.bubbles = np.array([float(r.product in BUBBLES) for r in electrode.reactions])
        self._node = node
        self._model = model
        self._electrode = electrode
        self._releases = tuple(releases)
        self._release_m3_s = data.find("model", quantity="release coefficient").value * area_m2
        self._per_electron = np.array([self._made_per_electron(r) for r in electrode.reactions])
        self._release_row = [model.species.index(release.species) for release in releases]
        self._release_parts = np.array(
            [model.solved_parts(release.species) for release in releases]
        ).reshape(len(releases), len(model.solved))

    def _made_per_electron(self, reaction: Reaction) -> Array:
        change = np.zeros(len(self._model.solved))
        for side, sign in ((reaction.formed, 1.0), (reaction.consumed, -1.0)):
            for species, count in side.items():
                if species in self._model.species:
                    change += sign * count * self._model.solved_parts(species)
        return np.asarray(change / reaction.electrons)

    def at(self, speciated: Speciated, potential_V: float, current_A: float) -> Face:
        """Return the face in a liquid, at an electrode potential and a current (0: switch open)."""
        node, m = self._node, len(self._model.solved)
        species = speciated.concentration_mol_m3[:, node]
        by_totals = speciated.slope[:, :, node]
        released = np.zeros(len(self._releases))
        released_by = np.zeros((len(self._releases), m))
        for k, (release, row) in enumerate(zip(self._releases, self._release_row, strict=True)):
            released[k], by_c = self._leaving(release, float(species[row]))
            released_by[k] = by_c * by_totals[row]
        source = -(released @ self._release_parts)
        source_by_totals = -(self._release_parts.T @ released_by)
        if not current_A:
            none, empty = np.zeros(m), np.zeros((self.electrons.size, m))
            return Face(
                node, source, source_by_totals, none, none, None, empty, none, released, released_by
            )
        rates = self._electrode.rates(potential_V, species)
        per_second = current_A / FARADAY_C_MOL
        share_by_totals = rates.share_by_c @ by_totals
        made = per_second * (rates.share @ self._per_electron)
        return Face(
            node=node,
            source=source + made,
            source_by_totals=source_by_totals
            + per_second * (self._per_electron.T @ share_by_totals),
            source_by_E=per_second * (rates.share_by_E @ self._per_electron),
            source_by_ln=made,
            rates=rates,
            share_by_totals=share_by_totals,
            sum_by_totals=rates.ln_sum_by_c @ by_totals,
            released=released,
            released_by_totals=released_by,
        )

    def _leaving(self, release: Release, c: float) -> tuple[float, float]:
        """Return mol/s of a gas that leaves, and its derivative by concentration."""
        over = c - release.saturation_mol_m3
        root = math.hypot(over, RELEASE_WIDTH_MOL_M3)
        rounded, by_c = 0.5 * (over + root), 0.5 * (1 + over / root)
        # the factor c / saturation lets nothing leave where there is nothing
        scale = self._release_m3_s / release.saturation_mol_m3
        return scale * c * rounded, scale * (rounded + c * by_c)

    def extent_mol_s(
        self,
        face: Face,
        current_A: float,
        *,
        change: Array | None = None,
        potential_step_V: float = 0.0,
        ln_current_step: float = 0.0,
    ) -> Array:
        """Return the rate of every reaction, linearised as the liquid's equations are, mol/s."""
        if face.rates is None:
            return np.zeros(self.electrons.size)
        share = face.rates.share * (1 + ln_current_step) + face.rates.share_by_E * potential_step_V
        if change is not None:
            share = share + face.share_by_totals @ change
        return np.asarray(current_A / FARADAY_C_MOL * share / self.electrons)
