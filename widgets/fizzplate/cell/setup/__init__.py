"""What a cell may be set up with: mixtures, what stages pour in, currents; and what is refused."""

from fizzplate.cell.setup.additions import (
    bleaches_made,
    halides_oxidised,
    mixture_after,
    refuse_dangers,
    refuse_no_room,
    stocks_after,
)
from fizzplate.cell.setup.current_limit import refuse_too_much_current
from fizzplate.cell.setup.liquid import Liquid
from fizzplate.cell.setup.mixture import read_mixture
from fizzplate.cell.setup.settings import (
    DEFAULT_SUPPLY_V,
    check_samples,
    read_crystal,
    read_mass_g,
    read_size,
    read_supply_limit_A,
    read_volume_cm3,
    voltage_or_current,
)

__all__ = [
    "DEFAULT_SUPPLY_V",
    "Liquid",
    "bleaches_made",
    "check_samples",
    "halides_oxidised",
    "mixture_after",
    "read_crystal",
    "read_mass_g",
    "read_mixture",
    "read_size",
    "read_supply_limit_A",
    "read_volume_cm3",
    "refuse_dangers",
    "refuse_no_room",
    "refuse_too_much_current",
    "stocks_after",
    "voltage_or_current",
]
