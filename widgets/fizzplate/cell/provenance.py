"""Which entries of the bibliography stand behind a run."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate import data

if TYPE_CHECKING:
    from fizzplate.cell.solver import Model

MODEL_TABLES = (
    "diffusion",
    "electrode_reactions",
    "fluidity",
    "gases",
    "solubility",
    "speciation",
    "kinetics",
    "mobility",
    "model",
    "passivity",
    "vessels",
    "volumes",
)


def sources_of(model: Model) -> tuple[data.Source, ...]:
    """Return the bibliography entries behind a run, in the order of the tables."""
    species = {*model.speciation.species, "any"}
    materials = {model.cell.anode, model.cell.cathode, "any"}
    vessel = {model.cell.vessel.name}
    used = (
        row.source
        for table in MODEL_TABLES
        for row in data.rows(table)
        if _all_in(row, ("species", "cation", "anion"), species)
        and _all_in(row, ("material",), materials)
        and _all_in(row, ("vessel",), vessel)
        and _about(row.key.get("equation", ""), species)
    )
    return tuple(data.source(key) for key in dict.fromkeys(used))


def _all_in(row: data.Row, columns: tuple[str, ...], known: set[str]) -> bool:
    """Whether what a row is about, in the columns that its table has, is in this run."""
    return all(row.key[column] in known for column in columns if column in row.key)


def _about(equation: str, species: set[str]) -> bool:
    """Whether every ion of an equation can occur in this run."""
    terms = [term.lstrip("0123456789") for term in equation.replace(" -> ", " + ").split(" + ")]
    ions = [
        term for term in terms if term.endswith(("+", "-")) and term != "e-" and "OH+" not in term
    ]
    return all(ion in species for ion in ions)
