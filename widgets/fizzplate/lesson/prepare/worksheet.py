"""The learner's worksheet, with room to write, and the teacher's answers to it."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape
from typing import TYPE_CHECKING

from fizzplate.chemistry import classroom_rule, pretty
from fizzplate.chemistry.substances import standard_test
from fizzplate.lesson.classroom import choice_of
from fizzplate.lesson.prepare.sheet_parts import lines_to_fill, strength_text, table
from fizzplate.lesson.prepare.visibility import visibility
from fizzplate.lesson.rule import ions_with_water, residue
from fizzplate.words import begin, say

if TYPE_CHECKING:
    from fizzplate.lesson.state import CellSetup
    from fizzplate.words import Wording

ROLES = ("cathode", "anode")


@dataclass(frozen=True, slots=True)
class _Entry:
    """What is written about each electrode, on how many lines."""

    name: str
    lines: int


PREDICTION, OBSERVATION, TEST, HALF_EQUATION = (
    _Entry("Prediction", 1),
    _Entry("Observation", 2),
    _Entry("Test, result", 2),
    _Entry("Half-equation", 1),
)
ENTRIES = (PREDICTION, OBSERVATION, TEST, HALF_EQUATION)
CONCLUSION_LINES = 2
CONCLUSION = "Conclusion: why these products, and what is left in the solution"


def worksheet(setups: list[CellSetup], wording: Wording) -> str:
    """Write a block for each solution, with lines to write on."""
    head = lines_to_fill("Name", "Class", "Date")
    return head + "".join(_block(number, setup, wording) for number, setup in enumerate(setups, 1))


def _block(number: int, setup: CellSetup, wording: Wording) -> str:
    head = "".join(f'<th scope="col">{escape(begin(wording.title(role)))}</th>' for role in ROLES)
    rows = "".join(
        f'<tr><th scope="row">{each.name}</th>'
        + f"<td>{_lines(each.lines)}</td>" * len(ROLES)
        + "</tr>"
        for each in ENTRIES
    )
    return (
        f'<section class="fp-whole fp-written"><h4>{number}. {escape(_title(setup))}</h4>'
        f'<p class="fp-line">Ions in the solution: <span></span></p>'
        f'<table><thead><tr><th scope="col">Step</th>{head}</tr></thead><tbody>{rows}</tbody></table>'
        f"<p>{CONCLUSION}:</p>{_lines(CONCLUSION_LINES)}</section>"
    )


def _title(setup: CellSetup) -> str:
    """Name a solution with its strength and its electrodes, as a class sets it up."""
    rods = dict.fromkeys((setup.cathode, setup.anode))
    return f"{setup.cell().name}, {strength_text(setup)}, {' and '.join(rods)} electrodes"


def _lines(count: int) -> str:
    return '<div class="fp-writing-line"></div>' * count


def answers(setups: list[CellSetup], wording: Wording) -> str:
    """Write what the rule predicts, what this class will see, the tests, and what is left."""
    return "".join(_answer(number, setup, wording) for number, setup in enumerate(setups, 1))


def _answer(number: int, setup: CellSetup, wording: Wording) -> str:
    cell = setup.cell()
    rule = classroom_rule(
        cell.ions_mol_dm3, anode=cell.anode, cathode=cell.cathode, wording=wording
    )
    seen = visibility(setup)
    main = {role: next(iter(found), "") for role, found in zip(ROLES, seen.seen, strict=True)}
    sides = [
        (role, each, choice_of(each.product, getattr(cell, role)))
        for role, each in (("cathode", rule.cathode), ("anode", rule.anode))
    ]
    rows = [
        [PREDICTION.name, *(f"{product} (by the rule)" for _, _, product in sides)],
        [OBSERVATION.name, *(begin(seen.seen_text(role)) for role, _, _ in sides)],
        [TEST.name, *(_test(each.product, main[role]) for role, each, _ in sides)],
        [HALF_EQUATION.name, *(each.half_equation.pretty() for _, each, _ in sides)],
    ]
    other = [
        say(
            "At {the_electrode} this cell makes mainly {made}, not the {product} of the rule.",
            wording,
            role=role,
            made=choice_of(main[role], getattr(cell, role)),
            product=product,
        )
        for role, each, product in sides
        if main[role] and choice_of(main[role], getattr(cell, role)) != product
    ]
    if seen.clouds:
        other.insert(0, f"{begin(seen.liquid_text())}.")
    ions = ", ".join(pretty(ion) for ion in ions_with_water(cell.ions_mol_dm3))
    left = residue(rule, cell.ions_mol_dm3, wording=wording)
    heads = ("Step", *(begin(wording.title(role)) for role in ROLES))
    return (
        f'<section class="fp-whole fp-answered"><h4>{number}. {escape(_title(setup))}</h4>'
        f"<p>Ions: {escape(ions)}.</p>{table(heads, rows)}"
        f"<p>{escape(' '.join([*other, *left.sentences]))}</p></section>"
    )


def _test(by_rule: str, made: str) -> str:
    """Name the test for what this class's cell makes; of the rule's product where it makes nothing."""
    return begin(str(standard_test(made or by_rule)))
