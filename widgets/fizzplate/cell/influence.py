"""Which uncertain constants decide what a run makes: estimated from the faces of the run itself.

At one electrode all reactions have one potential. If the exchange current density of one of them is
multiplied by ``f``, the potential moves by ``x RT/F`` until the shares ``s`` again add up to one:

    sum(s r / (1 + u (r - 1))) = 1,    r = f exp(alpha x) for that reaction, exp(alpha x) for the others,

where ``u`` says how far supply limits a reaction: the part of its species that is used up at the face (1 at
its limiting current, where no kinetics matter). Reactions that use the same species share that supply, so
``u (r - 1)`` is their mean, weighted with the current of each. The current follows the potential as lamp,
liquid and electrodes let it. A layer ``f`` times as thick supplies ``1 / f`` of what supply limits, and the
other reactions take or leave the difference. The estimate leaves out that the liquid at the face changes
too. It only chooses which runs are worth the time.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data
from fizzplate.cell.physics import CURRENT_EXPONENT
from fizzplate.chemistry import FARADAY_C_MOL, GAS_J_MOL_K

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.cell.part import Part
    from fizzplate.cell.physics import ExchangeRow, Reaction

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    Places = np.ndarray[tuple[int, ...], np.dtype[np.int_]]

INSTANTS = 9  # of a run that are looked at
MIN_INFLUENCE = 0.03  # of the current: less is not worth a run
MOST_CHANGES = 6
HALVINGS = 24  # of the bracket around the new potential
FOUND_MOL_M3 = 1e-12  # stands for nothing in a ratio


@dataclass(frozen=True, slots=True)
class Film:
    """The thickness of the unmixed layers at both electrodes."""

    @property
    def uncertainty_factor(self) -> float:
        """By what the layers may be thicker or thinner."""
        return data.find("model", quantity="film uncertainty factor").value


@dataclass(frozen=True, slots=True)
class Change:
    """One constant multiplied by a factor: an exchange current density, or the films."""

    constant: ExchangeRow | Film
    factor: float


@dataclass(frozen=True, slots=True)
class FaceHistory:
    """An electrode's R reactions at I instants of a run.

    Parameters
    ----------
    reactions
        R of them.
    share, used
        Fraction of the current that each takes, and the part of its species that is used up at the
        face, (I, R).
    """

    reactions: Sequence[Reaction]
    share: Array
    used: Array

    @classmethod
    def of(cls, part: Part, side: int, at: Places) -> FaceHistory:
        """Return the history of electrode 0 or 1 at some of the samples of a part of a run."""
        taking_part = [
            (reaction, share[at])
            for (where, reaction), share in part.segment.samples.share.items()
            if where == side and share.any()
        ]
        reactions = [reaction for reaction, _ in taking_part]
        used = [_used(part, side, reaction, at) for reaction in reactions]
        shape = (at.size, len(reactions))
        return cls(
            reactions,
            np.array([share for _, share in taking_part]).T.reshape(shape),
            np.array(used).T.reshape(shape),
        )

    @property
    def slope(self) -> Array:
        """How the logarithm of the current rises with the potential in units of RT/F, (I,)."""
        alpha = [reaction.transfer_coefficient for reaction in self.reactions]
        return np.asarray((self.share * (1 - self.used)) @ np.array(alpha))

    def with_film(self, factor: float) -> Array:
        """Return the shares with a layer so many times as thick, (I, R)."""
        more = self.share * self.used * (1 / factor - 1)
        free = self.share * (1 - self.used) + FOUND_MOL_M3
        others = free / free.sum(axis=1, keepdims=True)
        return np.asarray(self.share + more - others * more.sum(axis=1, keepdims=True))

    @property
    def part_of_supply(self) -> Array:
        """The part of each reaction j in the current of those that share their supply with k, (I, k, j)."""
        alike = [
            [j is k or bool(j.limited_by.keys() & k.limited_by.keys()) for j in self.reactions]
            for k in self.reactions
        ]
        uses = np.array(alike) * (self.share + FOUND_MOL_M3)[:, None]
        return np.asarray(uses / uses.sum(axis=-1, keepdims=True))

    def after(self, changes: Sequence[tuple[ExchangeRow, float]]) -> tuple[Array, Array]:
        """Return the shares after each of C changes, (C, I, R), and how far the potential moves, (C, I).

        A change is an exchange current density and the factor that multiplies it.
        """
        alpha = np.array([reaction.transfer_coefficient for reaction in self.reactions])
        rows = [reaction.exchange for reaction in self.reactions]
        ln_factor = np.array(
            [
                [math.log(factor) if row.changes_with(changed) else 0.0 for row in rows]
                for changed, factor in changes
            ]
        )[:, None]
        high = np.full((len(changes), len(self.share)), np.abs(ln_factor).max() / alpha.min())
        low = -high
        limiting = self.used[:, :, None] * self.part_of_supply
        for _ in range(HALVINGS):
            moved = 0.5 * (low + high)
            ratio = np.exp(ln_factor + alpha * moved[..., None])
            share = self.share * ratio / (1 + (limiting @ (ratio - 1)[..., None])[..., 0])
            above = share.sum(axis=-1) > 1
            high, low = np.where(above, moved, high), np.where(above, low, moved)
        return share, moved


def influential_changes(parts: Sequence[Part]) -> tuple[Change, ...]:
    """Return the changes of one constant that alter most what a run makes, at most six, largest first."""
    influence: dict[Change, float] = {}
    for part in parts:
        for change, value in _influence(part).items():
            influence[change] = max(influence.get(change, 0.0), value)
    ranked = sorted(influence, key=lambda change: -influence[change])
    return tuple(c for c in ranked[:MOST_CHANGES] if influence[c] > MIN_INFLUENCE)


def _influence(part: Part) -> dict[Change, float]:
    """Return by which part of the current each change alters what a part of a run makes."""
    flowing = np.flatnonzero(part.segment.samples.current_A > 0)
    if not flowing.size:
        return {}
    # at the first instant nothing is used up at a face yet: what matters there is over within a second
    at = flowing[np.linspace(min(1, flowing.size - 1), flowing.size - 1, INSTANTS).astype(np.int_)]
    faces = [FaceHistory.of(part, side, at) for side in (0, 1)]
    ln_current_by_potential = _ln_current_by_potential(part, faces, at)
    film, has_film = Film(), part.segment.model.cell.geometry.film_m > 0
    influence: dict[Change, float] = {}
    for face in faces:
        changes = [
            (row, factor)
            for row in dict.fromkeys(reaction.exchange for reaction in face.reactions)
            for factor in (row.uncertainty_factor, 1 / row.uncertainty_factor)
        ]
        share, moved = face.after(changes)
        grows = np.exp(-moved * ln_current_by_potential)
        products = [reaction.product for reaction in face.reactions]
        of_product = np.array([[p == q for q in products] for p in dict.fromkeys(products)])
        differs = np.abs((share * grows[..., None] - face.share) @ of_product.T).max(axis=(1, 2))
        most = np.maximum(differs, np.abs(grows - 1).max(axis=1))
        found = {
            Change(*change): value for change, value in zip(changes, most.tolist(), strict=True)
        }
        for factor in (film.uncertainty_factor, 1 / film.uncertainty_factor) if has_film else ():
            differs = np.abs((face.with_film(factor) - face.share) @ of_product.T)
            found[Change(film, factor)] = float(differs.max())
        for change, value in found.items():
            influence[change] = max(influence.get(change, 0.0), value)
    return influence


def _used(part: Part, side: int, reaction: Reaction, at: Places) -> Array:
    """Return the part of what a reaction uses that is used up at the face, (I,); 0 to 1."""
    if not reaction.limited_by:
        return np.zeros(at.size)
    model = part.segment.model
    grid = model.cell.geometry
    place = grid.position_m if side == 0 else grid.position_m[-1] - grid.position_m
    middle = place.size // 2
    beyond = int(np.abs(place - grid.film_m).argmin()) if grid.film_m else middle
    carried = {**part.haze_mol_m3, **part.species_mol_m3}
    there = np.sum(
        [
            weight * carried[model.speciation.carried[k]][at]
            for k, weight in reaction.limited_by.items()
        ],
        axis=0,
    )
    return np.asarray(
        np.clip(1 - there[:, -side] / np.maximum(there[:, beyond], FOUND_MOL_M3), 0.0, 1.0)
    )


def _ln_current_by_potential(part: Part, faces: Sequence[FaceHistory], at: Places) -> Array:
    """Return by how much ln I falls as an electrode needs RT/F more, (I,); 0 where the current is held."""
    model, samples = part.segment.model, part.segment.samples
    thermal_V = GAS_J_MOL_K * model.temperature_K / FARADAY_C_MOL
    electrodes = sum(1 / np.maximum(face.slope, 0.01) for face in faces)
    others_V = np.abs(samples.liquid_V[at]) + samples.lamp_V[at] / CURRENT_EXPONENT
    held = samples.current_A[at] > (1 - 1e-6) * model.cell.supply.max_current_A
    return np.where(held, 0.0, 1 / (electrodes + others_V / thermal_V))
