"""What is dissolved in a cell, as its caller names it: one salt or a mixture that stays clear."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING

from fizzplate.chemistry import canonical, melts, non_electrolytes, solutions, species_name
from fizzplate.chemistry.substances import require_offered
from fizzplate.data import rows
from fizzplate.words import InputError, number

if TYPE_CHECKING:
    from collections.abc import Iterable


def read_mixture(
    solution: str | Mapping[str, float], concentration_mol_dm3: float
) -> Mapping[str, float]:
    """Return what is dissolved, mol/dm3 by formula.

    Parameters
    ----------
    solution
        Formula of a salt or of what does not conduct, or a mixture with its concentrations in mol/dm3.
    concentration_mol_dm3
        Concentration where a formula is given.

    Raises
    ------
    InputError
        If no such solution is offered, it would be stronger than can be made, or a solid would form at once.
    """
    salts = solutions()
    pure = non_electrolytes()
    if isinstance(solution, str) and solution in pure:
        strength = number(
            "concentration_mol_dm3", concentration_mol_dm3, unit="mol/dm3", above=0, maximum=2
        )
        return MappingProxyType({solution: strength})
    if not isinstance(solution, Mapping):
        names = {**salts, **pure, **melts()}
        formula = require_offered("solution", _plain(solution), names, what="solution")
        parts = {formula: concentration_mol_dm3}
        argument = "concentration_mol_dm3"
    else:
        if not solution:
            raise InputError("solution", solution, "at least one salt with its concentration")
        parts = {
            require_offered("solution", _plain(f), salts, what="solution"): c
            for f, c in solution.items()
        }
        argument = "solution"
        _refuse_precipitates(parts)
    return MappingProxyType(
        {
            formula: number(
                argument,
                concentration,
                unit="mol/dm3",
                above=0,
                maximum=salts[formula].solubility_mol_dm3,
                limit_reason=f"no stronger {salts[formula].name} solution can be made",
            )
            for formula, concentration in parts.items()
        }
    )


def _refuse_precipitates(formulae: Iterable[str]) -> None:
    """Refuse a mixture in which a solid falls out as soon as it is made."""
    ions = {ion for formula in formulae for ion in solutions()[formula].ions}
    for row in rows("precipitates"):
        if {row["cation"], row["anion"]} <= ions:
            raise InputError(
                "solution",
                " and ".join(solutions()[formula].name for formula in formulae),
                f"a mixture that stays clear: in this one solid {species_name(row.text)} would form at once",
            )


def _plain(formula: object) -> object:
    """Return a formula without state symbols or spaces where it can be read, else as given."""
    if not isinstance(formula, str):
        return formula
    try:
        return canonical(formula)
    except InputError:
        return formula
