"""What is in a cell, and what may be: its ions, what its electrodes release and make, its crystal.

This is what cautions, labels, waste and the risk draft go by, never the name of a salt alone.
"""

from __future__ import annotations

from types import MappingProxyType
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell import displacements
from fizzplate.chemistry import (
    classroom_rule,
    electrodes,
    non_electrolytes,
    parse_formula,
    solutions,
)
from fizzplate.chemistry.substances import acidic_metal_ions

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from fizzplate.cell import CellLike, Run

ALKALI_PH = 8.5  # at an electrode: from here its liquid counts as alkali (a choice)
ACID_PH = 4.0  # and below this as acid (a choice)
MIN_MOL = 1e-9  # of a product: what a run makes less of is not in the cell
MIN_OXYGEN_MOL = 4e-6  # 0.1 cm3: less lets nothing burn faster, and is no gas to collect (a choice)
MIN_MOL_DM3 = 1e-6  # of what is dissolved, as a mean
SPARE_ACID = frozenset({"graphite", "platinum"})  # nitric acid leaves these as they are
NITRIC_ACID_OXIDISES = frozenset({"I-", "Fe2+"})
#: what holds the acid and the alkali of a liquid
ACIDITY: Mapping[str, tuple[str, ...]] = MappingProxyType({"H+": ("H+", "HSO4-"), "OH-": ("OH-",)})
PERMANGANATE = MappingProxyType({"KMnO4": "MnO4-"})
#: hazards of these are those of what they hold
HOLDS: Mapping[str, str] = MappingProxyType(
    {
        "CuCl2-": "Cu2+",
        "CuBr2-": "Cu2+",
        "CuI2-": "Cu2+",
        "Zn(OH)4^2-": "Zn2+",
        "Pb(OH)3-": "Pb2+",
        "PbO2": "Pb2+",
        "AgCl": "Ag+",
        "AgBr": "Ag+",
        "AgI": "Ag+",
        "Ag2SO4": "Ag+",
        "Br3^-": "Br2",
        "HBrO": "Br2",
        "BrO-": "Br2",
        "I3^-": "I2",
        "HIO": "I2",
        "IO-": "I2",
        "IO3-": "I2",
        "HF2-": "HF",
    }
)

#: species and where they are, with their strength in mol/dm3: zero where only known to be there
Contents = dict[tuple[str, str], float]


def contents_before_run(cell: CellLike) -> Contents:
    """Return what is in a cell before any current flows.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> contents_before_run(Cell("CuSO4", anode="nickel"))
    {('Cu2+', 'solution'): 0.5, ('SO4^2-', 'solution'): 0.5}
    """
    if cell.melt is not None:
        return {(cell.melt.formula, "melt"): 0.0}
    found = {(ion, "solution"): strength for ion, strength in cell.ions_mol_dm3.items()}
    if cell.crystal is not None:
        found[PERMANGANATE[cell.crystal], "crystal"] = 0.0
    if cell.vessel.takes_crystal and "NO3-" in cell.ions_mol_dm3:
        found["NO3-", "paper"] = 0.0
    return found


def contents(cell: CellLike, run: Run | None = None) -> Contents:
    """Return what is in a cell and what may come to be: ions released, and products of rule and run.

    The rule's products count even where the run makes little of them: a bench may differ.

    Parameters
    ----------
    cell
        What is on the bench.
    run
        What happened, if it has run: it says how strong what it makes becomes.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> [species for species, _ in contents(Cell("Na2SO4", anode="nickel"))]
    ['Na+', 'SO4^2-', 'Ni2+', 'H2', 'Ni', 'OH-']
    """
    # stages pour more in: the last cell holds all of it
    cells = (cell,) if run is None else run.cells
    found = contents_before_run(cell) | poured_in(cells)
    cell = cells[-1]
    if cell.solution_formulae[0] in non_electrolytes():
        return found
    products = dict.fromkeys(product for each in cells for product in _products(each, run))
    if cell.melt is not None:
        return found | {(product, "melt"): 0.0 for product in products}
    dissolved = _dissolved(run) if run is not None else {}
    for species in (*products, *dissolved):
        held = HOLDS.get(species, species)
        where = _where(held)
        strength = dissolved.get(species, 0.0)
        found[held, where] = max(found.get((held, where), 0.0), strength)
    for metal in _loose_metals(cell, products):
        found[metal, "deposit"] = 0.0
    for each, strength in _at_the_electrodes(cell, run, products).items():
        found[each] = max(found.get(each, 0.0), strength)
    for each in _without_current(cell):
        found.setdefault(each, 0.0)
    return found


def poured_in(cells: Sequence[CellLike]) -> Contents:
    """Return what was in the liquid at any time, and what was poured in as strong as it was poured."""
    found: Contents = {}
    for cell in cells:
        strengths = dict(cell.ions_mol_dm3) if cell.melt is None else {}
        for formula, strength in cell.stocks_mol_dm3.items():
            for ion, count in solutions()[formula].ions.items():
                strengths[ion] = max(strengths.get(ion, 0.0), count * strength)
        for ion, strength in strengths.items():
            found[ion, "solution"] = max(found.get((ion, "solution"), 0.0), strength)
    return found


def _without_current(cell: CellLike) -> list[tuple[str, str]]:
    """List what forms where an electrode reacts with the liquid by itself: model and rule leave that out."""
    found = []
    for each in displacements(cell):
        (element,) = parse_formula(each.meets).elements
        found += [
            (each.gives, "solution"),
            ("H2", "made") if each.meets == "H+" else (element, "deposit"),
        ]
    if {"H+", "NO3-"} <= set(cell.ions_mol_dm3):  # nitric acid dissolves every active rod
        rods = [electrodes()[each].dissolves_as for each in (cell.cathode, cell.anode)]
        found += [(own, "solution") for own in rods if own]
    return found


def _products(cell: CellLike, run: Run | None) -> dict[str, None]:
    """List what the rule and the run make, in that order, and what an anode of metal releases."""
    rule = classroom_rule(
        cell.ions_mol_dm3, anode=cell.anode, cathode=cell.cathode, molten=cell.melt is not None
    )
    products = dict.fromkeys((rule.anode.product, rule.cathode.product))
    if run is not None:
        for record in (run.anode, run.cathode):
            products |= dict.fromkeys(
                product
                for product in record.products
                if float(record.amount_mol(product).max())
                > (MIN_OXYGEN_MOL if product == "O2" else MIN_MOL)
            )
    return products


def _dissolved(run: Run) -> dict[str, float]:
    """Return the largest mean strength of what came to be dissolved or grew, but H+ and OH-, mol/dm3."""
    volume_m3 = run.volume_cm3 * 1e-6
    found = {}
    for species in (*run.ions, *run.dissolved):
        if species in {"H+", "OH-"}:  # the pH at the electrodes shows these
            continue
        mean = run.amount_mol(species) / volume_m3
        # what was there before is known by what was poured in: fluoride alone holds a trace of its acid
        if float((mean - mean[0]).max()) / 1e3 > MIN_MOL_DM3:
            found[species] = float(mean.max()) / 1e3
    return found


def _where(species: str) -> str:
    """Say where a product goes: an ion into the solution, a metal onto the electrode."""
    formula = parse_formula(species)
    if species in PERMANGANATE.values():
        return "crystal"
    if formula.charge and species != "ClO-":
        return "solution"
    return "deposit" if species in _metals() else "made"


def _metals() -> frozenset[str]:
    return frozenset({each.formula for each in electrodes().values() if each.active} | {"Pb"})


def _loose_metals(cell: CellLike, products: Mapping[str, None]) -> list[str]:
    """List metals that an electrode sheds as it dissolves; a rod of nickel is a hazard by itself."""
    rods = [electrodes()[each] for each in (cell.anode, cell.cathode)]
    return [
        rod.formula
        for rod in rods
        if rod.active and (rod.dissolves_as in products or rod.formula == "Ni")
    ]


def _at_the_electrodes(cell: CellLike, run: Run | None, products: Mapping[str, None]) -> Contents:
    """Return what forms of what the electrodes make: acid, alkali, bleach, HF, nitrogen oxides."""
    ions = cell.ions_mol_dm3
    found = _acid_and_alkali(cell, products) if run is None else _acid_and_alkali_of_run(run)
    makes_acid = bool({"O2", "Cl2"} & set(products))
    if "Cl2" in products:
        found["HClO", "made"] = 0.0
        if "OH-" in ions or ("OH-", "made") in found:
            found["ClO-", "made"] = 0.0
    if "F-" in ions and (makes_acid or acidic_metal_ions() & set(products)):
        found["HF", "made"] = 0.0
    metal = {cell.anode, cell.cathode} - SPARE_ACID or _metals() & set(products)
    if "NO3-" in ions and "H+" in ions and metal:
        found["NO2", "made"] = 0.0
    if {"NO3-", "H+"} <= set(ions) and NITRIC_ACID_OXIDISES & set(ions):
        found["NO", "made"] = 0.0
    return found


def _acid_and_alkali(cell: CellLike, products: Mapping[str, None]) -> Contents:
    """Return what the products leave round the electrodes of a liquid that is neither acid nor alkali."""
    found: Contents = {}
    if {"H+", "OH-"} & set(cell.ions_mol_dm3):
        return found
    if "H2" in products:
        found["OH-", "made"] = 0.0
    if {"O2", "Cl2"} & set(products):
        found["H+", "made"] = 0.0
    return found


def _acid_and_alkali_of_run(run: Run) -> Contents:
    """Return acid and alkali with their strength on the side where a run makes them strongest.

    Acid or alkali that formed and went again counts too.
    """
    pH = np.concatenate([record.pH for record in (run.cathode, run.anode)])
    reached = {"OH-": float(pH.max()) > ALKALI_PH, "H+": float(pH.min()) < ACID_PH}
    poured = {ion: strength for (ion, _), strength in poured_in(run.cells).items()}
    return {
        (ion, "solution" if ion in poured else "made"): max(
            _on_a_side(run, ion), poured.get(ion, 0.0)
        )
        for ion, told in reached.items()
        if told or ion in poured
    }


def _on_a_side(run: Run, ion: str) -> float:
    """Return the largest mean strength of acid or alkali in either half of the liquid, mol/dm3."""
    volume_m3 = run.liquid_m3
    within = np.cumsum(volume_m3, axis=1) - volume_m3 / 2
    cathodes_half = within < volume_m3.sum(axis=1, keepdims=True) / 2
    each = [run.concentration(species) for species in ACIDITY[ion] if species in run.ions]
    halves = [
        np.average(sum(each), axis=1, weights=volume_m3 * half)
        for half in (cathodes_half, ~cathodes_half)
    ]
    return float(np.max(halves)) / 1e3
