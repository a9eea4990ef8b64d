"""The air of the room: chlorine and bromine vapour against their limits, hydrogen, alkali."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING

from fizzplate.lesson.classroom import DEFER
from fizzplate.lesson.prepare import (
    CHECK_LIMIT,
    HYDROGEN_BURNS_PERCENT,
    alkali_mmol,
    cell_count,
    halogen_budget_of,
    hydrogen_budget,
    hydrogen_cm3,
    total_hydrogen,
)
from fizzplate.lesson.state import MAX_CHLORINE_RUN_MINUTES
from fizzplate.views.pages.prepare_visibility import refusal_of
from fizzplate.views.web import render
from fizzplate.words import page_quantity, say

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from markupsafe import Markup

    from fizzplate.lesson import CellSetup, Wording
    from fizzplate.lesson.prepare import HalogenBudget

MIN_HYDROGEN_CM3 = 0.01  # less is not listed
MIN_ALKALI_MMOL = 0.01
PRODUCED = {"Cl2": "chlorine", "Br2": "bromine vapour"}


def air_tables(
    setups: Iterable[CellSetup],
    groups: int,
    room_m3: float,
    air_changes_h: float,
    wording: Wording,
) -> Markup:
    """Write what the class's cells give off, and how near the room's air comes to a limit."""
    usable = [setup for setup in setups if refusal_of(setup) is None]
    hydrogen, room = _hydrogen(usable, groups, room_m3, wording)
    alkali = "; ".join(
        f"{setup.label_in(wording)}: {made:.2g} mmol"
        for setup in usable
        if (made := alkali_mmol(setup)) > MIN_ALKALI_MMOL
    )
    gases = [_row(setup, groups, room_m3, air_changes_h, wording) for setup in usable]
    written = {
        "gases": [row for row in gases if row],
        "max_chlorine_run_minutes": f"{MAX_CHLORINE_RUN_MINUTES:g}",
        "hydrogen": hydrogen,
        "alkali": alkali,
        "alkali_at": say("Hydroxide at {the_cathode} of one group:", wording),
    }
    return render("pages/templates/air.html.j2", room=room, defer=DEFER, **written)


def _row(
    setup: CellSetup, groups: int, room_m3: float, air_changes_h: float, wording: Wording
) -> list[str]:
    found = _air_of(setup, cell_count(setup, groups), room_m3, air_changes_h)
    if found is None:
        return []
    return [
        setup.label_in(wording),
        f"{found.group_mg:.2g} mg of {PRODUCED[found.gas]}",
        f"{found.class_mg:.3g} mg",
        f"{found.concentration_mg_m3:.2g} mg/m³",
        f"{found.limit_mg_m3:g} mg/m³ ({CHECK_LIMIT})",
        f"{found.stop_min:.2g} min" if math.isfinite(found.stop_min) else "never",
    ]


def _hydrogen(
    setups: Sequence[CellSetup], groups: int, room_m3: float, wording: Wording
) -> tuple[list[list[str]], str]:
    """Say how much hydrogen there is, and whether the room or a collected tube is the hazard."""
    found = [
        (
            setup.label_in(wording),
            hydrogen_budget(cm3, groups=cell_count(setup, groups), room_m3=room_m3),
        )
        for setup in setups
        if (cm3 := _hydrogen_cm3(setup)) > MIN_HYDROGEN_CM3
    ]
    if not found:
        return [], ""
    found.append(("all together", total_hydrogen(each for _, each in found)))
    rows = [
        [
            label,
            page_quantity(each.group_cm3, "cm3", ".2g"),
            page_quantity(each.class_cm3, "cm3", ".3g"),
            f"{each.share_percent:.1g} %" if each.share_percent >= 1e-4 else "below 0.0001 %",
        ]
        for label, each in found
    ]
    burns = HYDROGEN_BURNS_PERCENT
    if found[-1][1].share_percent < burns / 100:
        return rows, (
            f"Hydrogen burns in air from {burns:g} % upwards, and this is far below. The hazard is a tube of "
            "collected gas, not the room."
        )
    return rows, (
        f"Hydrogen burns in air from {burns:g} % upwards. This room is too small or has too little fresh "
        "air: make less hydrogen and air the room. A tube of collected gas is a hazard too."
    )


@lru_cache(maxsize=64)
def _air_of(
    setup: CellSetup, groups: int, room_m3: float, air_changes_h: float
) -> HalogenBudget | None:
    return halogen_budget_of(setup, groups=groups, room_m3=room_m3, air_changes_h=air_changes_h)


@lru_cache(maxsize=64)
def _hydrogen_cm3(setup: CellSetup) -> float:
    return hydrogen_cm3(setup)
