"""The vessels that are offered, with the sizes that they allow."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from fizzplate import data

if TYPE_CHECKING:
    from collections.abc import Mapping


@dataclass(frozen=True, slots=True)
class Range:
    """A default value and the limits that a vessel allows."""

    default: float
    minimum: float
    maximum: float


@dataclass(frozen=True, slots=True)
class Vessel:
    """A vessel by name, as the tables describe it.

    Parameters
    ----------
    name
        "beaker", "U-tube", "dish" (drops on a tile), "paper strip" or "still column".
    gap_cm
        Surface to surface between the electrodes (along the tube in a U-tube), cm.
    immersed_area_cm2
        Whole wetted surface of one electrode, cm2.
    volume_cm3
        Liquid, cm3; none where the vessel's own measures fix it.
    takes_crystal
        Whether a coloured crystal can be laid on it.
    film_mm
        Unmixed layer at each electrode, mm.
    stirred_by_hand
        Whether what is poured in can be stirred into all of its liquid.
    """

    name: str
    gap_cm: Range
    immersed_area_cm2: Range
    volume_cm3: Range | None
    film_mm: float
    takes_crystal: bool
    stirred_by_hand: bool

    def quantity(self, name: str) -> float:
        """Return another quantity of this vessel in the unit of its row."""
        return data.find("vessels", vessel=self.name, quantity=name).value


def _range(vessel: str, quantity: str) -> Range:
    default, minimum, maximum = (
        data.find("vessels", vessel=vessel, quantity=f"{prefix}{quantity}").value
        for prefix in ("", "smallest ", "largest ")
    )
    return Range(default, minimum, maximum)


@cache
def vessels() -> Mapping[str, Vessel]:
    """Return every vessel offered, by name.

    Examples
    --------
    >>> vessels()["beaker"].gap_cm.default
    3.0
    """
    names = dict.fromkeys(row["vessel"] for row in data.rows("vessels"))
    offered = {}
    for name in names:
        known = {row["quantity"] for row in data.rows("vessels") if row["vessel"] == name}
        offered[name] = Vessel(
            name=name,
            gap_cm=_range(name, "gap"),
            immersed_area_cm2=_range(name, "immersed area"),
            volume_cm3=_range(name, "volume") if "volume" in known else None,
            film_mm=data.find("vessels", vessel=name, quantity="film").value,
            takes_crystal="crystal width" in known,
            stirred_by_hand="stirred by hand" in known,
        )
    return MappingProxyType(offered)
