"""How the units of answers may be written, and the size of each in the unit asked for.

``units.json`` holds them, a line for each unit: the units that questions ask for with their quantity and
their size, and for each quantity every spelling, without spaces and in small letters. The page reads it as
well.
"""

from __future__ import annotations

import json
from importlib import resources
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

_TABLE = json.loads(resources.files(__package__).joinpath("units.json").read_text("utf-8"))


def _sizes(quantity: str, unit_size: float) -> dict[str, float]:
    """Return the size of each spelling's unit in the unit asked for, given that unit in the first one."""
    spellings: Mapping[str, str] = _TABLE["spellings"][quantity]
    return {
        word: float(size) / unit_size for size, words in spellings.items() for word in words.split()
    }


#: how each unit may be written, and its size in the unit asked for
UNITS: dict[str, Mapping[str, float]] = {
    unit: _sizes(quantity, unit_size) for unit, (quantity, unit_size) in _TABLE["units"].items()
}
#: every spelling of any unit
EVERY_UNIT = frozenset(word for words in UNITS.values() for word in words)
