"""What Explore of a site has besides cells: sweeps and investigations that are worked out beforehand."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Any

from fizzplate.cell.solver import ConvergenceError
from fizzplate.lesson import write_cell
from fizzplate.lesson.classroom import SWEEPS, investigations, sweep
from fizzplate.questions import Point
from fizzplate.share.site.folder import digest
from fizzplate.share.site.processes import in_processes
from fizzplate.share.site.runs import model_digest
from fizzplate.views.figures import sweep_figure
from fizzplate.words import InputError, board_slots, say

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from fizzplate.lesson import CellSetup, Wording
    from fizzplate.share.site.folder import Folder

NO_SWEEP = ""


@dataclass(frozen=True, slots=True)
class SweepTask:
    """A sweep to draw."""

    kind: str
    setup: CellSetup
    wording: Wording

    @property
    def file(self) -> str:
        """Name of its file: it changes with the cell, the board's words and the model."""
        key = write_cell(self.setup)
        return f"sweeps/{digest(f'{self.kind} {key} {self.wording} {model_digest()}')}.txt"


def write_sweeps(
    folder: Folder,
    listed: Iterable[CellSetup],
    wording: Wording,
    *,
    workers: int,
    progress: Callable[[str, int, int], None],
) -> dict[str, dict[str, str]]:
    """Draw the sweeps of cells that are not drawn yet; return their files by cell and kind.

    A sweep that a cell cannot have is left out.
    """
    every = [SweepTask(kind, setup, wording) for setup in listed for kind in SWEEPS]
    missing = [each for each in every if not folder.has(each.file)]
    done = len(every) - len(missing)
    progress("sweeps", done, len(every))
    for name, drawn in in_processes(_drawn, missing, workers):
        folder.write(name, drawn)
        done += 1
        progress("sweeps", done, len(every))
    files: dict[str, dict[str, str]] = {}
    for each in every:
        if (folder.path / each.file).read_text(encoding="utf-8") != NO_SWEEP:
            files.setdefault(write_cell(each.setup), {})[each.kind] = each.file
    return files


def _drawn(task: SweepTask) -> tuple[str, str]:
    try:
        found = sweep(task.kind, task.setup, task.wording)
    except (ConvergenceError, InputError):
        return task.file, NO_SWEEP
    return task.file, str(sweep_figure(found))


def investigations_data(wording: Wording) -> dict[str, Any]:
    """Return every investigation with its cells, its model answer and what a conclusion should say."""
    every = investigations(wording)
    return {
        "items": [
            {
                "name": each.name,
                "question": each.question,
                "vary": each.vary,
                "lookFor": each.look_for,
            }
            for each in every
        ],
        "cells": {each.name: [write_cell(setup) for setup in each.setups] for each in every},
        "sweeps": {each.name: each.sweep for each in every},
        "answers": {each.name: each.answer_sentence().fill(board_slots(wording)) for each in every},
        "points": {
            each.name: [
                asdict(Point(say(point.name, wording), point.words)) for point in each.points
            ]
            for each in every
        },
    }
