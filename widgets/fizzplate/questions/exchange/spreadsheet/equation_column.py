"""The accepted forms of an equation as a cell, with what is asked and the hints."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.lesson.equations import EquationTask
from fizzplate.questions.exchange.equation_forms import read_form, spell
from fizzplate.questions.exchange.spreadsheet.cell_text import (
    escape_cell,
    read_lines,
    read_words,
    unescape_cell,
    write_lines,
    write_words,
)

if TYPE_CHECKING:
    from collections.abc import Iterator


def write_equation(task: EquationTask) -> str:
    """Write the forms of an equation that are accepted, what is asked, and hints.

    Examples
    --------
    >>> write_equation(read_equation("accept: 2Cl- -> Cl2 + 2e-")).splitlines()[0]
    'accept: 2Cl- -> Cl2 + 2e-'
    """
    return write_lines(_task_fields(task))


def _task_fields(task: EquationTask) -> Iterator[list[tuple[str, str]]]:
    for form in task.accepted:
        yield [("accept", escape_cell(spell(form)))]
    yield [("asks", escape_cell(task.prompt))]
    yield [("goal", escape_cell(task.goal))]
    for hint in task.hints:
        yield [("hint", escape_cell(hint))]
    yield [("tiles", write_words(task.tiles))]


def read_equation(cell: str) -> EquationTask:
    """Read the forms of an equation that are accepted, what is asked, and hints.

    Raises
    ------
    InputError
        If a form cannot be read or does not balance.

    Examples
    --------
    >>> read_equation("accept: 2Cl- -> Cl2 + 2e-").accepted
    ({'Cl-': -2, 'Cl2': 1, 'e-': 2},)
    """
    lines = read_lines("equation", cell, ("accept", "asks", "goal", "hint", "tiles"))
    accepted = tuple(read_form(unescape_cell(line["accept"])) for line in lines if "accept" in line)
    found = {name: value for line in lines for name, value in line.items()}
    species = sorted({species for form in accepted for species in form})
    return EquationTask(
        prompt=unescape_cell(found.get("asks", "Write the equation.")),
        accepted=accepted,
        goal=unescape_cell(found.get("goal", "give what is asked for")),
        hints=tuple(unescape_cell(line["hint"]) for line in lines if "hint" in line)
        or tuple(map(spell, accepted[:1])),
        tiles=read_words(found["tiles"]) if "tiles" in found else tuple(species),
    )
