"""What one electrode has made so far: shares of the current, amounts, charges and solids."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.chemistry import FARADAY_C_MOL

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from fizzplate.cell.solver import Segment

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]


@dataclass(frozen=True, slots=True)
class Made:
    """What an electrode makes, by formula, each (samples,).

    Parameters
    ----------
    shares
        Fraction of the current that makes a product.
    amounts_mol, charges_C
        Of each product so far, and the charge that made it.
    solids_mol
        What the electrode has gained of each solid so far; negative: lost.
    """

    shares: Mapping[str, Array]
    amounts_mol: Mapping[str, Array]
    charges_C: Mapping[str, Array]
    solids_mol: Mapping[str, Array]

    @classmethod
    def at(cls, side: int, segments: Sequence[Segment]) -> Made:
        """Return what electrode 0 or 1 makes in a run, from all its segments."""
        each = [_made_in(segment, side) for segment in segments]
        return cls(
            shares=_one_after_another(segments, [made.shares for made in each]),
            amounts_mol=added_up(segments, [made.amounts_mol for made in each]),
            charges_C=added_up(segments, [made.charges_C for made in each]),
            solids_mol=added_up(segments, [made.solids_mol for made in each]),
        )

    def between(self, samples: slice) -> Made:
        """Return the same for some samples on their own: amounts count from the first of them."""
        return Made(
            shares={name: values[samples] for name, values in self.shares.items()},
            amounts_mol=_since_first(self.amounts_mol, samples),
            charges_C=_since_first(self.charges_C, samples),
            solids_mol=_since_first(self.solids_mol, samples),
        )


def _since_first(values: Mapping[str, Array], samples: slice) -> dict[str, Array]:
    return {name: each[samples] - each[samples][:1] for name, each in values.items()}


def _made_in(segment: Segment, side: int) -> Made:
    """Return what an electrode makes in one segment; amounts with one entry more, for its end."""
    shares: dict[str, Array] = {}
    amounts: dict[str, Array] = {}
    charges: dict[str, Array] = {}
    solids: dict[str, Array] = {}
    samples = segment.samples
    for key, so_far in samples.extent_mol.items():
        at, reaction = key
        if at != side:
            continue
        product = reaction.product
        extent = np.append(so_far, samples.passed_mol.get(key, 0.0))
        shares[product] = shares.get(product, 0.0) + samples.share[key]
        amounts[product] = amounts.get(product, 0.0) + reaction.product_count * extent
        passed_C = FARADAY_C_MOL * reaction.electrons * extent
        charges[product] = charges.get(product, 0.0) + passed_C
        for solid, count in reaction.solids.items():
            solids[solid] = solids.get(solid, 0.0) + count * extent
    return Made(shares, amounts, charges, solids)


def _one_after_another(
    segments: Sequence[Segment], values: Sequence[Mapping[str, Array]]
) -> dict[str, Array]:
    """Join what each segment knows by name, (its samples,); what it does not know is zero."""
    names = dict.fromkeys(name for each in values for name in each)
    counts = [segment.samples.time_s.size for segment in segments]
    return {
        name: np.concatenate(
            [each.get(name, np.zeros(count)) for count, each in zip(counts, values, strict=True)]
        )
        for name in names
    }


def added_up(
    segments: Sequence[Segment], values: Sequence[Mapping[str, Array]]
) -> dict[str, Array]:
    """Join by name what each segment adds to: (its samples + 1,), with what it has added at its end."""
    names = dict.fromkeys(name for each in values for name in each)
    joined = {}
    for name in names:
        before, found = 0.0, []
        for segment, each in zip(segments, values, strict=True):
            more = before + each.get(name, np.zeros(segment.samples.time_s.size + 1))
            found.append(more[:-1])
            before = float(more[-1])
        joined[name] = np.concatenate(found)
    return joined
