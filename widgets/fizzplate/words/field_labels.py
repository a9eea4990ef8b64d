"""Refusals on the Prepare page, in the words that stand above its fields."""

from __future__ import annotations

from types import MappingProxyType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fizzplate.words.refusals import InputError

#: what a page writes above the field of an argument
LABELS: Mapping[str, str] = MappingProxyType(
    {
        "groups": "Groups",
        "each_cm3": "Each group, cm³",
        "spare_percent": "Spare, %",
        "balance_g": "Balance shows to, g",
        "room_m3": "Room, m³",
        "air_changes_h": "Air changes an hour",
        "period_min": "Period, minutes",
        "solid": "In the cupboard",
        "purity_percent": "Purity, %",
        "stock_mol_dm3": "Or dilute a stock of, mol/dm³",
        "concentration_mol_dm3": "Concentration, mol/dm³",
        "also_mol_dm3": "Second strength, mol/dm³",
        "volume_cm3": "Volume, cm³",
        "minutes": "Time, minutes",
        "supply_V": "Supply, V",
        "current_A": "Supply, A",
        "temperature_C": "Room, °C",
        "gap_cm": "Distance of the electrodes, cm",
    }
)


def in_words(refusal: InputError) -> str:
    """Say what was refused by the name that people see.

    Examples
    --------
    >>> from fizzplate.lesson.prepare.amounts import ClassNeeds
    >>> try:
    ...     ClassNeeds(0, 60, 10, 0.1)
    ... except ValueError as refusal:
    ...     in_words(refusal)
    'Groups: 0 cannot be used; allowed is a whole number from 1 to 100.'
    """
    name = refusal.argument
    label = LABELS.get(name, name.replace("_", " ").capitalize())
    given = refusal.given
    shown = f"{given:g}" if isinstance(given, (int, float)) else repr(given)[:60]
    says = refusal.says
    for plain, raised in (("dm3", "dm³"), ("cm3", "cm³"), ("m3", "m³")):
        says = says.replace(plain, raised)
    return f"{label}: {shown.replace('-', '−')} {says}"
