"""What a solution of a given strength does to people, and where its waste goes.

From memory and common practice: it defers to the school's own risk assessment, local rules and a
qualified person.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.chemistry.checks import choice, number
from fizzplate.chemistry.salts import solutions

if TYPE_CHECKING:
    from fizzplate.data import Row

CHECK = "check against your own rules and safety data"


def hazard(formula: str, concentration_mol_dm3: float) -> str:
    """Return the hazard of a solution at a strength, in words, with its band and the advice to check it.

    Raises
    ------
    InputError
        If the solution is not offered, or the concentration is negative.

    Examples
    --------
    >>> hazard("CuSO4", 0.5)
    'irritant and damages eyes, 0.2 to 1 mol/dm³ (check against your own rules and safety data)'
    >>> hazard("NaCl", 0.5)
    'low hazard (check against your own rules and safety data)'
    """
    choice("formula", formula, solutions())
    number("concentration_mol_dm3", concentration_mol_dm3, unit="mol/dm3", at_least=0)
    rows = data.rows("hazard_bands")
    own = [row for row in rows if row["substance"] == formula]
    bands = own or [row for row in rows if row["substance"] == "any"]
    reached = [row for row in bands if float(row["from_mol_dm3"]) <= concentration_mol_dm3]
    worst = max(reached, key=lambda row: float(row["from_mol_dm3"]))
    return f"{worst.text}{_band(worst, bands)} ({CHECK})"


def _band(row: Row, rows: list[Row]) -> str:
    """Say between which strengths a row holds; nothing if it holds for all."""
    least = float(row["from_mol_dm3"])
    more = [strength for each in rows if (strength := float(each["from_mol_dm3"])) > least]
    if more:
        return (
            f", {least:g} to {min(more):g} mol/dm³" if least else f", below {min(more):g} mol/dm³"
        )
    return f", from {least:g} mol/dm³" if least else ""


def waste_route(formula: str) -> str:
    """Return what is done with a used solution, by the ions that must not go down the sink.

    Examples
    --------
    >>> waste_route("CuSO4")
    'collect it with other copper waste, none down the sink'
    >>> waste_route("NaCl")
    'down the sink with plenty of water'
    """
    salt = solutions()[choice("formula", formula, solutions())]
    rows = {row["ion"]: row.text for row in data.rows("waste")}
    return next((rows[ion] for ion in salt.ions if ion in rows), rows["any"])
