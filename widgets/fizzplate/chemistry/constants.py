"""Physical constants, CODATA 2018 (exact in the SI of 2019 where so marked)."""

from typing import Final

FARADAY_C_MOL: Final = 96485.33212  #: charge of a mole of electrons, exact to the digits given
GAS_J_MOL_K: Final = 8.314462618  #: molar gas constant, exact to the digits given
ZERO_CELSIUS_K: Final = 273.15  #: 0 °C, exact
STANDARD_PRESSURE_KPA: Final = 101.325  #: standard atmosphere, exact
