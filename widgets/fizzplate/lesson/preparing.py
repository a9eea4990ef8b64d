"""Before the lesson: amounts, whether it will show, what gets into the air, and a plan of the time."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell import vessels
from fizzplate.chemistry import molar_mass_g_mol, parse_formula, pretty, solutions
from fizzplate.chemistry.checks import InputError, number
from fizzplate.chemistry.gases import GASES
from fizzplate.lesson.rule import classroom_rule

if TYPE_CHECKING:
    from fizzplate.cell import Run
    from fizzplate.lesson.cell_setup import CellSetup

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

FLASKS_CM3 = (100.0, 250.0, 500.0, 1000.0, 2000.0, 5000.0)
OTHER_SOLIDS = {"Na2SO4": ("Na2SO4.10H2O",), "CuSO4": ("CuSO4",), "ZnSO4": ("ZnSO4",)}
CLOUDS_IN_TAP_WATER = ("Ag+", "Pb2+")
LONGEST_MIN = 30.0  # looked at for what will show
BUBBLES_CM3 = 0.02  # of gas that has left: bubbles are seen (a choice)
COLOUR_MG_CM2 = 0.05  # of metal: some fifty nanometres, coloured (a choice)
TIMES_RESOLUTION = 20.0  # of the balance, for a result worth having
TUBE_CM3 = 5.0  # a small tube of gas
GAPS = (0.5, 1.6)  # of the vessel's own: rods stand where they stand


@dataclass(frozen=True, slots=True)
class Amount:
    """What to weigh or measure for one solution of the list.

    Parameters
    ----------
    needed_cm3, make_cm3
        What the groups use with the spare, and the flask that holds it.
    solid
        Formula of what is weighed, or of the stock.
    mass_g
        To weigh, rounded to what the balance shows; zero where it is diluted.
    stock_cm3
        Of the stock to dilute; zero where it is weighed.
    says
        Cautions of preparing.
    """

    needed_cm3: float
    make_cm3: float
    solid: str
    mass_g: float
    stock_cm3: float
    says: tuple[str, ...]


def solids(formula: str) -> tuple[str, ...]:
    """Return what may stand in the cupboard for a salt, the usual one first.

    Examples
    --------
    >>> solids("CuSO4"), solids("NaCl")
    (('CuSO4.5H2O', 'CuSO4'), ('NaCl',))
    """
    sold = solutions()[formula].solid_sold
    return tuple(dict.fromkeys((sold, *OTHER_SOLIDS.get(formula, ()))))


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
    number("groups", groups, unit="groups", at_least=1, at_most=100)
    number("each_cm3", each_cm3, unit="cm3", above=0, at_most=1000)
    number("spare_percent", spare_percent, unit="%", at_least=0, at_most=200)
    number("purity_percent", purity_percent, unit="%", above=0, at_most=100)
    number("balance_g", balance_g, unit="g", above=0)
    salt = solutions()[formula]
    number(
        "concentration_mol_dm3",
        concentration_mol_dm3,
        unit="mol/dm3",
        above=0,
        at_most=salt.solubility_mol_dm3,
        because="no more dissolves",
    )
    needed = groups * each_cm3 * (1 + spare_percent / 100)
    make = next((flask for flask in FLASKS_CM3 if flask >= needed), 1000 * math.ceil(needed / 1000))
    moles = concentration_mol_dm3 * make / 1000
    says = _preparing(formula)
    if stock_mol_dm3 is not None:
        number("stock_mol_dm3", stock_mol_dm3, unit="mol/dm3", above=concentration_mol_dm3)
        return Amount(needed, make, formula, 0.0, 1000 * moles / stock_mol_dm3, says)
    chosen = solid or salt.solid_sold
    _same_salt(chosen, formula)
    mass = moles * molar_mass_g_mol(chosen) / (purity_percent / 100)
    shown = balance_g * round(mass / balance_g)
    return Amount(needed, make, chosen, round(shown, 4), 0.0, says)


def _same_salt(solid: str, formula: str) -> None:
    """Refuse a solid that is not the salt with some water."""
    own, given = parse_formula(formula).elements, parse_formula(solid).elements
    rest = {e: given.get(e, 0) - own.get(e, 0) for e in {*own, *given}}
    water = rest.pop("O", 0)
    if rest.pop("H", 0) != 2 * water or water < 0 or any(rest.values()):
        allowed = f"{' or '.join(solids(formula))}, or the salt with other water"
        raise InputError("solid", solid, allowed)


def _preparing(formula: str) -> tuple[str, ...]:
    salt = solutions()[formula]
    said = [f"{salt.caveat.replace('dm3', 'dm³')}."] if salt.caveat else []
    if any(ion in CLOUDS_IN_TAP_WATER for ion in salt.ions):
        said.append("Distilled water only: tap water clouds it.")
    return tuple(said)


@dataclass(frozen=True, slots=True)
class Showing:
    """When something is seen or measured, minutes; infinite where it is not within half an hour.

    Parameters
    ----------
    bubbles_min
        At cathode and anode.
    colour_min, balance_min, tube_min
        Until the cathode is coloured, the balance shows enough, a tube of gas is full.
    current_A, range_A
        After a minute, and between which it lies by where the rods stand.
    """

    bubbles_min: tuple[float, float]
    colour_min: float
    balance_min: float
    tube_min: float
    current_A: float
    range_A: tuple[float, float]


def will_it_show(setup: CellSetup, *, balance_g: float = 0.01) -> Showing:
    """Work out when a class sees and measures something.

    Examples
    --------
    >>> from fizzplate.lesson import CellSetup
    >>> shown = will_it_show(CellSetup("CuSO4"))
    >>> shown.colour_min < 1 < shown.balance_min
    True
    """
    run = _run(setup)
    area = vessels()[setup.vessel].immersed_area_cm2.usual
    plated = sum(
        (run.cathode.mass_g(solid) for solid in run.cathode.solids), np.zeros_like(run.time_s)
    )
    gases = [_gas_cm3(run, role) for role in ("cathode", "anode")]
    changed = np.maximum(
        plated,
        -sum(
            (np.minimum(run.anode.mass_g(s), 0) for s in run.anode.solids),
            np.zeros_like(run.time_s),
        ),
    )
    at_minute = int(np.searchsorted(run.time_s, 60.0))
    currents = [float(_run(setup, gap=gap, minutes=1.0).current_A[-1]) for gap in GAPS]
    return Showing(
        (_when(run, gases[0], BUBBLES_CM3), _when(run, gases[1], BUBBLES_CM3)),
        _when(run, plated, 1e-3 * COLOUR_MG_CM2 * area),
        _when(run, changed, TIMES_RESOLUTION * balance_g),
        _when(run, np.maximum(*gases), TUBE_CM3),
        float(run.current_A[at_minute]),
        (min(currents), max(currents)),
    )


def _run(setup: CellSetup, *, gap: float = 1.0, minutes: float = LONGEST_MIN) -> Run:
    own = vessels()[setup.vessel].gap_cm
    gap_cm = min(max(gap * own.usual, own.least), own.most)
    return setup.cell(gap_cm=gap_cm).run(minutes=minutes, samples=121 if minutes > 1 else 3)


def _gas_cm3(run: Run, role: str) -> Array:
    record = getattr(run, role)
    volumes = [record.gas_cm3(gas, collected=True) for gas in record.products if gas in GASES]
    return np.asarray(sum(volumes, np.zeros_like(run.time_s)))


def _when(run: Run, values: Array, enough: float) -> float:
    reached = np.flatnonzero(values >= enough)
    if not reached.size:
        return math.inf
    k = int(reached[0])
    if k == 0:
        return 0.0
    part = (enough - values[k - 1]) / (values[k] - values[k - 1])
    return float(run.time_s[k - 1] + part * (run.time_s[k] - run.time_s[k - 1])) / 60


CHLORINE_LIMIT_MG_M3 = 1.5  # 0.5 ppm over 15 minutes, often used; from memory
BROMINE_LIMIT_MG_M3 = 0.7  # 0.1 ppm over 15 minutes; from memory
CHECK_LIMIT = "from memory: check your own rules"


@dataclass(frozen=True, slots=True)
class Air:
    """What a class puts into the air of its room.

    Parameters
    ----------
    gas
        "Cl2" or "Br2".
    group_mg, class_mg
        Made by one group, and by all.
    concentration_mg_m3
        At the end, all of it in the air, well mixed.
    limit_mg_m3
        Often used.
    stop_min
        When the limit would be reached, minutes; infinite if never.
    """

    gas: str
    group_mg: float
    class_mg: float
    concentration_mg_m3: float
    limit_mg_m3: float
    stop_min: float


def air_budget(
    gas: str, rate_mg_s: float, minutes: float, *, groups: int, room_m3: float, air_changes_h: float
) -> Air:
    """Work out how much of a halogen is in the air if all that is made gets there.

    Parameters
    ----------
    gas
        "Cl2" or "Br2".
    rate_mg_s
        What one group makes each second.
    minutes
        How long they run.
    groups, room_m3, air_changes_h
        How many, in which room, with how many air changes an hour.

    Examples
    --------
    >>> found = air_budget("Cl2", 0.0735 * 1, 5, groups=15, room_m3=200, air_changes_h=0)
    >>> round(found.group_mg), round(found.concentration_mg_m3, 2)
    (22, 1.65)
    """
    number("room_m3", room_m3, unit="m3", above=0)
    number("air_changes_h", air_changes_h, unit="per hour", at_least=0, at_most=60)
    limit = {"Cl2": CHLORINE_LIMIT_MG_M3, "Br2": BROMINE_LIMIT_MG_M3}[gas]
    seconds = 60 * minutes
    source = groups * rate_mg_s / room_m3  # mg/m3 s
    loss = air_changes_h / 3600
    if loss == 0:
        level = source * seconds
        stop = limit / source if source > 0 else math.inf
    else:
        level = source / loss * -math.expm1(-loss * seconds)
        highest = source / loss
        stop = -math.log1p(-limit / highest) / loss if highest > limit else math.inf
    return Air(gas, rate_mg_s * seconds, groups * rate_mg_s * seconds, level, limit, stop / 60)


def air_of(setup: CellSetup, *, groups: int, room_m3: float, air_changes_h: float) -> Air | None:
    """Work out the budget of a cell by its run; nothing where it gives no halogen.

    Examples
    --------
    >>> from fizzplate.lesson import CellSetup
    >>> air_of(CellSetup("Na2SO4"), groups=15, room_m3=200, air_changes_h=2) is None
    True
    """
    cell = setup.cell()
    if not cell.ions_mol_dm3:
        return None
    run = cell.run(minutes=setup.minutes, samples=5)
    for gas in ("Cl2", "Br2"):
        made_mol = float(run.anode.amount_mol(gas)[-1])
        if made_mol > 1e-9:
            rate = 1e3 * made_mol * molar_mass_g_mol(gas) / (60 * setup.minutes)
            return air_budget(
                gas,
                rate,
                setup.minutes,
                groups=groups,
                room_m3=room_m3,
                air_changes_h=air_changes_h,
            )
    return None


def alkali_mmol(setup: CellSetup) -> float:
    """Return the hydroxide that forms at the cathode of one group, mmol.

    Examples
    --------
    >>> from fizzplate.lesson import CellSetup
    >>> round(alkali_mmol(CellSetup("NaCl", supply_V=None, current_A=0.2)), 2)
    0.62
    """
    cell = setup.cell()
    if not cell.ions_mol_dm3 or "H+" in cell.ions_mol_dm3:
        return 0.0
    rule = classroom_rule(cell.ions_mol_dm3, anode=cell.anode, cathode=cell.cathode)
    if rule.cathode.product != "H2":
        return 0.0
    run = cell.run(minutes=setup.minutes, samples=3)
    return 2e3 * float(run.cathode.amount_mol("H2")[-1])


def hydrogen_cm3(setup: CellSetup) -> float:
    """Return the hydrogen that one group makes, cm3, dry.

    Examples
    --------
    >>> from fizzplate.lesson import CellSetup
    >>> round(hydrogen_cm3(CellSetup("Na2SO4", supply_V=None, current_A=0.2)), 1)
    7.6
    """
    cell = setup.cell()
    if not cell.ions_mol_dm3:
        return 0.0
    return float(cell.run(minutes=setup.minutes, samples=3).cathode.gas_cm3("H2")[-1])


SET_UP_MIN, RECORD_MIN, OPENING_MIN, CLOSING_MIN = 3.0, 3.0, 8.0, 7.0  # common practice


@dataclass(frozen=True, slots=True)
class Planned:
    """One entry of a plan: how long, and what."""

    minutes: float
    what: str


def plan(setups: tuple[CellSetup, ...], period_min: float) -> list[list[Planned]]:
    """Fit the solutions into one period or more.

    Examples
    --------
    >>> from fizzplate.lesson import CellSetup
    >>> [sum(entry.minutes for entry in period) for period in plan((CellSetup("NaCl"),) * 4, 50)]
    [48.0, 26.0]
    """
    number("period_min", period_min, unit="minutes", at_least=30, at_most=240)
    periods: list[list[Planned]] = []
    left = 0.0
    for setup in setups:
        takes = SET_UP_MIN + setup.minutes + RECORD_MIN
        if takes > left:
            if periods:
                periods[-1].append(Planned(CLOSING_MIN, "clear away, collect waste, discuss"))
            periods.append([Planned(OPENING_MIN, "safety, predictions")])
            left = period_min - OPENING_MIN - CLOSING_MIN
        periods[-1].append(
            Planned(takes, f"{setup.label}: set up, run {setup.minutes:g} minutes, test and record")
        )
        left -= takes
    if periods:
        periods[-1].append(Planned(CLOSING_MIN, "clear away, collect waste, discuss"))
    return periods


SHORTEST_RUN_MIN = 1.5  # less shows a class nothing


def one_period(setups: tuple[CellSetup, ...], period_min: float) -> tuple[list[Planned], str]:
    """Fit every solution into one period, with shorter runs, or shared out among the groups.

    Examples
    --------
    >>> from fizzplate.lesson import CellSetup
    >>> entries, says = one_period((CellSetup("NaCl"),) * 4, 50)
    >>> sum(entry.minutes for entry in entries), says
    (50.0, 'Runs of 2.75 minutes at most.')
    """
    room = period_min - OPENING_MIN - CLOSING_MIN
    rounds, says = len(setups), ""
    while rounds > 1 and room / rounds - SET_UP_MIN - RECORD_MIN < SHORTEST_RUN_MIN:
        rounds -= 1
    longest = room / rounds - SET_UP_MIN - RECORD_MIN
    if rounds < len(setups):
        says = f"Each group does {rounds} of the {len(setups)} solutions, and the class shares its results."
    elif longest < max(setup.minutes for setup in setups):
        says = f"Runs of {longest:.3g} minutes at most."
    entries = [Planned(OPENING_MIN, "safety, predictions")]
    for k in range(rounds):
        run = min(setups[k].minutes, longest)
        what = setups[k].label if rounds == len(setups) else f"solution {k + 1} of the group"
        takes = SET_UP_MIN + run + RECORD_MIN
        entries.append(Planned(takes, f"{what}: set up, run {run:.3g} minutes, test and record"))
    entries.append(Planned(CLOSING_MIN, "clear away, collect waste, discuss"))
    return entries, says


def usual(setup: CellSetup) -> CellSetup:
    """Return a set-up as it is used in class: chlorine for no longer than five minutes."""
    return replace(setup, minutes=min(setup.minutes, 5.0)) if setup.only_calculated else setup


def in_print(formula: str) -> str:
    """Write a solid as a label does.

    Examples
    --------
    >>> in_print("CuSO4.5H2O")
    'CuSO₄·5H₂O'
    """
    return pretty(formula)
