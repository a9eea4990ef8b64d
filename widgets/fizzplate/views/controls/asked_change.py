"""A change during a run as the page asks for it: its fields as they are typed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.lesson.state import Change
from fizzplate.views.controls.setup_bar import read_field_number

if TYPE_CHECKING:
    from collections.abc import Mapping


def read_asked_change(asked: Mapping[str, object]) -> Change:
    """Read what the page asks for; a comma is a decimal sign, as in every field.

    Parameters
    ----------
    asked
        ``atS``, the time on the ruler in seconds; ``kind``, and texts of the fields that it needs:
        ``amount``, ``substance``, ``strength``.

    Raises
    ------
    InputError
        If a field does not hold what it should.

    Examples
    --------
    >>> read_asked_change({"atS": 60, "kind": "water", "amount": "2,5"}).amount
    2.5
    """
    at = asked.get("atS")
    at_s = float(at) if isinstance(at, int | float) else 0.0
    kind = str(asked.get("kind"))
    amount, substance, strength = (
        str(asked.get(each, "")) for each in ("amount", "substance", "strength")
    )
    match kind:
        case "V" | "A":
            argument = "supply_V" if kind == "V" else "current_A"
            return Change(at_s, kind, read_field_number(argument, amount, unit=kind))
        case "water":
            return Change(at_s, kind, read_field_number("water_cm3", amount, unit="cm3"))
        case "add":
            added_cm3 = read_field_number("added_cm3", amount, unit="cm3")
            strength_mol_dm3 = read_field_number("added_mol_dm3", strength, unit="mol/dm3")
            return Change(at_s, kind, added_cm3, substance, strength_mol_dm3)
        case "indicator":
            return Change(at_s, kind, substance=substance)
    return Change(at_s, kind)
