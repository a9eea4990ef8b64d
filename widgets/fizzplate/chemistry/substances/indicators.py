"""Indicators: what colour each has at which pH."""

from __future__ import annotations

from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from fizzplate import data

if TYPE_CHECKING:
    from collections.abc import Mapping

    Scale = tuple[tuple[float, tuple[int, int, int]], ...]


@cache
def indicators() -> Mapping[str, Scale]:
    """Return each indicator's scale: pH and the colour there, red, green and blue of 255.

    Between two of them the colour changes steadily; beyond the ends it stays.

    Examples
    --------
    >>> [pH for pH, _ in indicators()["litmus"]]
    [4.5, 8.3]
    """
    scales: dict[str, list[tuple[float, tuple[int, int, int]]]] = {}
    for row in data.rows("indicators"):
        red, green, blue = bytes.fromhex(row.text.removeprefix("#"))
        scales.setdefault(row["indicator"], []).append((float(row["pH"]), (red, green, blue)))
    return MappingProxyType({name: tuple(sorted(scale)) for name, scale in scales.items()})
