"""What forms at both electrodes of a cell or a melt, or in two cells that carry the same current."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from fizzplate.questions.calculations.products import PRODUCTS
from fizzplate.questions.tables import edition_rows

if TYPE_CHECKING:
    from fizzplate.questions.calculations.quantities import Product


@dataclass(frozen=True, slots=True)
class Pair:
    """A cell with its products at the cathode and at the anode, and how links write it."""

    situation: str
    cathode: Product
    anode: Product
    watch: str = ""


def pairs(kind: str, edition: int) -> tuple[Pair, ...]:
    """Return cells that an edition draws from: a "metal" forms, "water" or a "chloride" is split.

    Examples
    --------
    >>> [pair.anode.name for pair in pairs("chloride", 1)]
    ['chlorine', 'chlorine']
    """
    return tuple(
        Pair(
            row.text("text"),
            row.one_of("cathode", PRODUCTS),
            row.one_of("anode", PRODUCTS),
            row["watch"],
        )
        for row in edition_rows("calculation_cells", edition, kind=kind)
    )


def cells_in_series(edition: int) -> tuple[tuple[str, Product], ...]:
    """Return liquids with what their cathodes gain, for cells one after the other.

    Examples
    --------
    >>> cells_in_series(1)[0][0]
    'copper(II) sulfate solution'
    """
    return tuple(
        (row.text("liquid"), row.one_of("product", PRODUCTS))
        for row in edition_rows("calculation_series", edition)
    )


@dataclass(frozen=True, slots=True)
class Melt:
    """A melt with the metal and the other element that it is split into.

    Parameters
    ----------
    begins
        The sentence that opens a question.
    metal, other
        What forms at the cathode and at the anode.
    place
        "works", "laboratory" or "school": where it is electrolysed.
    """

    begins: str
    metal: Product
    other: Product
    place: str


PLACES = {place: place for place in ("works", "laboratory", "school")}


def melts(edition: int) -> tuple[Melt, ...]:
    """Return the melts that an edition draws from.

    Examples
    --------
    >>> melts(1)[0].metal.name, melts(1)[0].place
    ('sodium', 'works')
    """
    return tuple(
        Melt(
            row.text("text"),
            row.one_of("metal", PRODUCTS),
            row.one_of("other", PRODUCTS),
            row.one_of("place", PLACES),
        )
        for row in edition_rows("calculation_melts", edition)
    )
