"""The runs of a site, each in a file of its own, worked out once."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from importlib import resources
from pathlib import PurePath
from typing import TYPE_CHECKING, Any

from fizzplate.lesson import write_cell
from fizzplate.share.site.folder import digest
from fizzplate.share.site.processes import in_processes
from fizzplate.share.takeaway import offer_of, run_text, snapshots

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence
    from importlib.resources.abc import Traversable

    from fizzplate.lesson import CellSetup, Wording
    from fizzplate.share.site.folder import Folder

CODE = {".py", ".csv", ".toml", ".json", ".j2"}  # what a run follows from
NO_RUN = "no run"  # what a file says of a cell that the model cannot calculate
MAX_TOGETHER = 8  # runs that one task works out: few enough that an interruption costs little


@dataclass(frozen=True, slots=True)
class Task:
    """Runs to work out together: cells that differ in concentration, electrodes, vessel and lamp."""

    setups: tuple[CellSetup, ...]
    wording: Wording


@cache
def model_digest() -> str:
    """Return a name for what all runs follow from: this package's own code and tables."""

    def texts(folder: Traversable) -> Iterable[str]:
        for each in sorted(folder.iterdir(), key=lambda found: found.name):
            if each.is_dir():
                yield from texts(each)
            elif PurePath(each.name).suffix in CODE:
                yield each.name + each.read_text(encoding="utf-8")

    return digest("\n".join(texts(resources.files("fizzplate"))))


def run_file(setup: CellSetup, wording: Wording) -> str:
    """Return the name of a run's file: it changes with the cell, the board's words and the model."""
    return f"runs/{digest(f'{write_cell(setup)} {wording} {model_digest()}')}.txt"


def write_runs(
    folder: Folder,
    offered: Sequence[Sequence[CellSetup]],
    wording: Wording,
    *,
    workers: int,
    progress: Callable[[str, int, int], None],
) -> list[dict[str, Any]]:
    """Work out what is not there yet, and return what menus offer of each cell, with its runs' files.

    Parameters
    ----------
    folder
        Of the site.
    offered
        Cells, each with what can be chosen instead of it, itself first.
    wording
        The board's.
    workers
        How many processes work.
    progress
        Called with "runs", how many are there, and how many there will be.
    """
    every = dict.fromkeys(setup for each in offered for setup in each)
    # cells that are solved side by side change each other's last digits: the same go together each time
    tasks = [
        Task(setups, wording)
        for setups in _together(every)
        if not all(folder.has(run_file(setup, wording)) for setup in setups)
    ]
    done = len(every) - sum(len(task.setups) for task in tasks)
    progress("runs", done, len(every))
    for made in in_processes(_work_out, tasks, workers):
        for setup, text in made:
            folder.write(run_file(setup, wording), text)
        done += len(made)
        progress("runs", done, len(every))
    return [_offer(folder, each, wording) for each in offered]


def _offer(folder: Folder, setups: Sequence[CellSetup], wording: Wording) -> dict[str, Any]:
    """Return what menus offer of a cell: only what the model could calculate."""
    files = {setup: run_file(setup, wording) for setup in setups}
    there = [each for each in setups if (folder.path / files[each]).read_text() != NO_RUN]
    if setups[0] not in there:
        return {}
    offer = offer_of(setups[0], there, wording)
    labels = [each.label_in(wording) for each in there]
    return offer | {"files": [files[each] for each in there], "labels": labels}


def _together(setups: Iterable[CellSetup]) -> list[tuple[CellSetup, ...]]:
    """Put cells that can be solved side by side into groups."""
    groups: dict[tuple[object, ...], list[CellSetup]] = {}
    for each in setups:
        key = (each.solution, each.also, each.cathode, each.anode, each.vessel, each.minutes)
        groups.setdefault((*key, each.changes), []).append(each)
    return [
        tuple(group[first : first + MAX_TOGETHER])
        for group in groups.values()
        for first in range(0, len(group), MAX_TOGETHER)
    ]


def _work_out(task: Task) -> list[tuple[CellSetup, str]]:
    """Return the text of each run's file."""
    made = {each.setup: each for each in snapshots(task.setups, task.wording, asking=True)}
    return [(setup, run_text(made[setup]) if setup in made else NO_RUN) for setup in task.setups]
