"""The state of a page as the query of an address: short, readable, with a version.

    v=1&cells=Na2SO4;NaCl,c=0.1;CuSO4,min=10,anode=copper&open=2&board=electrons=minus

A cell is its solution and whatever differs from the class practical. What cannot be read is left
out, and the page says so; nothing is kept on the server.
"""

from __future__ import annotations

from dataclasses import dataclass, field, fields, replace
from typing import TYPE_CHECKING
from urllib.parse import parse_qsl, quote

from fizzplate.lesson.state.cell_setup import CORE, DEFAULT_SETUP, LAMPS, MELT_CURRENT_A, CellSetup
from fizzplate.lesson.state.changes import placed, read_change, write_change
from fizzplate.words import InputError, Wording, begin, choice

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

VERSION = 1
MAX_QUERY_LENGTH = 4000
MAX_CELLS = 24
FILE_MARK = "fizzplate cells"  # first words of a saved list

_NUMBERS = {
    "c": "concentration_mol_dm3",
    "cm3": "volume_cm3",
    "V": "supply_V",
    "A": "current_A",
    "C": "temperature_C",
    "min": "minutes",
}
#: what depends on the rest of the cell is read when the rest is known
_LATE = ("cm3", "V", "A", "crystal", "beside")
_CHANGE = "at"  # last of all, in the order of the link
_WORDS = {
    "cathode": "cathode",
    "anode": "anode",
    "in": "vessel",
    "crystal": "crystal",
    "beside": "beside",
}
_LAMPS = {name.replace(" ", "").replace(",", "-"): name for name in LAMPS}


@dataclass(frozen=True, slots=True)
class LinkState:
    """What a page opens with.

    Parameters
    ----------
    cells
        The list of set-ups.
    open
        Which of them is in the cell, from 0.
    wording
        The board's wording.
    options
        What else a page keeps, by name: short plain words.
    """

    cells: tuple[CellSetup, ...] = tuple(CellSetup(formula) for formula in CORE)
    open: int = 0
    wording: Wording = field(default_factory=Wording)
    options: Mapping[str, str] = field(default_factory=dict)


def write_cell(setup: CellSetup) -> str:
    """Write a set-up: the solution, and what differs from the class practical.

    Examples
    --------
    >>> write_cell(CellSetup("NaCl", 0.1, also="KI", lamp="none"))
    'NaCl,c=0.1,also=KI:0.1,lamp=none'
    """
    parts = [setup.solution]
    for key, name in _NUMBERS.items():
        value = getattr(setup, name)
        if value is not None and value != getattr(DEFAULT_SETUP, name):
            parts.append(f"{key}={value:.6g}")
    if setup.also:
        parts.append(f"also={setup.also}:{setup.also_mol_dm3:.6g}")
    for key, name in _WORDS.items():
        value = getattr(setup, name)
        if value and value != getattr(DEFAULT_SETUP, name):
            parts.append(f"{key}={value}")
    if setup.lamp != DEFAULT_SETUP.lamp:
        parts.append(f"lamp={next(short for short, name in _LAMPS.items() if name == setup.lamp)}")
    parts += [f"{_CHANGE}={write_change(change)}" for change in setup.changes]
    return ",".join(parts)


def read_cell(text: str) -> tuple[CellSetup, list[str]]:
    """Read a set-up; give it with sentences about what was left out.

    Raises
    ------
    InputError
        If no cell can be made of it.

    Examples
    --------
    >>> read_cell("CuSO4,anode=copper,colour=red")[1]
    ["colour: 'red' was left out; it is not a part of a cell."]
    """
    solution, *parts = (part.strip() for part in text.split(","))
    setup = replace(DEFAULT_SETUP, solution=solution)
    if setup.is_melt:
        setup = replace(setup, supply_V=None, current_A=MELT_CURRENT_A)
    setup.cell()
    said = []
    for part in sorted(filter(None, parts), key=_when_read):
        key, _, value = part.partition("=")
        if not (key in _NUMBERS or key in _WORDS or key in {"also", "lamp", _CHANGE}):
            said.append(f"{key[:20]}: {value[:40]!r} was left out; it is not a part of a cell.")
            continue
        try:
            better = _with(setup, key, value)
            better.cell()
        except InputError as refusal:
            said.append(f"{solution}: {refusal}")
        else:
            setup = better
    return setup, said


def _when_read(part: str) -> int:
    """Return how late a part of a cell is read: first what others depend on."""
    key = part.partition("=")[0]
    return 2 if key == _CHANGE else int(key in _LATE)


def _with(setup: CellSetup, key: str, value: str) -> CellSetup:
    """Return a set-up with one part of it changed."""
    if key in _NUMBERS:
        number = _number(key, value)
        if key == "A":
            return replace(setup, current_A=number, supply_V=None)
        if key == "V":
            return replace(setup, current_A=None, supply_V=number)
        return replace(setup, **{_NUMBERS[key]: number})  # type: ignore[arg-type]  # by the key's kind
    if key == "also":
        formula, _, strength = value.partition(":")
        return replace(setup, also=formula, also_mol_dm3=_number("also", strength or "0.1"))
    if key == _CHANGE:
        change = placed(read_change(value), setup.changes, setup.minutes)
        return replace(setup, changes=(*setup.changes, change))
    if key == "lamp":
        return replace(setup, lamp=_LAMPS[choice("lamp", value, _LAMPS)])
    return replace(setup, **{_WORDS[key]: value})  # type: ignore[arg-type]  # by the key's kind


def _number(key: str, text: str) -> float:
    try:
        return float(text)
    except ValueError:
        raise InputError(key, text, "a number") from None


def to_query(state: LinkState) -> str:
    """Write a page's state as the query of an address.

    Examples
    --------
    >>> to_query(LinkState((CellSetup("NaCl"), CellSetup("CuSO4", anode="copper")), open=1))
    'v=1&cells=NaCl;CuSO4,anode=copper&open=1'
    """
    parts = {"cells": ";".join(map(write_cell, state.cells))}
    if state.open:
        parts["open"] = str(state.open)
    return query_of(parts, state.wording, state.options)


def query_of(parts: Mapping[str, str], wording: Wording, options: Mapping[str, str]) -> str:
    """Write parts of a query, the wording and a page's options as one query with its version.

    Examples
    --------
    >>> query_of({}, Wording(states=True), {"set": "3"})
    'v=1&board=states=True&set=3'
    """
    board = _write_wording(wording)
    every = {"v": str(VERSION), **parts, **({"board": board} if board else {}), **options}
    return "&".join(f"{quote(key)}={quote(value, safe=',;:=()')}" for key, value in every.items())


def from_query(query: str, options: Iterable[str] = ()) -> tuple[LinkState, list[str]]:
    """Read the query of an address; give the state with sentences about what was left out.

    Parameters
    ----------
    query
        With or without its question mark.
    options
        Names of what else the page keeps.

    Examples
    --------
    >>> state, said = from_query("?v=1&cells=KBr;Unobtainium&open=7")
    >>> [setup.solution for setup in state.cells], len(said)
    (['KBr'], 2)
    """
    said: list[str] = []
    text = query.removeprefix("?")
    if len(text) > MAX_QUERY_LENGTH:
        text = text[:MAX_QUERY_LENGTH]
        said.append(f"The link is longer than {MAX_QUERY_LENGTH} characters: its end was cut off.")
    given = dict(parse_qsl(text, keep_blank_values=True))
    version = given.pop("v", str(VERSION))
    if version != str(VERSION):
        said.append(f"v: {version[:20]!r} is not known here. The page uses what it can read.")
    state = LinkState()
    if "cells" in given:
        cells = _read_cells(given.pop("cells").split(";"), said)
        state = replace(state, cells=cells or state.cells)
    if "open" in given:
        state = replace(state, open=_read_open(given.pop("open"), len(state.cells), said))
    if "board" in given:
        state = replace(state, wording=_read_wording(given.pop("board"), said))
    kept = {name: given.pop(name) for name in options if name in given}
    said += [f"{name[:20]}: not a part of this page, left out." for name in given]
    return replace(state, options=kept), said


def _read_cells(texts: list[str], said: list[str]) -> tuple[CellSetup, ...]:
    cells = []
    for text in texts[:MAX_CELLS]:
        try:
            setup, left_out = read_cell(text)
        except InputError as refusal:
            meant = f" Did you mean {refusal.nearest!r}?" if refusal.nearest else ""
            said.append(
                f"{text[:40]!r} was left out: no such solution is offered here.{meant}"
                if refusal.argument == "solution" and not refusal.why
                else str(refusal)
            )
        else:
            cells.append(setup)
            said += left_out
    if len(texts) > MAX_CELLS:
        said.append(f"Of {len(texts)} cells the first {MAX_CELLS} were taken.")
    return tuple(cells)


def each_apart(cells: Iterable[CellSetup]) -> tuple[CellSetup, ...]:
    """Put two cells that stand beside each other one after the other, for whoever shows one at a time.

    Examples
    --------
    >>> [each.label for each in each_apart([CellSetup("NaCl", beside="KI"), CellSetup("HCl")])]
    ['NaCl', 'KI', 'HCl']
    """
    return tuple(each for setup in cells for each in setup.apart)[:MAX_CELLS]


def without_melts(cells: tuple[CellSetup, ...], said: list[str]) -> tuple[CellSetup, ...]:
    """Leave melts out of a list for a page that cannot show them, and add a sentence for each.

    Examples
    --------
    >>> said = []
    >>> without_melts((CellSetup("NaCl"), CellSetup("PbBr2(l)")), said)[0].solution, said
    ('NaCl', ['Molten lead(II) bromide was left out: only Demonstrate shows melts.'])
    """
    said += [
        f"{begin(each.cell().name)} was left out: only Demonstrate shows melts."
        for each in cells
        if each.is_melt
    ]
    return tuple(each for each in cells if not each.is_melt)


def _read_open(text: str, count: int, said: list[str]) -> int:
    if text.isascii() and text.isdigit() and int(text) < count:
        return int(text)
    said.append(f"open: {text[:20]!r} was left out. Use a number from 0 to {count - 1}.")
    return 0


def _write_wording(wording: Wording) -> str:
    plain = Wording()
    return ",".join(
        f"{each.name}={getattr(wording, each.name)}"
        for each in fields(Wording)
        if getattr(wording, each.name) != getattr(plain, each.name)
    )


def _read_wording(text: str, said: list[str]) -> Wording:
    wording = Wording()
    kinds = {each.name: type(getattr(wording, each.name)) for each in fields(Wording)}
    for part in filter(None, text.split(",")):
        name, _, value = part.partition("=")
        if name not in kinds:
            said.append(f"{name[:20]}: not a part of the wording, left out.")
            continue
        try:
            wording = replace(wording, **{name: _value_of(kinds[name], name, value)})  # type: ignore[arg-type]
        except InputError as refusal:
            said.append(str(refusal))
    return wording


def _value_of(kind: type, name: str, text: str) -> str | bool | float:
    if kind is bool:
        return choice(name, text, ("True", "False")) == "True"
    return _number(name, text) if kind is float else text


def to_file(state: LinkState) -> str:
    """Write a list as a small text file, one cell a line, that can be read and edited.

    Examples
    --------
    >>> print(to_file(LinkState((CellSetup("NaCl"),))), end="")
    fizzplate cells 1
    NaCl
    """
    lines = [f"{FILE_MARK} {VERSION}", *map(write_cell, state.cells)]
    return "\n".join(lines) + "\n"


def from_file(text: str) -> tuple[tuple[CellSetup, ...], list[str]]:
    """Read a saved list; give the cells with sentences about what was left out.

    Raises
    ------
    InputError
        If it is not a saved list, or holds no cell.
    """
    lines = [line.strip() for line in text.lstrip("\ufeff").splitlines()]
    if not lines or not lines[0].startswith(FILE_MARK):
        first = lines[0][:40] if lines else ""
        raise InputError("file", first, f"a list that was saved here, which begins {FILE_MARK!r}")
    said: list[str] = []
    cells = _read_cells([line for line in lines[1:] if line], said)
    if not cells:
        first = next(filter(None, lines[1:]), "")
        why = "it holds no cell that can be used" if said else "it holds no cell"
        allowed = "at least one cell that can be used"
        raise InputError("file", first[:40], allowed, why=why, details=said)
    return cells, said
