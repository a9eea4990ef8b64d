"""How the units of answers may be written, and the size of each in the unit asked for."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

# how units may be written, without spaces and in small letters, by how much of the first each is
_CHARGE: dict[float, str] = {
    1: "c coulomb coulombs as ampseconds",
    1e-3: "mc",
    1e-6: "μc uc",
    1000: "kc kilocoulomb kilocoulombs",
    3.6: "mah",
    3600: "ah amphours",
}
_CURRENT: dict[float, str] = {
    1: "a amp amps ampere amperes c/s",
    1e-3: "ma milliamp milliamps milliampere milliamperes",
    1e-6: "μa ua microamp microamps",
    1000: "ka kiloamp kiloamps kiloampere kiloamperes",
}
_VOLTAGE: dict[float, str] = {
    1: "v volt volts j/c",
    1e-3: "mv millivolt millivolts",
    1000: "kv kilovolt kilovolts",
}
_MASS: dict[float, str] = {
    1: "g gram grams gramme grammes gm gms",
    1e-3: "mg milligram milligrams milligrammes",
    1e-6: "μg ug microgram micrograms",
    1000: "kg kgs kilo kilos kilogram kilograms kilogramme kilogrammes",
    1e6: "t tonne tonnes",
}
_AMOUNT: dict[float, str] = {
    1: "mol mols mole moles",
    1e-3: "mmol mmols millimol millimole millimoles",
    1e-6: "μmol umol micromole micromoles",
    1000: "kmol kilomole kilomoles",
}
_VOLUME: dict[float, str] = {
    1: "cm3 ml mls cc ccm ccs cmcubed cubiccm cubiccentimetre cubiccentimetres cubiccentimeters "
    "centimetrescubed millilitre millilitres milliliter milliliters",
    10: "cl centilitre centilitres",
    1000: "dm3 l ltr litre litres liter liters dmcubed cubicdm cubicdecimetre cubicdecimetres "
    "decimetrescubed",
    1e6: "m3 mcubed cubicmetre cubicmetres cubicmeters metrescubed",
    1e-3: "mm3 mmcubed cubicmm cubicmillimetre cubicmillimetres μl ul microlitre microlitres",
}
_TIME: dict[float, str] = {
    1: "s sec secs second seconds",
    1e-3: "ms millisecond milliseconds",
    60: "min mins minute minutes",
    3600: "h hr hrs hour hours",
    86_400: "d day days",
}
_CHARGE_OF_A_MOLE: dict[float, str] = {
    1: "c/mol cmol-1 c/mole coulomb/mol coulombs/mol coulombs/mole cpermol cpermole "
    "coulombspermol coulombspermole as/mol asmol-1",
    1000: "kc/mol kcmol-1 kc/mole kcpermol",
}


def _sizes(spellings: Mapping[float, str], unit_size: float = 1) -> dict[str, float]:
    """Return the size of each spelling's unit in the unit asked for, given that unit in the first one."""
    return {word: size / unit_size for size, words in spellings.items() for word in words.split()}


#: how each unit may be written, and its size in the unit asked for
UNITS: dict[str, Mapping[str, float]] = {
    "C": _sizes(_CHARGE),
    "A": _sizes(_CURRENT),
    "V": _sizes(_VOLTAGE),
    "g": _sizes(_MASS),
    "kg": _sizes(_MASS, 1000),
    "mg": _sizes(_MASS, 1e-3),
    "mol": _sizes(_AMOUNT),
    "cm³": _sizes(_VOLUME),
    "dm³": _sizes(_VOLUME, 1000),
    "s": _sizes(_TIME),
    "min": _sizes(_TIME, 60),
    "%": {"%": 1, "percent": 1, "pc": 1},
    "C/mol": _sizes(_CHARGE_OF_A_MOLE),
}
