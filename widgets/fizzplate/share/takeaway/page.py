"""Write the page: styles, program, runs and questions in one file that requests nothing else."""

from __future__ import annotations

import base64
import hashlib
import json
import re
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from functools import cache, partial
from html import escape
from importlib import resources
from importlib.metadata import version
from multiprocessing import get_context
from string import Template
from typing import TYPE_CHECKING, Any

from fizzplate.lesson import from_query, to_query
from fizzplate.lesson.state import MAX_CELLS, each_apart
from fizzplate.questions import read_set, write_set
from fizzplate.share.takeaway.about import Origin, about
from fizzplate.share.takeaway.cell_block import CellBlock, cell_block
from fizzplate.share.takeaway.packing import Block
from fizzplate.share.takeaway.question_set import quiz_state
from fizzplate.share.takeaway.shortening import short_program, short_style
from fizzplate.share.takeaway.snapshots import snapshots
from fizzplate.share.takeaway.variants import PLANS, variants
from fizzplate.views.web import ONLY_SERVED, join_in_a_scope, style_text
from fizzplate.views.workshop import plain_species, workshop_data

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from fizzplate.lesson import CellSetup, Wording
    from fizzplate.lesson.state import LinkState
    from fizzplate.questions import QuestionSet

MAX_BYTES = 3_000_000
FEW_CELLS = 12  # a list up to here has runs without its lamp
OPTIONS = ("ask",)
_STYLE = re.compile(r"<style[^>]*>(.*?)</style>", re.DOTALL)


class TakeAwayError(ValueError):
    """No page can be made from this list or set; the sentence says why."""


@dataclass(frozen=True, slots=True)
class _Cell:
    """What goes into a file of one cell: its runs, citations by their keys, the styles of the drawings."""

    block: CellBlock
    sources: dict[str, str]
    styles: set[str]


def take_away_page(
    list_query: str = "",
    *,
    set_query: str = "",
    made_on: date | None = None,
    workers: int = 1,
) -> str:
    """Return a page that holds the runs of a list, and needs no server and no network.

    Parameters
    ----------
    list_query
        The query of a link to the Demonstrate page; the class practical, if it is empty.
    set_query
        The query of a link to the Revise page, whose questions the page asks; set 1, if it is empty.
    made_on
        The day that the page names; today's, if not given.
    workers
        How many processes work the cells out; more than one only from a program whose main module can be
        imported without running it.

    Raises
    ------
    TakeAwayError
        If a part of a link cannot be read, the model cannot follow a cell, or the list is too long.

    Examples
    --------
    >>> take_away_page("v=1&cells=Unobtainium")
    Traceback (most recent call last):
        ...
    fizzplate.share.takeaway.page.TakeAwayError: 'Unobtainium' was left out: no such solution is offered here.
    """
    state, left_out = from_query(list_query, OPTIONS)
    question, left_out_too = read_set(set_query)
    if left_out or left_out_too:
        raise TakeAwayError(" ".join([*left_out, *left_out_too]))
    state = _with_each_apart(state)
    question = replace(question, wording=state.wording)
    day = made_on or datetime.now(tz=UTC).astimezone().date()
    origin = Origin(to_query(state), write_set(question), version("fizzplate"), day)
    first = 0 if len(state.cells) <= FEW_CELLS else 1
    for plan in PLANS[first:]:
        text = _page(state, question, _worked_out(state, plan, workers), origin)
        if len(text.encode()) <= MAX_BYTES:
            return text
    raise TakeAwayError(
        f"The runs of these {len(state.cells)} cells need more than {MAX_BYTES / 1e6:g} MB: "
        "take cells off the list, or make them run for a shorter time."
    )


def _with_each_apart(state: LinkState) -> LinkState:
    """Return a list in which two cells that stand beside each other come one after the other."""
    before = each_apart(state.cells[: state.open])
    return replace(state, cells=each_apart(state.cells), open=min(len(before), MAX_CELLS - 1))


def _worked_out(state: LinkState, plan: str, workers: int) -> list[_Cell]:
    asking = state.options.get("ask") != "off"
    one = partial(_cell, plan=plan, wording=state.wording, asking=asking)
    if workers == 1 or len(state.cells) == 1:
        return [one(setup) for setup in state.cells]
    # fresh processes: a forked one may inherit a lock that nobody opens
    with ProcessPoolExecutor(workers, mp_context=get_context("spawn")) as pool:
        return list(pool.map(one, state.cells))


def _cell(setup: CellSetup, *, plan: str, wording: Wording, asking: bool) -> _Cell:
    made = snapshots(variants(setup, plan), wording, asking=asking)
    if not any(each.setup == setup for each in made):
        raise TakeAwayError(
            f"{setup.label}: the model could not calculate this cell; try another voltage or concentration."
        )
    return _Cell(
        cell_block(setup, made, wording),
        {key: citation for each in made for key, citation in each.sources.items()},
        _styles(chart["svg"] for each in made for chart in each.on["charts"]),
    )


def _page(state: LinkState, question: QuestionSet, cells: Sequence[_Cell], origin: Origin) -> str:
    offers = [each.block.offer for each in cells]
    questions = quiz_state(question, {key for offer in offers for key in offer["keys"]})
    block = Block()
    shared = block.text(
        {
            "quiz": block.fold(questions),
            "workshop": block.fold(workshop_data(state.wording)),
            "species": plain_species(),
        }
    )
    script = _program()
    style = short_style(style_text(ONLY_SERVED) + _own("takeaway.css"))
    drawn = _styles(each["chart"] for each in questions["state"]["questions"])
    drawn = drawn.union(*(each.styles for each in cells))
    sources = {key: citation for each in cells for key, citation in each.sources.items()}
    return Template(_own("page.html")).substitute(
        policy=_policy(script, [style, *sorted(drawn)]),
        title=escape(f"Fizz & Plate: {', '.join(offer['label'] for offer in offers)}"),
        style=style,
        plain=_in_script({"cells": offers, "open": state.open}),
        blocks="\n".join(
            f'<script type="text/plain" class="fp-block">{text}</script>'
            for text in (shared, *(each.block.text for each in cells))
        ),
        about=about(state.cells, sources, origin, state.wording),
        script=script,
    )


@cache
def _program() -> str:
    """Return the widgets' own modules, and the few lines that replace their program."""
    package = resources.files("fizzplate")
    joined = join_in_a_scope("share/takeaway/start.js", function="startTakeAway", files=package)
    return short_program(f"{joined}startTakeAway();\n")


def _own(name: str) -> str:
    return resources.files(__package__).joinpath(name).read_text(encoding="utf-8")


def _styles(drawings: Iterable[str]) -> set[str]:
    return {style for drawing in drawings for style in _STYLE.findall(drawing)}


def _policy(script: str, styles: Iterable[str]) -> str:
    """Return the content security policy: only what is in the file may run, and it may request nothing."""
    looks = " ".join(map(_hash_of, styles))
    return (
        f"default-src 'none'; script-src {_hash_of(script)}; style-src 'unsafe-inline'; "
        f"style-src-elem {looks}; style-src-attr 'unsafe-inline'; img-src data: blob:; "
        "base-uri 'none'; form-action 'none'"
    )


def _hash_of(text: str) -> str:
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


def _in_script(plain: dict[str, Any]) -> str:
    """Write plain data so that nothing in it ends the script that holds it."""
    return json.dumps(plain, ensure_ascii=False).replace("<", "\\u003c")
