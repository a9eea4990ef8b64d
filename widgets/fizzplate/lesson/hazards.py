"""The cautions that belong to a cell, from the table, each deferring to the school's own rules."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.chemistry import non_electrolytes
from fizzplate.lesson.rule import classroom_rule

if TYPE_CHECKING:
    from fizzplate.cell import Cell

DEFER = "Your school's own risk assessment, local rules and a qualified person decide; this page does not."


def _circumstances(cell: Cell) -> set[str]:
    """Return what the table's column ``when`` can ask for."""
    if cell.solution_formulae[0] in non_electrolytes():
        return {"always"}
    rule = classroom_rule(
        cell.ions_mol_dm3, anode=cell.anode, cathode=cell.cathode, molten=cell.melt is not None
    )
    products = {rule.cathode.product, rule.anode.product}
    known = {"always"}
    known.update(f"product {product}" for product in products)
    known.update(f"ion {ion}" for ion in cell.ions_mol_dm3)
    known.update(f"salt {formula}" for formula in cell.solution_formulae)
    if "H2" in products and "H+" not in cell.ions_mol_dm3:
        known.add("forms alkali")
        if "Cl2" in products:
            known.add("alkali and chlorine")
    return known


def cautions(cell: Cell) -> tuple[str, ...]:
    """Return the cautions of a cell as sentences; the last defers to the school's own rules.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> cautions(Cell("NaCl"))[0].startswith("Chlorine irritates")
    True
    """
    known = _circumstances(cell)
    return (*(row.text for row in data.rows("cautions") if row["when"] in known), DEFER)


def caution_of(product: str) -> str:
    """Return the caution that stands beside a product, or an empty text."""
    for row in data.rows("cautions"):
        if row["when"] == f"product {product}":
            return f"{row.text} Follow your school's risk assessment."
    return ""
