"""The parts that every printed sheet is made of: tables, lines to fill in, what a solution is called."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING

from fizzplate.chemistry import pretty
from fizzplate.lesson.classroom import DEFER, FIRST_AID
from fizzplate.words import with_unit

if TYPE_CHECKING:
    from fizzplate.lesson.state import CellSetup


def table(heads: tuple[str, ...], rows: list[list[str]], caption: str = "") -> str:
    """Write a table; cells are plain text."""
    head = "".join(f'<th scope="col">{escape(text)}</th>' for text in heads)
    body = "".join(
        f'<tr><th scope="row">{escape(row[0])}</th>'
        + "".join(f"<td>{escape(text)}</td>" for text in row[1:])
        + "</tr>"
        for row in rows
    )
    title = f"<caption>{escape(caption)}</caption>" if caption else ""
    return f"<table>{title}<thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"


def lines_to_fill(*labels: str) -> str:
    """Write labels in a row, each with a line to write on."""
    lines = "".join(f'<p class="fp-line">{escape(label)}: <span></span></p>' for label in labels)
    return f'<div class="fp-line-row">{lines}</div>'


def substances(setup: CellSetup) -> dict[str, float]:
    """Return what is dissolved, with its strength, mol/dm3."""
    return dict(setup.cell().mixture_mol_dm3)


def strength_text(setup: CellSetup) -> str:
    """Write the concentrations of what is dissolved."""
    strengths = " and ".join(f"{strength:g}" for strength in substances(setup).values())
    return with_unit(strengths, "mol/dm³")


def formulae_text(setup: CellSetup) -> str:
    """Write the formulae of what is dissolved."""
    return " and ".join(map(pretty, substances(setup)))


def closing(before: str = "") -> str:
    """End a sheet: first aid is the school's, and so is the decision."""
    first = f"<strong>{escape(before)}</strong> " if before else ""
    return f"<p>{escape(FIRST_AID)}</p><p>{first}{escape(DEFER)}</p>"
