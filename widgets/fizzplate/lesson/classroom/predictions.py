"""What a class predicts before a run and observes after it, and how both are compared with the run."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.chemistry import classroom_rule, electrodes, parse_formula, species_name
from fizzplate.chemistry.substances import observation_of

if TYPE_CHECKING:
    from fizzplate.cell import CellLike
    from fizzplate.words import Wording

NOTHING = "nothing"
DISSOLVES = "the electrode dissolves"
COPPER_ONE = ("CuCl2-", "CuBr2-", "CuI2-")
TEMPTING_PRODUCTS = {
    "SO4^2-": "sulfur dioxide",
    "NO3-": "nitrogen",
}  # what learners expect of an anion
COMMON_PRODUCTS = (
    "H2",
    "Cl2",
    "Cu",
    "Cu2+",
    "I2",
    "Zn",
)  # seen often enough to be among the phrases
WRONG_PHRASES = ("a red precipitate", "bubbles of a clear gas")


@dataclass(frozen=True, slots=True)
class ObservationPoint:
    """One thing that an observation should say, and the words that say it."""

    name: str
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WordingTrap:
    """A word that loses marks, what excuses it, and what is said about it."""

    word: str
    unless: tuple[str, ...]
    advice: str


def product_choices(cell: CellLike) -> tuple[str, ...]:
    """Name the products that a class picks from, in the order of the alphabet.

    They are the same at both electrodes: knowing which belongs where is half of the task.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> product_choices(Cell("CuSO4"))
    ('copper', 'hydrogen', 'nothing', 'oxygen', 'sulfur dioxide', 'the electrode dissolves')
    """
    names = {"hydrogen", "oxygen", NOTHING, DISSOLVES}
    for ion in cell.ions_mol_dm3:
        if ion in TEMPTING_PRODUCTS:
            names.add(TEMPTING_PRODUCTS[ion])
        elif parse_formula(ion).charge > 0 and ion != "H+":
            names.add(data.find("reactivity", ion=ion)["element"])
        elif any(row["ion"] == ion for row in data.rows("halogens")):
            names.add(species_name(data.find("halogens", ion=ion)["product"]))
        elif ion == "F-":
            names.add("fluorine")
    return tuple(sorted(names))


def expected_choice(cell: CellLike, role: str, wording: Wording | None = None) -> str:
    """Name what the classroom rule expects at an electrode, as it is offered.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> expected_choice(Cell("CuSO4", anode="copper"), "anode")
    'the electrode dissolves'
    >>> expected_choice(Cell("NaCl(l)"), "cathode")
    'sodium'
    """
    if not cell.ions_mol_dm3:
        return NOTHING
    rule = classroom_rule(
        cell.ions_mol_dm3,
        anode=cell.anode,
        cathode=cell.cathode,
        molten=cell.melt is not None,
        wording=wording,
    )
    return choice_of(getattr(rule, role).product, getattr(cell, role))


def choice_of(product: str, material: str) -> str:
    """Name a product as it is offered to pick from."""
    if product == electrodes()[material].dissolves_as or product in COPPER_ONE:
        return DISSOLVES
    return species_name(product)


def observation_points(product: str) -> tuple[ObservationPoint, ...]:
    """Return what an observation of a product should say.

    Examples
    --------
    >>> [point.name for point in observation_points("Cu")]
    ['a deposit', 'its colour']
    """
    return tuple(
        ObservationPoint(row["point"], tuple(row.text.split("|")))
        for row in data.rows("observation_points")
        if product in row["product"].split()
    )


def wording_traps() -> tuple[WordingTrap, ...]:
    """Return the words that lose marks."""
    return tuple(
        WordingTrap(row["word"], tuple(filter(None, row["unless"].split("|"))), row.text)
        for row in data.rows("wording_traps")
    )


def observation_phrases(*products: str) -> tuple[str, ...]:
    """Return the phrases from which a class picks an observation: always the same, the right ones among them.

    Both electrodes offer the phrases of both: one that is offered at one of them alone would give it away.

    Examples
    --------
    >>> "an orange-brown deposit on the electrode" in observation_phrases("Cu")
    True
    """
    made = dict.fromkeys(observation_of(each) for each in (*COMMON_PRODUCTS, *products))
    return tuple(sorted((*made, *WRONG_PHRASES, "nothing is seen")))


def observation_feedback(text: str, product: str) -> tuple[list[str], list[str], list[str]]:
    """Compare an observation with what is expected.

    Parameters
    ----------
    text
        What the class wrote.
    product
        What forms.

    Returns
    -------
    said, missing, trapped
        Points that were said, points that were not, and sentences about words that lose marks.

    Examples
    --------
    >>> observation_feedback("A red precipitate", "Cu")[1]
    ['a deposit', 'its colour']
    """
    lower = f" {text.lower()} "
    said: list[str] = []
    missing: list[str] = []
    for point in observation_points(product):
        (said if any(word in lower for word in point.words) else missing).append(point.name)
    found = [
        trap.advice
        for trap in wording_traps()
        if f" {trap.word}" in lower and not any(word in lower for word in trap.unless)
    ]
    return said, missing, list(dict.fromkeys(found))
