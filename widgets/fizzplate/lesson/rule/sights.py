"""What is seen where something forms, at an electrode or in the liquid, naming no product."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.cell import displacements, oxide_film
from fizzplate.chemistry import electrodes, parse_formula, pretty, species_name
from fizzplate.chemistry.substances import observation_of
from fizzplate.lesson.rule.rule_vs_model import hazes_seen
from fizzplate.words import say

if TYPE_CHECKING:
    from fizzplate.cell import CellLike, ElectrodeRecord, Run
    from fizzplate.words import Wording

NOTHING = "nothing is seen"
DARK_FILM = "a dark film covers the electrode"
DEPOSIT_GOES = "the deposit on the electrode becomes thinner"
COPPER_ONE = frozenset({"CuCl2-", "CuBr2-", "CuI2-"})
COPPER_IONS = COPPER_ONE | {"Cu2+"}


def sights(record: ElectrodeRecord, role: str) -> dict[str, str]:
    """Return what is seen at an electrode as it makes each of its products in a role.

    Parameters
    ----------
    record
        The electrode.
    role
        "cathode" or "anode": in a run whose wires were swapped it has had both.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> sights(Cell("CuCl2", anode="copper").run(minutes=1, samples=3).anode, "anode")["CuCl2-"]
    'the copper electrode becomes thinner'
    """
    of_cathodes = {row["product"] for row in data.rows("observations") if row["role"] == "cathode"}
    seen = {}
    for product in record.products:
        if role == "cathode" and product in of_cathodes:
            seen[product] = observation_of(product, "cathode")
        elif product in _metal_ions() and not _is_of(record.material, product):
            seen[product] = DEPOSIT_GOES
        else:
            seen[product] = observation_of(product)
    return seen


def main_sight(run: Run, role: str) -> str:
    """Return what is seen of an electrode's main product, and of a film, by the end of a run.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> main_sight(Cell("NaOH", anode="copper").run(minutes=1, samples=3), "anode")
    'bubbles of a colourless gas, and a dark film covers the electrode'
    """
    side = ("cathode", "anode").index(role)
    record = (run.cathode, run.anode)[side]
    seen = sights(record, role)[record.products[0]]
    return f"{seen}, and {DARK_FILM}" if oxide_film(run, side)[-1] else seen


def _metal_ions() -> frozenset[str]:
    """Return the ions that a metal gives as it dissolves."""
    own = {each.dissolves_as for each in electrodes().values() if each.active}
    return COPPER_IONS | {"Pb2+"} | own


def _is_of(material: str, ion: str) -> bool:
    """Say whether an ion comes from the electrode itself, not from what was plated on it."""
    own = electrodes()[material].dissolves_as
    return ion == own or {ion, own} <= COPPER_IONS


def what_forms(product: str, role: str) -> str:
    """Name a product, or the metal that dissolves and what it becomes.

    Examples
    --------
    >>> what_forms("O2", "anode"), what_forms("Zn2+", "anode"), what_forms("CuCl2-", "anode")
    ('oxygen', 'zinc dissolves as Zn²⁺', 'copper dissolves as copper(I)')
    """
    if role == "cathode" or product not in _metal_ions():
        return species_name(product)
    if product in COPPER_ONE:
        return f"copper dissolves as {species_name(product)}"
    (element,) = parse_formula(product).elements
    return f"{species_name(element)} dissolves as {pretty(product)}"


def deposit_dissolves(product: str, material: str) -> str:
    """Name the metal that was deposited on an electrode before and dissolves now, or nothing.

    Examples
    --------
    >>> deposit_dissolves("Cu2+", "graphite"), deposit_dissolves("Cu2+", "copper")
    ('copper', '')
    """
    if product not in _metal_ions() - COPPER_ONE or _is_of(material, product):
        return ""
    (element,) = parse_formula(product).elements
    return species_name(element)


def haze_looks(run: Run, sample: int = -1) -> dict[str, str]:
    """Return how each solid that clouds the liquid at a sample looks, and no more."""
    return {solid: data.find("hazes", solid=solid).text for solid in hazes_seen(run, sample)}


def haze_words(run: Run, sample: int = -1) -> dict[str, str]:
    """Return how each solid that clouds the liquid at a sample looks, and what becomes of its colour.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> haze_words(Cell("NaCl", anode="iron").run(minutes=5, samples=3))
    {'Fe(OH)2': 'a dirty green haze, which turns brown in air'}
    """
    later = {solid: data.find("hazes", solid=solid)["later"] for solid in hazes_seen(run, sample)}
    return {
        solid: f"{look}, which {later[solid]}" if later[solid] else look
        for solid, look in haze_looks(run, sample).items()
    }


def reacts_without_current(cell: CellLike, wording: Wording) -> tuple[str, ...]:
    """Say what is seen at electrodes that react with the liquid by themselves, naming no product.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> from fizzplate.words import Wording
    >>> reacts_without_current(Cell("CuSO4", cathode="iron"), Wording())
    ('The iron cathode also reacts without any current: an orange-brown coat grows on it.',)
    """
    return tuple(
        say(
            "The {material} {electrode} also reacts without any current: {seen}.",
            wording,
            role=each.role,
            material=each.material,
            seen=each.seen,
        )
        for each in displacements(cell)
    )
