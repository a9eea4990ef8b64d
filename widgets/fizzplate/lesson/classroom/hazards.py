"""The hazards of a cell, from one table: cautions, labels, what to do with waste, the risk draft.

From memory and common practice; each list defers to the school's own risk assessment, local rules and a
qualified person.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.cell import displacements
from fizzplate.chemistry import solutions
from fizzplate.lesson.classroom.contents import contents, contents_before_run, poured_in
from fizzplate.lesson.state import MAX_CHLORINE_RUN_MINUTES
from fizzplate.words import DEFAULT_WORDING, page_quantity, say

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from fizzplate.cell import CellLike, Run
    from fizzplate.data import Row
    from fizzplate.lesson.classroom.contents import Contents
    from fizzplate.words import Wording

#: from the least to the worst
SEVERITIES = (
    "low hazard",
    "irritant",
    "harmful",
    "oxidising",
    "flammable",
    "burns",
    "damages eyes",
    "corrosive",
    "toxic",
)
DEFER = "Your school's own risk assessment, local rules and a qualified person decide; this page does not."
CHECK = "check against your own rules and safety data"
LOW = "low hazard"
FIRST_AID = "First aid: follow your school's procedure."
COLLECTED = 5  # the step of the waste table that keeps a liquid from the sink
SINK = "sink"
#: shown while a class predicts: it does not give away what will form
GENERAL_CAUTION = (
    "Gases may form that burn or irritate, and the solution may harm skin and eyes: wear eye protection, "
    "air the room and keep flames away. Your school's own risk assessment decides."
)


@dataclass(frozen=True, slots=True)
class Hazard:
    """What one species in a cell does, at its strength: one row of the table.

    Parameters
    ----------
    species, where
        What it is, and where: "solution", "made", "deposit", "crystal", "paper", "melt" or "setup".
    severity
        One of :data:`SEVERITIES`.
    caution
        A sentence for a page.
    label
        A line for a bottle, with the band of strengths for which it holds, if there are several and the
        strength is known.
    waste
        A route of the waste table; empty for the set-up.
    risk
        A line for the risk draft: what may go wrong, and the usual precautions.
    equipment
        What a group needs besides.
    teacher_only
        Whether only a teacher may do it.
    """

    species: str
    where: str
    severity: str
    caution: str
    label: str
    waste: str
    risk: str
    equipment: tuple[str, ...]
    teacher_only: bool


def hazards(
    cell: CellLike, run: Run | None = None, wording: Wording = DEFAULT_WORDING
) -> tuple[Hazard, ...]:
    """Return the hazards of what is in a cell and of what it releases and makes, the worst first.

    Parameters
    ----------
    cell
        What is on the bench.
    run
        What happened, if it has run.
    wording
        The board's.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> [each.species for each in hazards(Cell("Na2SO4", anode="nickel"))]
    ['Ni2+', 'Ni', 'H2', 'OH-', 'supply']
    """
    return _worst_first(contents(cell, run) | _set_up(cell), wording)


def hazards_before_run(cell: CellLike, wording: Wording = DEFAULT_WORDING) -> tuple[Hazard, ...]:
    """Return the hazards of what is in a cell before any current flows, the worst first."""
    return _worst_first(contents_before_run(cell), wording)


def teacher_only(cell: CellLike) -> bool:
    """Return whether a cell is for a demonstration by the teacher, by what it holds, releases and makes.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> teacher_only(Cell("NaF")), teacher_only(Cell("NaCl")), teacher_only(Cell("NaCl", anode="nickel"))
    (True, False, True)
    """
    return any(each.teacher_only for each in hazards(cell))


def cautions(
    cell: CellLike, run: Run | None = None, wording: Wording = DEFAULT_WORDING
) -> tuple[str, ...]:
    """Return the cautions of a cell as sentences; the last defers to the school's own rules.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> cautions(Cell("NaCl"))[0].startswith("Chlorine irritates")
    True
    """
    found = dict.fromkeys(each.caution for each in hazards(cell, run, wording))
    return (*found, *_put_in_last(cell, wording), DEFER)


def _put_in_last(cell: CellLike, wording: Wording) -> tuple[str, ...]:
    """Say which electrodes react with the solution as soon as they stand in it."""
    roles = dict.fromkeys(each.role for each in displacements(cell))
    return tuple(
        say(
            "The {material} {electrode} reacts with this solution as soon as it stands in it, without any "
            "current: put it in last, just before you switch on, and take it out when you switch off.",
            wording,
            role=role,
            material=getattr(cell, role),
        )
        for role in roles
    )


def cautions_of_added(
    before: CellLike, after: CellLike, wording: Wording = DEFAULT_WORDING
) -> tuple[str, ...]:
    """Return the cautions that become due as something is poured into a cell; they name no product.

    Parameters
    ----------
    before, after
        The cell before it and with it.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> cautions_of_added(Cell("NaCl"), Cell({"NaCl": 0.5, "CuSO4": 0.5}))[0].partition(":")[0]
    'Copper salts irritate skin and damage eyes'
    """
    known = {each.caution for each in _worst_first(poured_in((before,)), wording)}
    now = (each.caution for each in _worst_first(poured_in((after,)), wording))
    return tuple(dict.fromkeys(caution for caution in now if caution not in known))


def label(found: Iterable[Hazard]) -> str:
    """Join hazards to the line of a bottle's label, with the advice to check it.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> label(hazards_before_run(Cell("CuSO4"))).partition(" (")[0]
    'copper(II): irritates skin, damages eyes, 0.2 to 1 mol/dm³'
    >>> label(hazards_before_run(Cell("NaCl")))
    'low hazard (check against your own rules and safety data)'
    """
    lines = dict.fromkeys(each.label for each in found if each.where != "setup")
    return f"{'; '.join(lines) or LOW} ({CHECK})"


def waste(found: Iterable[Hazard]) -> tuple[str, ...]:
    """Return what is done with a used solution, step by step; the last defers to the school's own rules.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> waste(hazards(Cell("CuSO4", anode="copper", cathode="copper")))[0]
    'Collect it, with any loose metal, in the bottle for copper waste; put none of it down the sink.'
    """
    table = {row["route"]: row for row in data.rows("waste")}
    routes = {each.waste for each in found if each.waste}
    if not any(int(table[route]["step"]) == COLLECTED for route in routes):
        routes.add(SINK)
    else:
        routes.discard(SINK)
    steps = sorted((table[route] for route in routes), key=lambda row: (int(row["step"]), row.text))
    return (*(row.text for row in steps), DEFER)


def electrode_hazards(product: str, found: Iterable[Hazard]) -> tuple[Hazard, ...]:
    """Return the hazards among a cell's that belong beside the electrode that makes a product."""
    return tuple(each for each in found if each.species == product and each.where != "setup")


def electrode_cautions(product: str, found: Iterable[Hazard]) -> tuple[str, ...]:
    """Return the cautions beside the electrode that makes a product."""
    return tuple(
        f"{each.caution} Follow your school's risk assessment."
        for each in electrode_hazards(product, found)
    )


def _set_up(cell: CellLike) -> Contents:
    """Return supply and vessel as species of the table, where it has a row for them."""
    known = {row["species"] for row in data.rows("hazards") if row["where"] == "setup"}
    return {(name, "setup"): 0.0 for name in ("supply", cell.vessel.name) if name in known}


def _worst_first(found: Mapping[tuple[str, str], float], wording: Wording) -> tuple[Hazard, ...]:
    present = {species for species, _ in found}
    each = (
        hazard
        for (species, where), strength in found.items()
        if (hazard := _hazard(species, where, strength, present, wording)) is not None
    )
    rank = {severity: -place for place, severity in enumerate(SEVERITIES)}
    return tuple(sorted(each, key=lambda hazard: (hazard.where == "setup", rank[hazard.severity])))


@cache
def _bands_by_salt(species: str, where: str) -> dict[str, list[Row]]:
    """Return the rows of a species by the salt for which they hold, each from weak to strong."""
    found: dict[str, list[Row]] = {}
    for row in data.rows("hazards"):
        if row["species"] == species and row["where"] == where:
            found.setdefault(row["salt"], []).append(row)
    return {
        salt: sorted(rows, key=lambda row: float(row["from_mol_dm3"]))
        for salt, rows in found.items()
    }


def _hazard(
    species: str, where: str, strength: float, present: set[str], wording: Wording
) -> Hazard | None:
    """Return the worst row that a species reaches; none if the table has no hazard of it.

    A ladder of bands that is for one salt counts where all of that salt's ions are there, and its
    strengths are the salt's.
    """
    reached = []
    for salt, ladder in _bands_by_salt(species, where).items():
        ions = solutions()[salt].ions if salt else {species: 1}
        if salt and not present.issuperset(ions):
            continue
        rows = [row for row in ladder if float(row["from_mol_dm3"]) <= strength / ions[species]]
        if rows:
            reached.append((rows[-1], ladder))
    if not reached:
        return None
    row, ladder = max(
        reached,
        key=lambda each: (SEVERITIES.index(each[0].text), float(each[0]["from_mol_dm3"])),
    )
    return Hazard(
        species=species,
        where=where,
        severity=row.text,
        caution=say(
            row["caution"],
            wording,
            max_chlorine_run=page_quantity(MAX_CHLORINE_RUN_MINUTES, "minutes"),
        ),
        label=say(row["label"], wording) + (_band(row, ladder) if strength else ""),
        waste=row["waste"],
        risk=say(row["risk"], wording),
        equipment=tuple(filter(None, row["equipment"].split("; "))),
        teacher_only=row["who"] == "teacher",
    )


def _band(row: Row, ladder: list[Row]) -> str:
    """Say between which strengths a row holds; nothing if it holds for all."""
    least = float(row["from_mol_dm3"])
    more = [strength for each in ladder if (strength := float(each["from_mol_dm3"])) > least]
    if not more:
        return f", from {page_quantity(least, 'mol/dm3')}" if least else ""
    limit = page_quantity(min(more), "mol/dm3")
    return f", {least:g} to {limit}" if least else f", below {limit}"
