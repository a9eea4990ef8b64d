"""Where a calculation may happen: a class's practical, a plating bath, a works."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from fizzplate.questions.calculations.products import CURRENTS_A, PRODUCTS, TIMES
from fizzplate.questions.tables import edition_rows

if TYPE_CHECKING:
    from fizzplate.data import Line
    from fizzplate.questions.calculations.products import Times
    from fizzplate.questions.calculations.quantities import Product

YES_NO = {"yes": True, "no": False}


@dataclass(frozen=True, slots=True)
class Scene:
    """A situation with the quantities that suit it.

    Parameters
    ----------
    situation
        What happens, with {passes} for the current and its time.
    product
        What may be asked about.
    currents_A, times
        To draw from.
    unit
        Of the mass or the volume.
    watch
        A cell that shows it, as links write it.
    question
        Which phrase asks, where it is not the usual one.
    beside
        Whether something else would form at the cathode too, so that a question has to leave it out.
    """

    situation: str
    product: tuple[Product, ...]
    currents_A: tuple[float, ...]
    times: Times
    unit: str
    watch: str = ""
    question: str = ""
    beside: bool = False


def scenes(kind: str, edition: int) -> tuple[Scene, ...]:
    """Return situations that an edition draws from: of a "deposit", a "gas" or a "charge" alone.

    Examples
    --------
    >>> scenes("gas", 1)[0].watch
    'H2SO4,cathode=platinum,anode=platinum'
    """
    return tuple(
        Scene(
            row.text("text"),
            row.some_of("product", PRODUCTS),
            row.one_of("currents", CURRENTS_A),
            times_of(row),
            row.text("unit"),
            row["watch"],
            row["question"],
            row.one_of("side_reaction", YES_NO),
        )
        for row in edition_rows("calculation_contexts", edition, kind=kind)
    )


def times_of(row: Line) -> Times:
    """Return the times that a row names."""
    return tuple(time for times in row.some_of("times", TIMES) for time in times)
