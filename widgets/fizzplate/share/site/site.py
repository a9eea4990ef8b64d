"""Write a site: its pages, what they load, and what works without a network."""

from __future__ import annotations

from dataclasses import asdict, replace
from typing import TYPE_CHECKING, Any

from fizzplate.lesson import from_query, write_cell
from fizzplate.lesson.classroom import investigations
from fizzplate.lesson.prepare import ClassNeeds, sheets
from fizzplate.lesson.state import LinkState, each_apart, without_melts
from fizzplate.share.site.cells import choices, every_solution
from fizzplate.share.site.explore import investigations_data, write_sweeps
from fizzplate.share.site.folder import Folder
from fizzplate.share.site.pages import HOME, is_own_home, write_pages
from fizzplate.share.site.questions import write_sets
from fizzplate.share.site.runs import write_runs
from fizzplate.share.takeaway import Block
from fizzplate.views.inquiry import PARTS
from fizzplate.views.workshop import plain_species, workshop_data

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path

    from fizzplate.lesson import CellSetup, Wording

OPTIONS = ("ask",)
NEEDS = ClassNeeds(groups=15, each_cm3=60, spare_percent=10, balance_g=0.1)
PRACTICAL = "The class practical"


class SiteError(ValueError):
    """No site can be made from these lists; the sentence says why."""


def write_site(
    path: Path,
    list_queries: Sequence[str] = (),
    *,
    every: bool = False,
    workers: int = 1,
    progress: Callable[[str, int, int], None] = lambda _what, _done, _count: None,
) -> dict[str, int]:
    """Write a folder of static files, which work under any address of any web space.

    Parameters
    ----------
    path
        The folder. What it holds of an earlier time is used again where nothing about it has changed;
        files that no longer belong to the site are left alone.
    list_queries
        Queries of links to the Demonstrate page: lists to offer by a press. The board of the first is that
        of all pages.
    every
        Whether every solution that is offered is there, besides the lists.
    workers
        How many processes work runs out.
    progress
        Called with what is worked out, how many of it are there, and how many there will be.

    Returns
    -------
    dict
        Size of each file in bytes, by its name in the folder.

    Raises
    ------
    SiteError
        If a part of a link cannot be read, or the folder holds another website.
    OSError
        If the folder cannot be written.
    """
    states = [_read(query) for query in list_queries] or [LinkState()]
    wording = states[0].wording
    lists = [each_apart(state.cells) for state in states]
    if every and LinkState().cells not in lists:
        lists.append(LinkState().cells)
    home = path / HOME
    if home.is_file() and not is_own_home(home.read_text(encoding="utf-8", errors="replace")):
        raise SiteError(
            f"{path} holds another website ({HOME}). Use a folder of its own for this one."
        )
    folder = Folder(path)
    listed = _cells_of(lists, every=every)
    offered = [choices(each) for each in listed]
    if every:
        there = {each for cells in offered for each in cells}
        asked = [setup for each in investigations() for setup in each.setups]
        offered += [(setup,) for setup in dict.fromkeys(asked) if setup not in there]
    offers = [
        offer
        for offer in write_runs(folder, offered, wording, workers=workers, progress=progress)
        if offer
    ]
    catalogue = {
        "species": plain_species(),
        "offers": offers,
        "lists": [
            {"name": _list_name(cells, wording), "cells": [write_cell(each) for each in cells]}
            for cells in lists
        ],
    }
    practicals = [(_list_name(cells, wording), cells) for cells in lists]
    if every:
        practicals += [(f"Investigation: {each.name}", each.setups) for each in investigations()]
    keys = {key for offer in offers for key in offer["keys"]}
    swept = [cells for cells in offered if not cells[0].is_melt and not cells[0].changes]
    sweeps = write_sweeps(folder, _pairs_of(swept), wording, workers=workers, progress=progress)
    data = {
        "cells": folder.write_named_by_content("data/cells", ".txt", Block().text(catalogue)),
        "workshop": folder.write_named_by_content("data/workshop", ".txt", _workshop(wording)),
        "explore": folder.write_named_by_content(
            "data/explore",
            ".txt",
            _packed(investigations_data(wording) | {"files": sweeps, "parts": _phone_parts()}),
        ),
        "sheets": folder.write_named_by_content(
            "data/sheets", ".txt", _sheets(practicals, wording)
        ),
        "sets": folder.write_named_by_content(
            "data/sets",
            ".txt",
            Block().text(write_sets(folder, keys, wording, workers=workers, progress=progress)),
        ),
    }
    write_pages(folder, data, catalogue)
    return folder.written


def _read(query: str) -> LinkState:
    state, left_out = from_query(query, OPTIONS)
    if left_out:
        raise SiteError(" ".join(left_out))
    return state


def _cells_of(lists: Sequence[Sequence[CellSetup]], *, every: bool) -> list[CellSetup]:
    """Return the cells of all lists, each once, and every other solution."""
    wanted = [each for cells in lists for each in cells]
    if every:
        wanted += every_solution()
    return list(dict.fromkeys(replace(each, beside="") for each in wanted))


def _pairs_of(offered: Sequence[Sequence[CellSetup]]) -> list[CellSetup]:
    """Return each listed cell with each of its pairs of electrodes, everything else as listed."""
    return [
        each
        for cells in offered
        for each in cells
        if replace(each, cathode=cells[0].cathode, anode=cells[0].anode) == cells[0]
    ]


def _list_name(cells: Sequence[CellSetup], wording: Wording) -> str:
    if tuple(cells) == LinkState().cells:
        return PRACTICAL
    return ", ".join(each.label_in(wording) for each in cells)


def _workshop(wording: Wording) -> str:
    block = Block()
    return block.text({"workshop": block.fold(workshop_data(wording))})


def _sheets(practicals: Sequence[tuple[str, Sequence[CellSetup]]], wording: Wording) -> str:
    """Return the sheets of each practical, for a class in pairs."""
    block = Block()
    made = [
        {
            "name": name,
            "sheets": [
                asdict(sheet) for sheet in sheets(without_melts(tuple(cells), []), NEEDS, wording)
            ],
        }
        for name, cells in practicals
    ]
    return block.text({"lists": block.fold(made), "groups": NEEDS.groups})


def _phone_parts() -> dict[str, str]:
    """Return the parts of Explore on a phone; a site has a page of its own for equations."""
    return {name: label for name, label in PARTS.items() if name != "equations"}


def _packed(plain: dict[str, Any]) -> str:
    block = Block()
    return block.text(block.fold(plain))
