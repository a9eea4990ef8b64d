"""What a solution of a given strength does to people, and where its waste goes.

From memory and common practice: it defers to the school's own risk assessment, local rules and a
qualified person.
"""

from __future__ import annotations

from fizzplate import data
from fizzplate.chemistry.checks import choice, number
from fizzplate.chemistry.salts import solutions

CHECK = "check against your own rules"


def hazard(formula: str, concentration_mol_dm3: float) -> str:
    """Return the hazard of a solution at a strength, in words, with the advice to check it.

    Raises
    ------
    InputError
        If the solution is not offered, or the concentration is negative.

    Examples
    --------
    >>> hazard("CuSO4", 0.5)
    'irritant and damages eyes (check against your own rules)'
    >>> hazard("NaCl", 0.5)
    'low hazard (check against your own rules)'
    """
    choice("formula", formula, solutions())
    number("concentration_mol_dm3", concentration_mol_dm3, unit="mol/dm3", at_least=0)
    rows = data.rows("hazard_bands")
    own = [row for row in rows if row["substance"] == formula]
    bands = own or [row for row in rows if row["substance"] == "any"]
    reached = [row for row in bands if float(row["from_mol_dm3"]) <= concentration_mol_dm3]
    worst = max(reached, key=lambda row: float(row["from_mol_dm3"]))
    return f"{worst.text} ({CHECK})"


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
