"""The half-equation workshop: write both half-equations of a cell, then the overall equation."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any

import traitlets

from fizzplate.cell import Cell
from fizzplate.chemistry import classroom_rule, melts, pretty, solutions
from fizzplate.lesson.equations import (
    EquationTask,
    dissolved_compounds,
    half_task,
    known_species,
    overall_task,
)
from fizzplate.views.web import Widget

if TYPE_CHECKING:
    from fizzplate.lesson import Wording

#: usual cells with an active anode, in addition to every solution between graphite rods
ACTIVE = (("CuSO4", "copper"), ("AgNO3", "silver"), ("ZnSO4", "zinc"))


@cache
def workshop_data(wording: Wording) -> dict[str, Any]:
    """Give every task as plain data: the page judges what is written without asking Python.

    Parameters
    ----------
    wording
        The board's: which form is shown first, and how the electrodes are called.

    Examples
    --------
    >>> from fizzplate.lesson import Wording
    >>> workshop_data(Wording())["cells"][0]["label"]
    'sodium sulfate, Na₂SO₄'
    """
    made: dict[str, Any] = {}
    cells = []
    for formula, anode in (
        *((each, "graphite") for each in solutions()),
        *ACTIVE,
        *((each, "graphite") for each in melts()),
    ):
        cell = Cell(formula, concentration_mol_dm3=0.1, anode=anode)
        rule = classroom_rule(
            cell.ions_mol_dm3, anode=cell.anode, cathode=cell.cathode, wording=wording
        )
        halves = (rule.cathode.half_equation, rule.anode.half_equation)
        products = (rule.cathode.product, rule.anode.product)
        parts = {
            "cathode": half_task(halves[0], products[0], "cathode", wording),
            "anode": half_task(halves[1], products[1], "anode", wording),
            "overall": overall_task(halves[0], products[0], halves[1], products[1], wording),
        }
        names = {}
        for part, task in parts.items():
            if task is not None:
                names[part] = f"{part}: {task.hints[-1]}"
                made[names[part]] = plain_task(task)
        rods = "" if anode == "graphite" else f", {anode} electrode at the plus terminal"
        cells.append({"label": f"{cell.name}, {pretty(formula)}{rods}", **names})
    titles = {"cathode": wording.title("cathode"), "anode": wording.title("anode")}
    return {
        "species": plain_species(),
        "tasks": made,
        "cells": cells,
        "titles": {**titles, "overall": "Overall"},
    }


def plain_species() -> dict[str, list[Any]]:
    """Give atoms and charge of every species that an equation may hold, and the ions of compounds."""
    plain: dict[str, list[Any]] = {
        name: [dict(atoms), charge] for name, (atoms, charge) in known_species().items()
    }
    for name, ions in dissolved_compounds().items():
        plain[name] = [*plain.get(name, [{}, 0]), ions]
    return plain


def plain_task(task: EquationTask) -> dict[str, Any]:
    """Give a task as plain data that the page judges from."""
    return {
        "prompt": task.prompt,
        "accepted": [dict(net) for net in task.accepted],
        "goal": task.goal,
        "hints": list(task.hints),
        "tiles": [{"text": tile, "label": pretty(tile)} for tile in task.tiles],
    }


class Workshop(Widget):
    """Tiles and lines to write equations with, checked in the page.

    Parameters
    ----------
    wording
        The board's.
    """

    module = "workshop/workshop.js"
    render = "renderWorkshop"

    data = traitlets.Dict(help="Tasks, accepted forms and hints.").tag(sync=True)

    def __init__(self, wording: Wording) -> None:
        super().__init__(data=workshop_data(wording))

    def word(self, wording: Wording) -> None:
        """Ask in another board's wording; what was written stays."""
        self.data = workshop_data(wording)
