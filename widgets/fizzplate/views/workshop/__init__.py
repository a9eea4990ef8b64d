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
    from fizzplate.cell import CellLike
    from fizzplate.lesson import CellSetup, Wording

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
        own = _tasks_of(cell, wording)
        made |= {name: plain_task(task) for name, task in own.values()}
        names = {part: name for part, (name, _) in own.items()}
        cells.append({"label": _labels(cell)[-1], **names})
    titles = {"cathode": wording.title("cathode"), "anode": wording.title("anode")}
    return {
        "species": plain_species(),
        "tasks": made,
        "cells": cells,
        "titles": {**titles, "overall": "Overall"},
    }


def _tasks_of(cell: CellLike, wording: Wording) -> dict[str, tuple[str, EquationTask]]:
    """Return by part of the workshop what there is to write for a cell, with a name by what is right."""
    rule = classroom_rule(
        cell.ions_mol_dm3,
        anode=cell.anode,
        cathode=cell.cathode,
        wording=wording,
    )
    cathode, anode = rule.cathode, rule.anode
    halves = (cathode.half_equation, cathode.product, anode.half_equation, anode.product)
    tasks = {
        "cathode": half_task(*halves[:2], "cathode", wording),
        "anode": half_task(*halves[2:], "anode", wording),
        "overall": overall_task(*halves, wording),
    }
    return {
        part: (f"{part}: {task.hints[-1]}", task)
        for part, task in tasks.items()
        if task is not None
    }


def _labels(cell: CellLike) -> list[str]:
    """Name a cell as the workshop's list does: without its electrodes, with its anode, with both."""
    formulae = cell.solution_formulae if cell.melt is None else (cell.melt.formula,)
    labels = [f"{cell.name}, {' + '.join(map(pretty, formulae))}"]
    for material, terminal in ((cell.anode, "plus"), (cell.cathode, "minus")):
        if material != "graphite":
            labels.append(f"{labels[-1]}, {material} electrode at the {terminal} terminal")
    return labels


def own_cell(setup: CellSetup, wording: Wording, *, may_tell: bool) -> dict[str, Any]:
    """Give the page's own cell as the workshop shows it: nothing of a liquid without ions.

    Parameters
    ----------
    setup
        The cell.
    wording
        The board's.
    may_tell
        Whether what forms in it may be named: what there is to write names it.

    Examples
    --------
    >>> from fizzplate.lesson import CellSetup, Wording
    >>> own_cell(CellSetup("NaCl"), Wording(), may_tell=True)["label"]
    'sodium chloride, NaCl'
    >>> own_cell(CellSetup("NaCl", anode="copper"), Wording(), may_tell=False)
    {'label': 'sodium chloride, NaCl, copper electrode at the plus terminal', 'mayTell': False}
    """
    cell = setup.cell()
    if not cell.ions_mol_dm3:
        return {}
    tasks = _tasks_of(cell, wording)
    names = {part: name for part, (name, _) in tasks.items()}
    known = workshop_data(wording)["cells"]
    labels = _labels(cell)
    listed = [each for each in labels if {"label": each, **names} in known]
    if listed:
        return {"label": listed[0], "mayTell": may_tell}
    label = labels[-1]
    if any(each["label"] == label for each in known):  # so strong, something else forms
        label = f"{label}, {setup.strength_text}"
    own: dict[str, Any] = {"label": label, "mayTell": may_tell}
    if may_tell:
        own["cell"] = {"label": label, **names}
        own["tasks"] = {name: plain_task(task) for name, task in tasks.values()}
    return own


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
    own = traitlets.Dict(
        help="The page's own cell: its label, whether what forms may be told, its tasks if data has none."
    ).tag(sync=True)

    def __init__(self, wording: Wording) -> None:
        super().__init__(data=workshop_data(wording))

    def word(self, wording: Wording) -> None:
        """Ask in another board's wording; what was written stays."""
        self.data = workshop_data(wording)

    def follow(self, setup: CellSetup, wording: Wording, *, may_tell: bool) -> None:
        """Turn to the page's own cell, unless something is written for another."""
        self.own = own_cell(setup, wording, may_tell=may_tell)
