"""Sheets to print: the technician's order, labels, equipment, disposal, risk, worksheet, answers."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape
from typing import TYPE_CHECKING

from fizzplate.chemistry import pretty
from fizzplate.lesson.classroom import label, teacher_only
from fizzplate.lesson.prepare.amounts import amounts_for, mixing_instructions
from fizzplate.lesson.prepare.hazard_sheets import (
    disposal_sheet,
    hazards_in_bottle,
    hazards_in_use,
    labels_sheet,
    risk_sheet,
)
from fizzplate.lesson.prepare.sheet_parts import closing, lines_to_fill, strength_text, table
from fizzplate.lesson.prepare.visibility import current_range_A, milliamps
from fizzplate.lesson.prepare.worksheet import answers, worksheet
from fizzplate.words import DEFAULT_WORDING, InputError, page_quantity, page_refusal, with_unit

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fizzplate.lesson.prepare.amounts import Amount, ClassNeeds, Cupboard
    from fizzplate.lesson.state import CellSetup
    from fizzplate.words import Wording


@dataclass(frozen=True, slots=True)
class Sheet:
    """One printed sheet: a name, a title, its content as HTML, and a shorter title for its tab."""

    name: str
    title: str
    html: str
    tab: str = ""


def sheets(
    setups: tuple[CellSetup, ...],
    needs: ClassNeeds,
    wording: Wording,
    cupboards: Mapping[str, Cupboard] | None = None,
) -> list[Sheet]:
    """Make every sheet for a list of solutions, by what there is in the cupboard."""
    salts = [setup for setup in setups if setup.cell().ions_mol_dm3]
    amounts = [(setup, _amounts_or_refusal(setup, needs, cupboards or {})) for setup in salts]
    return [
        Sheet("order", "Technician's order", _order(amounts, needs, wording)),
        Sheet("labels", "Bottle labels", labels_sheet(salts, wording)),
        Sheet("equipment", "Equipment for each group", _equipment(salts, needs)),
        Sheet(
            "disposal",
            "Disposal, after the lesson",
            disposal_sheet(salts, wording),
            tab="Disposal",
        ),
        Sheet(
            "risk",
            "Risk assessment, draft to be completed by the school",
            risk_sheet(salts, wording),
            tab="Risk assessment",
        ),
        Sheet("worksheet", "Student worksheet", worksheet(salts, wording)),
        Sheet("answers", "Teacher's answers", answers(salts, wording)),
    ]


def _amounts_or_refusal(
    setup: CellSetup, needs: ClassNeeds, cupboards: Mapping[str, Cupboard]
) -> tuple[Amount, ...] | str:
    """Work out what is taken, or say why it cannot be made."""
    try:
        return amounts_for(setup, needs, cupboards)
    except InputError as refusal:
        return page_refusal(refusal)


def quantity_text(made: Amount) -> str:
    """Say what is weighed or diluted.

    Examples
    --------
    >>> from fizzplate.lesson.prepare.amounts import amount
    >>> quantity_text(amount("CuSO4", 0.5, groups=15, each_cm3=60))
    '124.8 g of CuSO₄·5H₂O'
    """
    if made.mass_g:
        return f"{page_quantity(made.mass_g, 'g')} of {pretty(made.solid)}"
    volume = page_quantity(made.stock_cm3, "cm3", ".0f" if made.stock_cm3 >= 100 else ".1f")
    return f"{volume} of {made.stock}"


def _order(
    amounts: list[tuple[CellSetup, tuple[Amount, ...] | str]], needs: ClassNeeds, wording: Wording
) -> str:
    rows = []
    for setup, made in amounts:
        name = f"{setup.cell().name}, {strength_text(setup)}"
        bottle = label(hazards_in_bottle(setup, wording))
        if isinstance(made, str):
            rows.append([name, "not made", "", "", bottle, made])
            continue
        needed = page_quantity(made[0].needed_cm3, "cm3", ".0f")
        rows.append(
            [
                name,
                f"{page_quantity(made[0].make_cm3, 'cm3')} ({needed} needed)",
                "; ".join(map(quantity_text, made)),
                mixing_instructions(made),
                bottle,
                caution_text(made),
            ]
        )
    heads = ("Solution", "Make", "Take", "Mix in this order", "Label", "Caution")
    return (
        lines_to_fill("Class", "Date", "Room")
        + f"<p>{needs.groups} groups, {page_quantity(needs.each_cm3, 'cm3')} each, "
        f"{page_quantity(needs.spare_percent, '%')} spare.</p>"
        + f'<div class="fp-technician">{table(heads, rows)}</div>'
        + closing()
    )


def caution_text(made: tuple[Amount, ...]) -> str:
    """Join the cautions of preparing, each once."""
    return " ".join(dict.fromkeys(text for each in made for text in each.notes))


def _equipment(setups: list[CellSetup], needs: ClassNeeds) -> str:
    """List what the groups need, and apart from it what only the teacher does."""
    shown = [setup for setup in setups if teacher_only(setup.cell())]
    done = [setup for setup in setups if setup not in shown]
    parts = [
        (f"{needs.groups} sets of:", done),
        ("1 set, for the teacher's demonstrations:", shown),
    ]
    return "".join(f"<p>{escape(head)}</p>{_set(which)}" for head, which in parts if which)


def _set(setups: list[CellSetup]) -> str:
    rods = sorted(
        {f"{setup.cathode} rod" for setup in setups} | {f"{setup.anode} rod" for setup in setups}
    )
    lamps = sorted({setup.lamp for setup in setups if setup.lamp != "none"})
    items = [
        *sorted({f"1 {setup.vessel}" for setup in setups}),
        *(f"2 × {rod}" if len(rods) == 1 else f"1 × {rod}" for rod in rods),
        _supply(setups),
        *(f"1 lamp, {lamp}, with holder" for lamp in lamps),
        "3 leads with clips",
        "2 small tubes, splints, damp blue litmus paper",
        *(["damp starch-iodide paper, for chlorine"] if any(map(_gives_chlorine, setups)) else []),
        "eye protection for everyone",
        *dict.fromkeys(
            item
            for setup in setups
            for each in hazards_in_use(setup, DEFAULT_WORDING)
            for item in each.equipment
        ),
    ]
    listed = "".join(f"<li>☐ {escape(item)}</li>" for item in items)
    return f"<ul>{listed}</ul>"


def _supply(setups: list[CellSetup]) -> str:
    """Name the supply by its voltages and the currents that it must give."""
    volts = sorted({setup.supply_V for setup in setups if setup.supply_V is not None})
    ranges = [current_range_A(setup) for setup in setups]
    what = "1 low-voltage d.c. supply"
    if volts:
        what += f", {with_unit(' and '.join(f'{each:g}' for each in volts), 'V')}"
    if any(setup.current_A is not None for setup in setups):
        what += ", at a constant current"
    if ranges:
        least, most = min(map(min, ranges)), max(map(max, ranges))
        to = with_unit(milliamps(most, 2), "mA")
        what += f", for currents from {milliamps(least, 2)} to {to} (by the model)"
    return what


def _gives_chlorine(setup: CellSetup) -> bool:
    return any(each.species == "Cl2" for each in hazards_in_use(setup, DEFAULT_WORDING))
