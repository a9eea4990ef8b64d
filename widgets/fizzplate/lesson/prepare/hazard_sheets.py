"""The sheets of a lesson's hazards: bottle labels, disposal, the draft of a risk assessment."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING

from fizzplate.lesson.classroom import CHECK, DEFER, hazards, hazards_before_run, label, waste
from fizzplate.lesson.prepare.room_air import classroom_run
from fizzplate.lesson.prepare.sheet_parts import (
    closing,
    formulae_text,
    lines_to_fill,
    strength_text,
    table,
)
from fizzplate.words import say

if TYPE_CHECKING:
    from fizzplate.lesson.classroom import Hazard
    from fizzplate.lesson.state import CellSetup
    from fizzplate.words import Wording


def hazards_in_bottle(setup: CellSetup, wording: Wording) -> tuple[Hazard, ...]:
    """Return the hazards of the solution as it is made, without a crystal or the paper."""
    return tuple(
        each for each in hazards_before_run(setup.cell(), wording) if each.where == "solution"
    )


def hazards_in_use(setup: CellSetup, wording: Wording) -> tuple[Hazard, ...]:
    """Return the hazards of a group's cell, by the rule and by its run."""
    return hazards(setup.cell(), classroom_run(setup), wording)


def _cell_name(setup: CellSetup, wording: Wording) -> str:
    """Name a cell by its solution and by what else decides its hazards."""
    name = f"{setup.cell().name}, {strength_text(setup)}"
    rods = [
        say("{material} {electrode}", wording, material=material, role=role)
        for role, material in (("cathode", setup.cathode), ("anode", setup.anode))
        if material != "graphite"
    ]
    return ", ".join([name, *rods])


def labels_sheet(setups: list[CellSetup], wording: Wording) -> str:
    """Write a label for each bottle, of the fresh and of the used solution."""
    fresh = [
        _label(
            setup.cell().name, _contents(setup), label(hazards_in_bottle(setup, wording)), "made on"
        )
        for setup in setups
    ]
    used = [
        _label(
            f"Used: {_cell_name(setup, wording)}",
            "after the lesson",
            label(hazards_in_use(setup, wording)),
            "used on",
        )
        for setup in setups
    ]
    crystals = [
        each
        for setup in setups
        for each in hazards_before_run(setup.cell(), wording)
        if each.where == "crystal"
    ]
    if crystals:
        fresh.append(_label("potassium permanganate", "crystals", label(crystals), "filled on"))
    return (
        f'<div class="fp-labels">{"".join(dict.fromkeys(fresh))}</div>'
        '<h4 class="fp-used-labels">For bottles of used solution</h4>'
        f'<div class="fp-labels">{"".join(used)}</div>' + closing()
    )


def _contents(setup: CellSetup) -> str:
    return f"{formulae_text(setup)}, {strength_text(setup)}"


def _label(name: str, holds: str, hazard: str, when: str) -> str:
    return (
        f'<div class="fp-label"><strong>{escape(name)}</strong><span>{escape(holds)}</span>'
        f"<span>{escape(hazard)}</span>"
        f'<span class="fp-line">{when}: <span></span></span></div>'
    )


def disposal_sheet(setups: list[CellSetup], wording: Wording) -> str:
    """Say what is done with each used solution, step by step."""
    parts = []
    for setup in setups:
        found = hazards_in_use(setup, wording)
        steps = "".join(f"<li>{escape(step)}</li>" for step in waste(found) if step != DEFER)
        parts.append(
            f'<div class="fp-whole"><h4>Used {escape(_cell_name(setup, wording))}</h4>'
            f"<p>Label: {escape(label(found))}</p><ol>{steps}</ol></div>"
        )
    return (
        "<p>Wear eye protection. Keep each used solution by itself, and deal with it in this order.</p>"
        + "".join(parts)
        + closing()
    )


def risk_sheet(setups: list[CellSetup], wording: Wording) -> str:
    """Draft a risk assessment, which the school completes."""
    heads = (
        "What it does",
        "What to tell the class",
        "What may go wrong: usual precautions",
        "What the school does",
        "Who checked",
    )
    tables = "".join(
        '<div class="fp-risk">'
        + table(
            heads,
            [
                [each.label, each.caution, each.risk, "", ""]
                for each in hazards_in_use(setup, wording)
            ],
            _cell_name(setup, wording),
        )
        + "</div>"
        for setup in setups
    )
    return (
        lines_to_fill("Class", "Date", "Teacher", "Signed")
        + tables
        + f"<p>From memory and common practice: {CHECK}.</p>"
        + closing("Draft only.")
    )
