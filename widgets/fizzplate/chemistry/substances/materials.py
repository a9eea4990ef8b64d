"""The electrode materials that are offered."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from fizzplate import data

if TYPE_CHECKING:
    from collections.abc import Mapping


@dataclass(frozen=True, slots=True)
class Material:
    """An electrode material.

    Parameters
    ----------
    name, formula
        Name in words and formula of the element.
    dissolves_as
        Ion as which it dissolves when it is the anode; empty for an inert one.
    density_kg_m3
        Density, kg/m3.
    """

    name: str
    formula: str
    dissolves_as: str
    density_kg_m3: float

    @property
    def active(self) -> bool:
        """Whether it dissolves as an anode."""
        return bool(self.dissolves_as)


@cache
def electrodes() -> Mapping[str, Material]:
    """Return every electrode material offered, by name.

    Examples
    --------
    >>> [name for name, material in electrodes().items() if material.active]
    ['copper', 'silver', 'nickel', 'zinc', 'iron']
    """
    return MappingProxyType(
        {
            row["name"]: Material(row["name"], row["formula"], row["dissolves_as"], row.value)
            for row in data.rows("electrodes")
        }
    )
