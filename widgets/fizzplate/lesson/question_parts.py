"""What the makers of questions about ideas share: the solutions asked about, options in a mixed order."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.chemistry import solutions
from fizzplate.lesson.bench import Cell
from fizzplate.lesson.marking import Option, Question

if TYPE_CHECKING:
    from fizzplate.lesson.dice import Dice

SALTS = (
    "NaCl",
    "Na2SO4",
    "CuCl2",
    "CuSO4",
    "KBr",
    "KI",
    "MgSO4",
    "Cu(NO3)2",
    "KNO3",
    "HCl",
    "H2SO4",
    "NaOH",
    "CaCl2",
    "MgCl2",
    "NaBr",
    "NaI",
    "KCl",
    "K2SO4",
    "NaNO3",
    "AgNO3",
)
MELTS = ("PbBr2(l)", "NaCl(l)", "ZnCl2(l)")


def solution_name(formula: str) -> str:
    """Name a solution, as in the middle of a sentence."""
    return f"{solutions()[formula].name} solution"


def begin(text: str) -> str:
    """Write words as the beginning of a sentence."""
    return text[0].upper() + text[1:]


def cell_of(formula: str, anode: str = "graphite", cathode: str = "graphite") -> Cell:
    """Return the cell that is asked about: 0.1 mol/dm3, carbon electrodes unless others are given."""
    return Cell(formula, concentration_mol_dm3=0.1, anode=anode, cathode=cathode)


def choice(
    dice: Dice, right: str, wrong: list[tuple[str, str, int]], reason: str
) -> tuple[Option, ...]:
    """Return options in a mixed order: the right one, and three or fewer wrong ones, all different."""
    made = {right: Option(right, right=True, reason=reason)}
    for text, why, number in wrong:
        if text not in made and len(made) < 4:
            made[text] = Option(text, right=False, reason=why, misconception=number)
    return tuple(dice.shuffled(made.values()))


def asked(
    maker: str,
    topic: str,
    text: str,
    options: tuple[Option, ...],
    *,
    level: int = 14,
    watch: str = "",
) -> Question:
    """Return a question with one right option, whose reason is its answer's."""
    right = next(option for option in options if option.right)
    return Question(
        maker,
        topic,
        level,
        text,
        "choice",
        1,
        right.text,
        right.reason,
        options=options,
        watch=watch,
    )
