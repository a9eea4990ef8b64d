"""The cautions that belong to a cell, from the table, each deferring to the school's own rules."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.chemistry import non_electrolytes
from fizzplate.lesson.rule import classroom_rule

if TYPE_CHECKING:
    from fizzplate.cell import Cell, Run

ALKALI_PH = 8.5  # at the cathode at the end: from here its liquid counts as alkali (a choice)
DEFER = "Your school's own risk assessment, local rules and a qualified person decide; this page does not."
#: what is said while a class is asked: nothing in it tells what will form
GENERAL = (
    "Gases may form that burn or irritate, and the solution may harm skin and eyes: wear eye protection, "
    "air the room and keep flames away. Your school's own risk assessment decides."
)


def _circumstances(cell: Cell, run: Run | None) -> set[str]:
    """Return what the table's column ``when`` can ask for.

    The rule's products are warned of even where the run makes little of them: a bench may differ.
    """
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
    if run is not None:
        products.update(
            record.products[0] for record in (run.cathode, run.anode) if record.products
        )
        known.update(f"product {product}" for product in products)
    alkaline = (
        "H2" in products and "H+" not in cell.ions_mol_dm3
        if run is None
        else float(run.cathode.pH[-1]) > ALKALI_PH
    )
    if alkaline:
        known.add("forms alkali")
        if "Cl2" in products:
            known.add("alkali and chlorine")
    return known


def cautions(cell: Cell, run: Run | None = None) -> tuple[str, ...]:
    """Return the cautions of a cell as sentences; the last defers to the school's own rules.

    Parameters
    ----------
    cell
        What is on the bench.
    run
        What happened, if it has run: alkali is then warned of where the run makes it.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> cautions(Cell("NaCl"))[0].startswith("Chlorine irritates")
    True
    """
    known = _circumstances(cell, run)
    return (*(row.text for row in data.rows("cautions") if row["when"] in known), DEFER)


def caution_of(product: str) -> str:
    """Return the caution that stands beside a product, or an empty text."""
    for row in data.rows("cautions"):
        if row["when"] == f"product {product}":
            return f"{row.text} Follow your school's risk assessment."
    return ""
