"""How chlorine leaves the liquid that carries it: bubbles form at a face, and some dissolve as they rise.

Bubbles grow in cracks of the face, where more gas gathers than the film holds on average. They take what is
made beyond what the film carries away while the face is at the nucleation concentration ``c_n``, the share
``1 - c_n / c``. Above saturation all that is too much leaves besides. Of the bubbles below saturation
``exp(-N (1 - c_bulk / c_sat))`` reach the surface; the rest dissolves again where it came from.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data

if TYPE_CHECKING:
    from collections.abc import Sequence

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    Places = np.ndarray[tuple[int, ...], np.dtype[np.int_]]

RELEASE_WIDTH_MOL_M3 = 0.2  # rounds the corner where a dissolved gas starts to leave


@dataclass(frozen=True, slots=True)
class Release:
    """A dissolved gas that leaves at the faces once there is enough of it."""

    species: str
    saturation_mol_m3: float


@dataclass(frozen=True, slots=True)
class Leaving:
    """What leaves at the faces, with its derivatives; R releases, 2 R figures of them.

    Parameters
    ----------
    mol_s
        What leaves the liquid for good, then the bubbles that form, (B, 2, 2 R).
    by_c, by_made
        Derivative of both by the release's concentration at the face, m3/s, and by the rate at which it is
        made there, (B, 2, 2 R).
    """

    mol_s: Array
    by_c: Array
    by_made: Array


class BubbleModel:
    """Releases at both faces of B cells.

    Parameters
    ----------
    releases
        What can leave.
    area_m2
        Wetted surface of each cell's electrodes, (B,).
    """

    def __init__(self, releases: Sequence[Release], area_m2: Array) -> None:
        coefficient, share, self._dissolving = (
            data.find("model", quantity=quantity).value
            for quantity in ("release coefficient", "bubble nucleation", "bubbles dissolving")
        )
        self._release_m3_s = coefficient * area_m2[:, None, None]
        self._saturation = np.array([release.saturation_mol_m3 for release in releases])
        self._nucleation = share * self._saturation
        #: of the bubbles, (B, 2, R)
        self._reach_surface = np.ones((len(area_m2), 2, len(releases)))

    def keep(self, members: Places) -> None:
        """Keep only these cells."""
        self._release_m3_s = self._release_m3_s[members]
        self._reach_surface = self._reach_surface[members]

    def rise_through(self, bulk_mol_m3: Array, members: Places | slice) -> None:
        """Take over what is dissolved where the bubbles of some cells rise, (cells, 2, R)."""
        lacks = np.maximum(1 - bulk_mol_m3 / self._saturation, 0.0)
        self._reach_surface[members] = np.exp(-self._dissolving * lacks)

    def at(self, c: Array, made_mol_s: Array) -> Leaving:
        """Return what leaves at concentrations and rates of making at the faces, (B, 2, R) each."""
        rounded, by_c = _rounded(c - self._saturation)
        # the factor c / saturation lets nothing leave where there is nothing
        scale = self._release_m3_s / self._saturation
        above, above_by_c = scale * c * rounded, scale * (rounded + c * by_c)
        over, over_by_c = _rounded(c - self._nucleation)
        share = over / (over + self._nucleation)
        share_by_c = self._nucleation * over_by_c / (over + self._nucleation) ** 2
        left = above + self._reach_surface * made_mol_s * share
        left_by_c = above_by_c + self._reach_surface * made_mol_s * share_by_c
        left_by_made = self._reach_surface * share
        # bubbles that dissolve where too much leaves already come up again: they count once
        anew = made_mol_s * share > left
        return Leaving(
            mol_s=np.concatenate([left, np.where(anew, made_mol_s * share, left)], axis=2),
            by_c=np.concatenate(
                [left_by_c, np.where(anew, made_mol_s * share_by_c, left_by_c)], axis=2
            ),
            by_made=np.concatenate([left_by_made, np.where(anew, share, left_by_made)], axis=2),
        )


def _rounded(over: Array) -> tuple[Array, Array]:
    """Return ``over`` where it is above zero and next to nothing below, and its slope."""
    root = np.hypot(over, RELEASE_WIDTH_MOL_M3)
    return 0.5 * (over + root), 0.5 * (1 + over / root)
