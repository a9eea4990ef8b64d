"""What to weigh, or to dilute, for the solutions of a lesson."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.cell import vessels
from fizzplate.chemistry import molar_mass_g_mol, parse_formula, pretty, solutions
from fizzplate.lesson.classroom import teacher_only
from fizzplate.words import InputError, Quantity, Rendering, number, page_quantity, say

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fizzplate.chemistry import Solution
    from fizzplate.data import Row
    from fizzplate.lesson.state import CellSetup

FLASKS_CM3 = (100.0, 250.0, 500.0, 1000.0, 2000.0, 5000.0)
OTHER_SOLIDS = {"Na2SO4": ("Na2SO4.10H2O",), "CuSO4": ("CuSO4",), "ZnSO4": ("ZnSO4",)}
CLOUDS_IN_TAP_WATER = ("Ag+", "Pb2+")
MAX_GROUPS = 100
REMARKED_PERCENT = 2.0  # that a mass may be off by what the balance shows
DEMONSTRATION = "Demonstration by the teacher only: this is for one cell, not for the groups."
DAMP_CM3 = 2.0  # that a strip of paper takes up, with what drips


@dataclass(frozen=True, slots=True)
class Amount:
    """What to weigh or measure for one solution of the list.

    Parameters
    ----------
    needed_cm3, make_cm3
        What the groups use with the spare, and the flask that holds it.
    solid
        Formula of what is weighed, or of what the stock holds.
    mass_g
        To weigh, rounded to what the balance shows; zero where it is diluted.
    stock_cm3
        Of the stock to dilute; zero where it is weighed.
    stock
        The stock by its name and strength; empty where it is weighed.
    mixing
        How it is added to the water, as the end of a sentence.
    notes
        Cautions of preparing.
    """

    needed_cm3: float
    make_cm3: float
    solid: str
    mass_g: float
    stock_cm3: float
    stock: str
    mixing: str
    notes: tuple[str, ...]


def solids(formula: str) -> tuple[str, ...]:
    """Return what may stand in the cupboard for a salt, the usual one first.

    Examples
    --------
    >>> solids("CuSO4"), solids("NaCl")
    (('CuSO4.5H2O', 'CuSO4'), ('NaCl',))
    """
    sold = solutions()[formula].solid_sold
    return tuple(dict.fromkeys((sold, *OTHER_SOLIDS.get(formula, ()))))


@cache
def acid_stocks() -> Mapping[str, Row]:
    """Return the concentrated acid that each dilute one is made of: no acid is weighed as a pure substance.

    Examples
    --------
    >>> stock = acid_stocks()["HCl"]
    >>> stock["name"], stock.value
    ('concentrated hydrochloric acid', 11.6)
    """
    return MappingProxyType({row["acid"]: row for row in data.rows("acid_stocks")})


def amount(
    formula: str,
    concentration_mol_dm3: float,
    *,
    groups: int,
    each_cm3: float,
    spare_percent: float = 10.0,
    solid: str | None = None,
    purity_percent: float = 100.0,
    stock_mol_dm3: float | None = None,
    balance_g: float = 0.1,
) -> Amount:
    """Work out what is weighed, or diluted, for a solution.

    An acid is diluted, from the concentrated one where no stock is given.

    Raises
    ------
    InputError
        If it cannot be made: above the solubility, a solid of another salt, a stock too weak.

    Examples
    --------
    >>> found = amount("CuSO4", 0.5, groups=15, each_cm3=60)
    >>> found.make_cm3, found.mass_g
    (1000.0, 124.8)
    """
    ClassNeeds(groups, each_cm3, spare_percent, balance_g)
    number("purity_percent", purity_percent, unit="%", above=0, maximum=100)
    salt = solutions()[formula]
    number(
        "concentration_mol_dm3",
        concentration_mol_dm3,
        unit="mol/dm3",
        above=0,
        maximum=salt.solubility_mol_dm3,
        limit_reason="no more dissolves",
    )
    needed = groups * each_cm3 * (1 + spare_percent / 100)
    make = next((flask for flask in FLASKS_CM3 if flask >= needed), 1000 * math.ceil(needed / 1000))
    moles = concentration_mol_dm3 * make / 1000
    notes = _preparing(formula)
    if stock_mol_dm3 is not None or formula in acid_stocks():
        stock, strength, more = _stock(salt, stock_mol_dm3)
        number("stock_mol_dm3", strength, unit="mol/dm3", above=concentration_mol_dm3)
        volume_cm3 = 1000 * moles / strength
        return Amount(
            needed, make, formula, 0.0, volume_cm3, stock, _stirred_in(salt, stock), notes + more
        )
    chosen = solid or salt.solid_sold
    _same_salt(chosen, formula)
    mass = moles * molar_mass_g_mol(chosen) / (purity_percent / 100)
    shown = balance_g * round(mass / balance_g)
    if shown == 0:
        raise InputError(
            "balance_g",
            balance_g,
            f"a finer balance: only {page_quantity(mass, 'g', '.2g')} are to be weighed",
        )
    off_percent = 100 * (shown / mass - 1)
    if abs(off_percent) > REMARKED_PERCENT:
        notes += (
            say(
                "A balance that reads to {balance} can be {off} off here: use a finer balance, or make "
                "more solution.",
                balance=Quantity(balance_g, "g").text(Rendering.PAGE),
                off=Quantity(off_percent, "%", "+.2g").text(Rendering.PAGE),
            ),
        )
    return Amount(needed, make, chosen, round(shown, 4), 0.0, "", _dissolved(salt, chosen), notes)


def _stock(salt: Solution, given_mol_dm3: float | None) -> tuple[str, float, tuple[str, ...]]:
    """Return what is diluted by its name, its strength, and what to beware of with it."""
    concentrated = acid_stocks().get(salt.formula)
    beware = () if concentrated is None else (f"{concentrated.caveat}.",)
    if concentrated is not None and given_mol_dm3 is None:
        strength = concentrated.value
        return (
            f"{concentrated['name']} (about {page_quantity(strength, 'mol/dm3')})",
            strength,
            beware,
        )
    strength = number("stock_mol_dm3", given_mol_dm3, unit="mol/dm3", above=0)
    name = f"the stock of {salt.name}, {page_quantity(strength, 'mol/dm3')}"
    return name, strength, beware if strength > salt.solubility_mol_dm3 else ()


def _stirred_in(salt: Solution, stock: str) -> str:
    if salt.formula in acid_stocks():
        return "add the acid slowly to the water, never water to acid"
    return f"stir in {stock}"


def _dissolved(salt: Solution, solid: str) -> str:
    if "OH-" in salt.ions:
        return f"stir in the {pretty(solid)} a little at a time: it gives out a lot of heat"
    return f"dissolve the {pretty(solid)} in it"


def mixing_instructions(made: tuple[Amount, ...]) -> str:
    """Say in which order a solution is mixed: solids first, an acid last.

    Examples
    --------
    >>> mixing_instructions((amount("NaCl", 1.0, groups=15, each_cm3=60),))
    'Start with about two thirds of the water. Then dissolve the NaCl in it. Make up to 1000 cm³ with water.'
    """
    last = sorted(made, key=lambda each: (each.solid in acid_stocks(), each.mass_g == 0))
    steps = ", and after that ".join(each.mixing for each in last)
    warm = any(map(_warms, made))
    up = (
        f"{'Let it cool, and make' if warm else 'Make'} up to "
        f"{page_quantity(made[0].make_cm3, 'cm3')} with water."
    )
    return f"Start with about two thirds of the water. Then {steps}. {up}"


def _warms(made: Amount) -> bool:
    """Say whether the liquid gets hot: from an acid that is diluted, or a solid alkali that dissolves."""
    salt = solutions().get(made.solid)
    alkali = salt is not None and "OH-" in salt.ions
    return made.solid in acid_stocks() or (alkali and made.mass_g > 0)


def _same_salt(solid: str, formula: str) -> None:
    """Refuse a solid that is not the salt with some water."""
    own, given = parse_formula(formula).elements, parse_formula(solid).elements
    rest = {e: given.get(e, 0) - own.get(e, 0) for e in {*own, *given}}
    water = rest.pop("O", 0)
    if rest.pop("H", 0) != 2 * water or water < 0 or any(rest.values()):
        allowed = f"{' or '.join(solids(formula))}, or the salt with another amount of water"
        raise InputError("solid", solid, allowed)


def _preparing(formula: str) -> tuple[str, ...]:
    salt = solutions()[formula]
    said = [f"{salt.caveat}."] if salt.caveat else []
    if any(ion in CLOUDS_IN_TAP_WATER for ion in salt.ions):
        said.append("Use distilled water only: tap water turns the solution cloudy.")
    return tuple(said)


@dataclass(frozen=True, slots=True)
class ClassNeeds:
    """How much of everything a class needs; what no class has is refused.

    Examples
    --------
    >>> try:
    ...     ClassNeeds(15.6, 60, 10, 0.1)
    ... except InputError as refusal:
    ...     print(refusal)
    groups: 15.6 cannot be used. Use a whole number from 1 to 100.
    """

    groups: int
    each_cm3: float
    spare_percent: float
    balance_g: float

    def __post_init__(self) -> None:
        groups: object = self.groups
        if not isinstance(groups, int) or not 1 <= groups <= MAX_GROUPS:
            raise InputError("groups", groups, f"a whole number from 1 to {MAX_GROUPS}")
        number("each_cm3", self.each_cm3, unit="cm³", above=0, maximum=1000)
        number("spare_percent", self.spare_percent, unit="%", minimum=0, maximum=200)
        number("balance_g", self.balance_g, unit="g", above=0, maximum=10)


@dataclass(frozen=True, slots=True)
class Cupboard:
    """What there is of a substance.

    Parameters
    ----------
    solid
        Formula of the solid; the usual one, if empty.
    purity_percent
        Of it.
    stock_mol_dm3
        Of a solution that is diluted instead.
    """

    solid: str = ""
    purity_percent: float = 100.0
    stock_mol_dm3: float | None = None

    def __post_init__(self) -> None:
        number("purity_percent", self.purity_percent, unit="%", above=0, maximum=100)
        if self.stock_mol_dm3 is not None:
            number("stock_mol_dm3", self.stock_mol_dm3, unit="mol/dm³", above=0, maximum=20)


def cell_count(setup: CellSetup, groups: int) -> int:
    """Return how many cells of a set-up a class runs: one where it is for the teacher only.

    Examples
    --------
    >>> from fizzplate.lesson import CellSetup
    >>> cell_count(CellSetup("NaCl"), 15), cell_count(CellSetup("Pb(NO3)2"), 15)
    (15, 1)
    """
    return 1 if teacher_only(setup.cell()) else groups


def amounts_for(
    setup: CellSetup, needs: ClassNeeds, cupboards: Mapping[str, Cupboard]
) -> tuple[Amount, ...]:
    """Work out the amounts for one solution of a list, one for each substance in it.

    Parameters
    ----------
    setup
        The solution; water and sugar need none.
    needs
        Of the class.
    cupboards
        What there is, by the formula of the substance; the usual solid where nothing is said.

    Examples
    --------
    >>> from fizzplate.lesson import CellSetup
    >>> needs = ClassNeeds(15, 60, 10, 0.1)
    >>> [made.solid for made in amounts_for(CellSetup("NaCl", also="KI"), needs, {})]
    ['NaCl', 'KI']
    """
    strengths = {setup.solution: setup.concentration_mol_dm3}
    if setup.also:
        strengths[setup.also] = setup.also_mol_dm3
    made = []
    groups = cell_count(setup, needs.groups)
    for formula, strength in strengths.items():
        if formula not in solutions():
            continue
        has = cupboards.get(formula, Cupboard())
        made.append(
            amount(
                formula,
                strength,
                groups=groups,
                each_cm3=_each_cm3(setup, needs),
                spare_percent=needs.spare_percent,
                solid=has.solid or None,
                purity_percent=has.purity_percent,
                stock_mol_dm3=has.stock_mol_dm3,
                balance_g=needs.balance_g,
            )
        )
    if teacher_only(setup.cell()):
        made = [replace(each, notes=(DEMONSTRATION, *each.notes)) for each in made]
    return tuple(made)


def _each_cm3(setup: CellSetup, needs: ClassNeeds) -> float:
    """Return what one group fills into its vessel, cm3."""
    if setup.volume_cm3 is not None:
        return setup.volume_cm3
    if setup.vessel == "beaker":
        return needs.each_cm3
    own = vessels()[setup.vessel].volume_cm3
    return own.default if own is not None else DAMP_CM3
