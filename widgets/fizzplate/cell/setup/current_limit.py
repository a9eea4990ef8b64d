"""Refuse a constant current that no supply here can drive through a cell from the start."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from fizzplate.cell.physics import MAX_SUPPLY_V
from fizzplate.cell.solver import voltage_needed
from fizzplate.words import InputError, Quantity, Sentence

if TYPE_CHECKING:
    from collections.abc import Callable

    from fizzplate.cell.physics import CellLike


def refuse_too_much_current(cell: CellLike, current_A: float) -> None:
    """Refuse a current, A, for which the supply's largest voltage is too low from the start.

    Raises
    ------
    InputError
        That names the voltage that it would need, and the largest current that goes through this cell.
    """
    needed = voltage_needed(cell, current_A)
    if needed.exceeds_supply:
        where = "this cell and its lamp" if cell.lamp else "this cell"
        without = ", or a larger current without the lamp" if cell.lamp else ""
        raise InputError(
            "current_A",
            current_A,
            Sentence(
                "at most {current} here{without}. A stronger solution, or electrodes closer together, "
                "let a larger current through",
                {
                    "current": _two_figures(needed.max_current_A, "A", math.floor),
                    "without": without,
                },
            ),
            why=Sentence(
                "{where} would need about {needed} for this current, and no supply here gives more "
                "than {most}",
                {
                    "where": where,
                    "needed": _two_figures(needed.voltage_V, "V", math.ceil),
                    "most": Quantity(MAX_SUPPLY_V, "V"),
                },
            ),
        )


def _two_figures(value: float, unit: str, towards: Callable[[float], int]) -> Quantity:
    """Round a quantity down or up to two figures, to be written without powers of ten."""
    digits = 1 - math.floor(math.log10(value))
    rounded = towards(value * 10.0**digits) / 10.0**digits
    return Quantity(rounded, unit, f".{max(digits, 0)}f")
