"""What a class puts into the air of its room and into its beakers: halogens, hydrogen, alkali."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from fizzplate.chemistry import classroom_rule, molar_mass_g_mol
from fizzplate.words import number

if TYPE_CHECKING:
    from collections.abc import Iterable

    from fizzplate.cell import Run
    from fizzplate.lesson.state import CellSetup

CHLORINE_LIMIT_MG_M3 = 1.5  # 0.5 ppm over 15 minutes, often used; from memory
BROMINE_LIMIT_MG_M3 = 0.7  # 0.1 ppm over 15 minutes; from memory
HYDROGEN_BURNS_PERCENT = 4.0  # by volume, in air
CHECK_LIMIT = "from memory: check your own rules"


@dataclass(frozen=True, slots=True)
class HalogenBudget:
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


def check_room(room_m3: float, air_changes_h: float) -> None:
    """Refuse a volume or an air change that no room has."""
    number("room_m3", room_m3, unit="m³", above=0, maximum=100_000)
    number("air_changes_h", air_changes_h, unit="an hour", minimum=0, maximum=60)


def halogen_budget(
    gas: str, rate_mg_s: float, minutes: float, *, groups: int, room_m3: float, air_changes_h: float
) -> HalogenBudget:
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
    >>> found = halogen_budget("Cl2", 0.0735 * 1, 5, groups=15, room_m3=200, air_changes_h=0)
    >>> round(found.group_mg), round(found.concentration_mg_m3, 2)
    (22, 1.65)
    """
    check_room(room_m3, air_changes_h)
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
    return HalogenBudget(
        gas, rate_mg_s * seconds, groups * rate_mg_s * seconds, level, limit, stop / 60
    )


@lru_cache(maxsize=64)
def classroom_run(setup: CellSetup) -> Run:
    """Run a cell as a group of the class does; the run is cached."""
    return setup.cell().run(minutes=setup.minutes, samples=5)


def halogen_budget_of(
    setup: CellSetup, *, groups: int, room_m3: float, air_changes_h: float
) -> HalogenBudget | None:
    """Work out the budget of a cell by its run; nothing where it gives no halogen.

    Examples
    --------
    >>> from fizzplate.lesson import CellSetup
    >>> halogen_budget_of(CellSetup("Na2SO4"), groups=15, room_m3=200, air_changes_h=2) is None
    True
    """
    cell = setup.cell()
    if not cell.ions_mol_dm3:
        return None
    run = classroom_run(setup)
    for gas in ("Cl2", "Br2"):
        made_mol = float(run.anode.amount_mol(gas)[-1])
        if made_mol > 1e-9:
            rate = 1e3 * made_mol * molar_mass_g_mol(gas) / (60 * setup.minutes)
            return halogen_budget(
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
    >>> round(alkali_mmol(CellSetup("NaCl", lamp="none", supply_V=None, current_A=0.2)), 2)
    0.62
    """
    cell = setup.cell()
    if not cell.ions_mol_dm3 or "H+" in cell.ions_mol_dm3:
        return 0.0
    rule = classroom_rule(cell.ions_mol_dm3, anode=cell.anode, cathode=cell.cathode)
    if rule.cathode.product != "H2":
        return 0.0
    run = classroom_run(setup)
    return 2e3 * float(run.cathode.amount_mol("H2")[-1])


def hydrogen_cm3(setup: CellSetup) -> float:
    """Return the hydrogen that one group makes, cm3, dry.

    Examples
    --------
    >>> from fizzplate.lesson import CellSetup
    >>> round(hydrogen_cm3(CellSetup("Na2SO4", lamp="none", supply_V=None, current_A=0.2)), 1)
    7.6
    """
    cell = setup.cell()
    if not cell.ions_mol_dm3:
        return 0.0
    return float(classroom_run(setup).cathode.gas_cm3("H2")[-1])


@dataclass(frozen=True, slots=True)
class HydrogenBudget:
    """What hydrogen a class makes, against the share from which it burns.

    Parameters
    ----------
    group_cm3, class_cm3
        Made by one group, and by all, dry.
    share_percent
        Of the room's air, all of it there and well mixed.
    """

    group_cm3: float
    class_cm3: float
    share_percent: float


def hydrogen_budget(group_cm3: float, *, groups: int, room_m3: float) -> HydrogenBudget:
    """Work out which share of the room's air the hydrogen of a class would be.

    Examples
    --------
    >>> hydrogen_budget(7.6, groups=15, room_m3=200)
    HydrogenBudget(group_cm3=7.6, class_cm3=114.0, share_percent=5.7e-05)
    """
    number("room_m3", room_m3, unit="m³", above=0)
    class_cm3 = groups * group_cm3
    return HydrogenBudget(group_cm3, class_cm3, 100 * class_cm3 / (1e6 * room_m3))


def total_hydrogen(budgets: Iterable[HydrogenBudget]) -> HydrogenBudget:
    """Add up what several solutions give.

    Examples
    --------
    >>> total_hydrogen([HydrogenBudget(2.0, 30.0, 1e-4), HydrogenBudget(5.0, 5.0, 2e-5)]).class_cm3
    35.0
    """
    each = list(budgets)
    return HydrogenBudget(
        sum(one.group_cm3 for one in each),
        sum(one.class_cm3 for one in each),
        sum(one.share_percent for one in each),
    )
