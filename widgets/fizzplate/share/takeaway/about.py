"""What the page says of itself: what it holds, privacy, cautions, sources, licence."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape
from importlib.metadata import distribution
from typing import TYPE_CHECKING

from fizzplate.lesson import cautions
from fizzplate.lesson.classroom import DEFER, GENERAL_CAUTION

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from datetime import date

    from fizzplate.lesson import CellSetup, Wording

LICENCE_FILE = "licenses/LICENSE"  # where an installation keeps it


@dataclass(frozen=True, slots=True)
class Origin:
    """Where a file comes from.

    Parameters
    ----------
    list_query, set_query
        Queries of the links whose list and questions it holds.
    version
        Of the package that made it.
    made_on
        The day.
    """

    list_query: str
    set_query: str
    version: str
    made_on: date


def about(
    cells: Iterable[CellSetup], sources: Mapping[str, str], origin: Origin, wording: Wording
) -> str:
    """Return the part of the page about itself, as HTML.

    Parameters
    ----------
    cells
        Of the list.
    sources
        Citations of the values behind the runs, by their keys.
    origin
        Where the file comes from.
    wording
        The board's.
    """
    warned = dict.fromkeys(
        text for setup in cells for text in cautions(setup.cell(), wording=wording)
    )
    warnings = [text for text in warned if text != DEFER]
    day = f"{origin.made_on.day} {origin.made_on:%B %Y}"
    licence = distribution("fizzplate").read_text(LICENCE_FILE) or ""
    return f"""
<h2>About this page</h2>
<p>One file with the runs of a class's list in it. It needs no server and no network: keep it on a memory
stick, send it, or put it on any web site. For everything else use Fizz &amp; Plate, the program that made
this file.</p>
<p>The runs come from a model of the real cell, not from measurements. Its exchange currents, which say
how fast electrode reactions are, may be wrong by a factor of ten. What the classroom rule says is marked as
the rule.</p>
<h2>Privacy</h2>
<p>This page sends nothing to any other computer and loads nothing from one. This browser keeps what you
write, on this device and nowhere else. If others use this device too, delete it before you leave: press “New
class” at the results table and “Forget all that is kept here” above the questions.</p>
<h2>Cautions</h2>
<p>{escape(GENERAL_CAUTION)}</p>
{_items([*warnings, DEFER])}
<h2>How it was made</h2>
<p>Made on {day} by Fizz &amp; Plate {escape(origin.version)}. The same version makes the same runs and
questions from the same links. These links end in:</p>
<dl><dt>Demonstrate</dt><dd><code>?{escape(origin.list_query)}</code></dd>
<dt>Revise</dt><dd><code>?{escape(origin.set_query)}</code></dd></dl>
<h2>Sources of the values behind the runs</h2>
{_items(sources.values())}
<h2>Licence</h2>
<details><summary>BSD 3-Clause: you may copy, change and pass on this page under its terms</summary>
<pre>{escape(licence)}</pre></details>
"""


def _items(texts: Iterable[str]) -> str:
    return "<ul>" + "".join(f"<li>{escape(text)}</li>" for text in texts) + "</ul>"
