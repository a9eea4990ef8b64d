"""The amounts for a lesson: what to weigh or measure for each solution, and in which order."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.lesson.prepare import amounts_for, caution_text, mixing_instructions, quantity_text
from fizzplate.views.web import render
from fizzplate.words import InputError, page_quantity, page_refusal

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from markupsafe import Markup

    from fizzplate.lesson import CellSetup, Wording
    from fizzplate.lesson.prepare import ClassNeeds, Cupboard

HEADS = ("Solution", "Make", "Take", "Mix in this order", "Caution")


def amounts_table(
    setups: Iterable[CellSetup],
    needs: ClassNeeds,
    cupboards: Mapping[str, Cupboard],
    wording: Wording,
) -> Markup:
    """Write a row for each solution.

    Raises
    ------
    InputError
        If the numbers of the lesson cannot be used; a solution that cannot be made has its reason in its row.
    """
    rows = [_row(setup, needs, cupboards, wording) for setup in setups]
    return render("pages/templates/amounts.html.j2", heads=HEADS, rows=rows)


def _row(
    setup: CellSetup, needs: ClassNeeds, cupboards: Mapping[str, Cupboard], wording: Wording
) -> list[str]:
    try:
        made = amounts_for(setup, needs, dict(cupboards))
    except InputError as refusal:
        return [setup.label_in(wording), "not made", "", "", page_refusal(refusal)]
    if not made:
        return [setup.label_in(wording), "use it as it is", "", "", ""]
    volume = page_quantity(made[0].make_cm3, "cm3")
    return [
        setup.label_in(wording),
        volume,
        "; ".join(map(quantity_text, made)),
        mixing_instructions(made),
        caution_text(made),
    ]
