"""The numbers of a calculation as a cell: for each its answer, its steps and its near misses."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from fizzplate.questions.content import NearMiss, Part
from fizzplate.questions.exchange.spreadsheet.cell_text import (
    escape_cell,
    read_lines,
    read_number_and_unit,
    read_whole,
    read_words,
    unescape_cell,
    write_lines,
)
from fizzplate.questions.exchange.spreadsheet.further_fields import (
    further_cells,
    further_names,
    read_further,
)
from fizzplate.questions.marking import UNITS
from fizzplate.words import InputError

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

_PART = ("value", "unit", "steps", "prompt", "factor", "near_misses", "tolerance", "figures")


def write_numbers(parts: tuple[Part, ...]) -> str:
    """Write numbers with their steps and near misses.

    Examples
    --------
    >>> write_numbers((Part(450.0, "C", ("Q = I × t",)),)).splitlines()
    ['answer: 450.0 C | tolerance: 1.2 % | figures: 3', 'step: Q = I × t']
    """
    return write_lines(_number_fields(parts))


def _number_fields(parts: tuple[Part, ...]) -> Iterator[list[tuple[str, str]]]:
    for part in parts:
        yield [
            ("answer", f"{part.value!r} {part.unit}".rstrip()),
            ("tolerance", f"{_percent(part.tolerance)} %"),
            ("figures", str(part.figures)),
            ("times before", repr(part.factor) if part.factor else ""),
            ("asks", escape_cell(part.prompt)),
            *further_cells(part, _PART),
        ]
        for step in part.steps:
            yield [("step", escape_cell(step))]
        for miss in part.near_misses:
            yield [
                ("near", repr(miss.value)),
                ("loses", "; ".join(str(k + 1) for k in miss.lost)),
                ("because", escape_cell(miss.reason)),
                ("idea", str(miss.misconception) if miss.misconception else ""),
            ]


def _percent(fraction: float) -> str:
    """Write a fraction in per cent so that reading it gives the very same fraction."""
    short = f"{fraction * 100:.6g}"
    return short if float(short) / 100 == fraction else repr(fraction * 100)


def read_numbers(cell: str) -> tuple[Part, ...]:
    """Read numbers with their steps and near misses.

    Raises
    ------
    InputError
        If a line is none of these, or a number cannot be read.

    Examples
    --------
    >>> read_numbers("answer: 0,25 g")[0].value
    0.25
    """
    names = ("answer", "tolerance", "figures", "times before", "asks", "step", "near", "loses")
    further = further_names(Part, _PART).values()
    parts: list[Part] = []
    for line in read_lines("numbers", cell, (*names, "because", "idea", *further)):
        if "answer" in line:
            parts.append(_read_part(line))
        elif not parts:
            raise InputError("numbers", next(iter(line.values())), "answer: on the first line")
        elif "step" in line:
            parts[-1] = replace(parts[-1], steps=(*parts[-1].steps, unescape_cell(line["step"])))
        elif "near" in line:
            value, _ = read_number_and_unit("near", line["near"])
            lost = tuple(read_whole("loses", k, 1) - 1 for k in read_words(line.get("loses", "")))
            reason, idea = unescape_cell(line.get("because", "")), line.get("idea", "")
            miss = NearMiss(value, lost, reason, read_whole("idea", idea, 0))
            parts[-1] = replace(parts[-1], near_misses=(*parts[-1].near_misses, miss))
        else:
            given = next(iter(line.values()))
            raise InputError("numbers", given, "answer:, step: or near: on each line")
    return tuple(parts)


def _read_part(line: Mapping[str, str]) -> Part:
    value, unit = read_number_and_unit("answer", line["answer"])
    by_plain = {name.replace("³", "3"): name for name in UNITS}
    unit = by_plain.get(unit.replace("³", "3").replace(" ", ""), unit)
    further = read_further(Part, _PART, "numbers", line)
    part = Part(value, unit, (), unescape_cell(line.get("asks", "")), **further)
    if "tolerance" in line:
        size, sign = read_number_and_unit("tolerance", line["tolerance"])
        if sign not in {"%", "per cent", "percent"}:
            raise InputError("tolerance", line["tolerance"], "per cent, such as 1.2 %")
        part = replace(part, tolerance=size / 100)
    factor, _ = read_number_and_unit("times before", line.get("times before", "0"))
    return replace(part, factor=factor, figures=read_whole("figures", line.get("figures", ""), 3))
