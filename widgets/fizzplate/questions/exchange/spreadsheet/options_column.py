"""The options of a choice as a cell, a line each."""

from __future__ import annotations

from fizzplate.questions.content import Option
from fizzplate.questions.exchange.spreadsheet.cell_text import (
    escape_cell,
    read_lines,
    read_whole,
    unescape_cell,
    write_lines,
)
from fizzplate.words import InputError


def write_options(options: tuple[Option, ...]) -> str:
    """Write options, the right one and the wrong ones.

    Examples
    --------
    >>> write_options((Option("chlorine", right=True, reason="Chloride ions lose electrons."),))
    'right: chlorine | because: Chloride ions lose electrons.'
    """
    return write_lines(_option_fields(option) for option in options)


def _option_fields(option: Option) -> list[tuple[str, str]]:
    name = "right" if option.right else "wrong"
    idea = str(option.misconception) if option.misconception else ""
    return [
        (name, escape_cell(option.text)),
        ("because", escape_cell(option.reason)),
        ("idea", idea),
    ]


def read_options(cell: str) -> tuple[Option, ...]:
    """Read options; where no reason is given, it is which option is right.

    Raises
    ------
    InputError
        If a line does not say whether its option is right.

    Examples
    --------
    >>> read_options("right: chlorine | because: It is a halide.")[0].reason
    'It is a halide.'
    """
    lines = read_lines("options", cell, ("right", "wrong", "because", "idea"))
    for line in lines:
        if ("right" in line) == ("wrong" in line):
            raise InputError("options", " | ".join(line.values()), "right: or wrong: on each line")
    answer = next((unescape_cell(line["right"]) for line in lines if "right" in line), "")
    usual = {True: "That is the right answer.", False: f"The right answer is: {answer}"}
    return tuple(
        Option(
            unescape_cell(line.get("right", line.get("wrong", ""))),
            right="right" in line,
            reason=unescape_cell(line["because"]) if "because" in line else usual["right" in line],
            misconception=read_whole("idea", line.get("idea", ""), 0),
        )
        for line in lines
    )
