"""What a current is to make, where charge is lost and which layers are plated.

Percentages and layers are common practice of the trade, or rounded for school; densities are from memory,
stand in the question, and are compared with another library's in the tests.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from fizzplate.questions.calculations.contexts import YES_NO, Scene, times_of
from fizzplate.questions.calculations.products import CURRENTS_A, PRODUCTS
from fizzplate.questions.tables import edition_rows

if TYPE_CHECKING:
    from fizzplate.questions.calculations.products import Times
    from fizzplate.questions.calculations.quantities import Product

Sizes = tuple[tuple[float, str], ...]

THICKNESSES: dict[str, Sizes] = {
    "micrometres": tuple((t, "µm") for t in (5, 8, 10, 12, 15, 20, 25)),
    "millimetres": tuple((t, "mm") for t in (0.005, 0.01, 0.015, 0.02, 0.025, 0.03)),
}
AREAS: dict[str, Sizes] = {
    "small": tuple((a, "cm²") for a in (24, 30, 45, 60, 80, 120)),
    "wide": tuple((a, "m²") for a in (0.05, 0.08, 0.12, 0.15, 0.25, 0.4)),
}


@dataclass(frozen=True, slots=True)
class Target:
    """Something that is wanted, with amounts, currents and times that suit it."""

    situation: str
    product: tuple[Product, ...]
    amounts: tuple[float, ...]
    unit: str
    currents_A: tuple[float, ...]
    times: Times
    watch: str = ""
    beside: bool = False


def targets(edition: int) -> tuple[Target, ...]:
    """Return what a current is to make, for an edition.

    Examples
    --------
    >>> targets(1)[0].product[0].name, targets(1)[0].amounts[:3]
    ('copper', (60.0, 80.0, 90.0))
    """
    return tuple(
        Target(
            row.text("text"),
            row.some_of("product", PRODUCTS),
            row.numbers("amounts"),
            row.text("unit"),
            row.one_of("currents", CURRENTS_A),
            times_of(row),
            row["watch"],
            row.one_of("side_reaction", YES_NO),
        )
        for row in edition_rows("calculation_targets", edition)
    )


@dataclass(frozen=True, slots=True)
class Loss:
    """A bath or a melt that loses part of its charge, with the percentages that are usual there."""

    scene: Scene
    percentages: tuple[float, ...]


def losses(edition: int) -> tuple[Loss, ...]:
    """Return where charge is lost, for an edition.

    Examples
    --------
    >>> losses(1)[0].percentages
    (90.0, 92.0, 94.0, 95.0, 96.0)
    """
    return tuple(
        Loss(
            Scene(
                row.text("text"),
                row.some_of("product", PRODUCTS),
                row.one_of("currents", CURRENTS_A),
                times_of(row),
                row.text("unit"),
            ),
            row.numbers("percentages"),
        )
        for row in edition_rows("calculation_losses", edition)
    )


@dataclass(frozen=True, slots=True)
class Layer:
    """Something that is plated, with thicknesses and areas that suit it."""

    situation: str
    product: Product
    density_g_cm3: float
    thicknesses: Sizes
    areas: Sizes
    currents_A: tuple[float, ...]


def layers(edition: int) -> tuple[Layer, ...]:
    """Return what is plated, for an edition.

    Examples
    --------
    >>> layers(1)[0].product.name, layers(1)[0].areas[0]
    ('silver', (24, 'cm²'))
    """
    return tuple(
        Layer(
            row.text("text"),
            row.one_of("product", PRODUCTS),
            row.numbers("density_g_cm3")[0],
            row.one_of("thicknesses", THICKNESSES),
            row.one_of("areas", AREAS),
            row.one_of("currents", CURRENTS_A),
        )
        for row in edition_rows("calculation_layers", edition)
    )
