"""The labels of fields, and refusals that name what was wrong by its label."""

from __future__ import annotations

from types import MappingProxyType
from typing import TYPE_CHECKING

from fizzplate.words.refusals import refusal_text
from fizzplate.words.rendering import Rendering
from fizzplate.words.say import DEFAULT_WORDING, board_slots
from fizzplate.words.sentence import Sentence, begin

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fizzplate.words.refusals import InputError
    from fizzplate.words.wording import Wording

#: what a page writes above the field of an argument
LABELS: Mapping[str, str] = MappingProxyType(
    {
        "groups": "Groups",
        "each_cm3": "Each group, cm³",
        "spare_percent": "Spare, %",
        "balance_g": "Balance reads to, g",
        "room_m3": "Room, m³",
        "air_changes_h": "Air changes per hour",
        "period_min": "Period, minutes",
        "solid": "In the cupboard",
        "purity_percent": "Purity, %",
        "stock_mol_dm3": "Or dilute a stock solution of, mol/dm³",
        "concentration_mol_dm3": "Concentration, mol/dm³",
        "also_mol_dm3": "Second concentration, mol/dm³",
        "volume_cm3": "Volume, cm³",
        "minutes": "Time, minutes",
        "add": "What is added",
        "added": "Solution to add",
        "added_cm3": "To add, cm³",
        "added_mol_dm3": "Its concentration, mol/dm³",
        "water_cm3": "Water, cm³",
        "change": "Change during the run",
        "change_s": "Time of the change, s",
        "indicator": "Indicator",
        "supply_V": "Supply, V",
        "current_A": "Supply, A",
        "temperature_C": "Room, °C",
        "gap_cm": "Distance between the electrodes, cm",
        "solution": "Solution",
        "also": "Also dissolved",
        "beside": "Compare with",
        "holds": "Supply holds",
        "anode": "{Anode_in_full}",
        "cathode": "{Cathode_in_full}",
        "vessel": "Vessel",
        "lamp": "Lamp",
        "crystal": "Crystal",
        "immersed_area_cm2": "Area of an electrode in the liquid, cm²",
        "supply_limit_A": "Largest current that the supply gives, A",
        "anode_mass_g": "Mass of {the_anode}, g",
        "cathode_mass_g": "Mass of {the_cathode}, g",
        "pressure_kPa": "Air pressure in the room, kPa",
        "samples": "Samples",
        "formula": "Formula",
        "equation": "Equation",
        "electrode_names": "Names of the electrodes",
        "oxygen_from": "Oxygen from",
        "hydrogen_from": "Hydrogen from",
        "electrons": "Electrons",
        "dilute_below_mol_dm3": "Chloride counts as dilute below, mol/dm³",
        "dilute_chloride_below_mol_dm3": "Chloride counts as dilute below, mol/dm³",
    }
)


def field_label(argument: str, wording: Wording = DEFAULT_WORDING) -> str:
    """Return what a page writes above the field of an argument; its own name, if it has no label.

    Examples
    --------
    >>> field_label("volume_cm3")
    'Volume, cm³'
    """
    # a page that refuses by itself names the field in the reader's words already
    label = Sentence(LABELS.get(argument, "{name}"), {"name": argument})
    return begin(label.fill(board_slots(wording)))


def page_refusal(refusal: InputError, wording: Wording = DEFAULT_WORDING) -> str:
    """Say what was refused by the name that people see, with numbers and units as on a page.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> try:
    ...     Cell("NaCl", volume_cm3=-5)
    ... except ValueError as refusal:
    ...     page_refusal(refusal).split(". ")[0]
    'Volume, cm³: −5 cannot be used'
    """
    label = field_label(refusal.argument, wording)
    return refusal_text(refusal, label, Rendering.PAGE, board_slots(wording))
