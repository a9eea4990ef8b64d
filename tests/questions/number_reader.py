"""Work a calculation out from its printed text alone, with pint and periodictable, as a learner would.

Nothing of the package is used: quantities are read with their units, molar masses come from periodictable,
the Faraday and gas constants from pint's CODATA values.
"""

from __future__ import annotations

import re

import periodictable
import pint
from plain_spaces import with_plain_spaces  # beside this file

UNITS = pint.UnitRegistry()
FARADAY = (1 * UNITS.elementary_charge * UNITS.avogadro_constant).to("coulomb / mole")
ROUND_FARADAY = 96_500 * UNITS.coulomb / UNITS.mole
#: electrons for an atom of a metal or a molecule of anything else
ELECTRONS = {
    "copper": 2,
    "silver": 1,
    "nickel": 2,
    "zinc": 2,
    "chromium": 3,
    "lead": 2,
    "sodium": 1,
    "potassium": 1,
    "magnesium": 2,
    "calcium": 2,
    "aluminium": 3,
    "hydrogen": 2,
    "oxygen": 4,
    "chlorine": 2,
    "bromine": 2,
}
FORMULAE = {"hydrogen": "H2", "oxygen": "O2", "chlorine": "Cl2", "bromine": "Br2"}
NAMES = "|".join(ELECTRONS)
PLAIN = str.maketrans("₀₁₂₃₄₅₆₇₈₉⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "01234567890123456789-")
PINT = {
    "mA": "milliampere",
    "A": "ampere",
    "C": "coulomb",
    "minute": "minute",
    "minutes": "minute",
    "hour": "hour",
    "hours": "hour",
    "seconds": "second",
    "mg": "milligram",
    "g": "gram",
    "kg": "kilogram",
    "cm³": "centimeter ** 3",
    "dm³": "decimeter ** 3",
    "cm²": "centimeter ** 2",
    "m²": "meter ** 2",
    "mm": "millimeter",
    "µm": "micrometer",
    "mol": "mole",
    "kPa": "kilopascal",
    "%": "percent",
    "C/mol": "coulomb / mole",
    "g/mol": "gram / mole",
    "g/cm³": "gram / centimeter ** 3",
    "s": "second",
    "min": "minute",
}
QUANTITY = re.compile(
    r"(?<![\d.])(\d{1,3}(?: \d{3})+|\d+(?:\.\d+)?)(?: × 10([⁰¹²³⁴⁵⁶⁷⁸⁹⁻]+))? "
    r"(°C|" + "|".join(sorted(map(re.escape, PINT), key=len, reverse=True)) + r")(?![\w/³²])"
)


class Read:
    """What the text of a question gives.

    Parameters
    ----------
    question
        The question.
    stated
        Whether the molar masses and the Faraday constant are those that the text gives.
    """

    def __init__(self, question, *, stated=False):
        self.body, _, self.data = question.text.partition(" Take ")
        self.prompt = [part.prompt for part in question.parts]
        self.whole = " ".join((self.body, *self.prompt))
        self.stated = stated
        self.faraday = ROUND_FARADAY if stated else FARADAY

    def find(self, *kinds, text=None):
        """Return the first quantity of a kind (a pint dimension), or nothing."""
        for digits, power, unit in QUANTITY.findall(self.whole if text is None else text):
            size = float(digits.replace(" ", "")) * 10.0 ** int((power or "0").translate(PLAIN))
            given = (
                UNITS.Quantity(size, "degC").to("kelvin")
                if unit == "°C"
                else size * UNITS(PINT[unit])
            )
            if any(given.check(kind) for kind in kinds) and unit != "%":
                return given
        return None

    def percent(self):
        """Return the percentage that the text gives, as a fraction."""
        return float(re.search(r"([\d.]+) %", self.body)[1]) / 100

    @property
    def charge(self):
        """Return the charge: given, or the current times the time."""
        given = self.find("[current] * [time]")
        return given if given is not None else self.find("[current]") * self.find("[time]")

    def named(self, text=None):
        """Return the names of products in a text, in order, those of the liquids left out."""
        text = self.whole if text is None else text
        # "copper(II) sulfate solution" and "silver nitrate solution" name what is electrolysed
        liquids = rf"\b(?:{NAMES})(?:\([IV]+\))? (?:sulfate|nitrate|chloride|bromide|hydroxide|oxide|plating)"
        text = re.sub(liquids, "", text, flags=re.IGNORECASE)
        text = re.sub(rf"\b(?:{NAMES})\([IV]+\)|\bsilver-plating", "", text, flags=re.IGNORECASE)
        text = re.sub(r"copper (?:electrodes|anode)|nickel plates", "", text)
        text = re.sub(r"any hydrogen|some hydrogen|makes hydrogen|No hydrogen", "", text)
        return [name.lower() for name in re.findall(rf"\b({NAMES})\b", text, re.IGNORECASE)]

    def molar(self, name):
        """Return a molar mass: periodictable's, or the one that the text states."""
        formula = FORMULAE.get(name) or periodictable.elements.name(
            {"aluminium": "aluminum"}.get(name, name)
        )
        if self.stated:
            printed = str(formula).translate(str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉"))
            size = float(re.search(rf"M\({printed}\) = ([\d.]+) g/mol", self.data)[1])
        else:
            size = periodictable.formula(str(formula)).mass
        return size * UNITS.gram / UNITS.mole

    def amount_of(self, name, size):
        """Return moles of a mass or of a volume at room temperature."""
        if size.check("[substance]"):
            return size
        if size.check("[mass]"):
            return size / self.molar(name)
        return size / (24 * UNITS("decimeter ** 3 / mole"))

    def size_of(self, name, moles, unit):
        """Return the size of moles in the unit asked for."""
        if unit == "mol":
            return moles.to("mole").magnitude
        if UNITS(PINT[unit]).check("[mass]"):
            return (moles * self.molar(name)).to(PINT[unit]).magnitude
        return (moles * 24 * UNITS("decimeter ** 3 / mole")).to(PINT[unit]).magnitude

    def made(self, name, charge=None):
        """Return moles that the charge makes."""
        charge = self.charge if charge is None else charge
        return (charge / self.faraday / ELECTRONS[name]).to("mole")

    def wanted(self):
        """Return the amount in the text, with the name of what it is of."""
        pattern = rf"[\d.]+ (?:mg|g|cm³|dm³|mol) of ({NAMES})\b"
        found = re.search(pattern, self.body)
        return found[1], self.find("[mass]", "[length] ** 3", "[substance]", text=found[0])


def product_of(read):
    """Return what a question with one product is about."""
    stated = re.search(r"M\(([A-Z][a-z]?)\)", read.data)
    if stated:
        name = getattr(periodictable, stated[1]).name
        return {"aluminum": "aluminium"}.get(name, name)
    return read.named()[-1]


def work_out(question, *, stated=False):
    """Return the answers of a question, in the units of its parts."""
    return WAYS[question.maker](
        Read(with_plain_spaces(question), stated=stated), [part.unit for part in question.parts]
    )


def _charge(read, units):
    if units == ["C"]:
        return [read.charge.to("coulomb").magnitude]
    coulombs = read.find("[current] * [time]")
    if units == ["min"]:
        return [(coulombs / read.find("[current]")).to("minute").magnitude]
    return [(coulombs / read.find("[time]")).to("ampere").magnitude]


def _made(read, units):
    name = product_of(read)
    return [read.size_of(name, read.made(name), units[0])]


def _needed(read, units):
    name, size = read.wanted()
    charge = read.amount_of(name, size) * ELECTRONS[name] * read.faraday
    if units == ["min"]:
        return [(charge / read.find("[current]")).to("minute").magnitude]
    return [(charge / read.find("[time]")).to("ampere").magnitude]


def _ratio(read, units):
    question = read.named()[-1]
    size = read.find("[length] ** 3").to("centimeter ** 3").magnitude
    given = re.search(rf"cm³ of ({NAMES})", read.body)
    if given and given[1] != question:
        return [size * ELECTRONS[given[1]] / ELECTRONS[question]]
    parts = {"hydrogen": 2, "oxygen": 1}  # of water, by volume
    return [size * parts[question] / 3]


def _yield(read, units):
    text = re.sub(r"The cathode gains ([\d.]+ m?g)\.", rf"\1 of {product_of(read)}", read.body)
    read.body = text
    name, size = read.wanted()
    return [100 * (read.amount_of(name, size) / read.made(name)).to("").magnitude]


def _two_steps(read, units):
    name, size = read.wanted()
    question = read.named()[-1]
    moles = read.amount_of(name, size) * ELECTRONS[name] / ELECTRONS[question]
    return [read.size_of(question, moles, units[0])]


def _faraday(read, units):
    name, size = read.wanted()
    found = read.charge / (read.amount_of(name, size) * ELECTRONS[name])
    return [found.to("coulomb / mole").magnitude]


def _gas_in_room(read, units):
    moles = read.made(read.named()[-1])
    kelvin, constant = read.find("[temperature]"), 1 * UNITS.molar_gas_constant
    if read.stated:  # as schools take it
        kelvin = kelvin - 0.15 * UNITS.kelvin
        constant = 8.314 * UNITS("joule / mole / kelvin")
    volume = moles * constant * kelvin / read.find("[mass] / [length] / [time] ** 2")
    return [volume.to("centimeter ** 3").magnitude]


def _in_parts(read, units):
    name = product_of(read) if "M(" in read.data else read.named(" ".join(read.prompt))[-1]
    found = []
    for ask, unit in zip(read.prompt, units, strict=True):
        if unit == "C":
            found.append(read.charge.to("coulomb").magnitude)
        elif "moles of electrons" in ask:
            found.append((read.charge / read.faraday).to("mole").magnitude)
        else:
            found.append(read.size_of(name, read.made(name), unit))
    return found


def _melt(read, units):
    names = [read.named(ask)[0] for ask in read.prompt]
    return [
        read.size_of(name, read.made(name), unit) for name, unit in zip(names, units, strict=True)
    ]


def _efficiency(read, units):
    name = product_of(read)
    return [read.size_of(name, read.made(name, read.charge * read.percent()), units[0])]


def _plating(read, units):
    name = product_of(read)
    density = read.find("[mass] / [length] ** 3", text=read.data)
    mass = read.find("[length] ** 2") * read.find("[length]") * density
    charge = mass / read.molar(name) * ELECTRONS[name] * read.faraday
    time = charge / read.find("[current]")
    return [
        mass.to("gram").magnitude,
        charge.to("coulomb").magnitude,
        time.to(PINT[units[2]]).magnitude,
    ]


def _moles(read, units):
    name, size = read.wanted()
    question = read.named()[-1]
    return [(size * ELECTRONS[name] / ELECTRONS[question]).to("mole").magnitude]


def _charge_number(read, units):
    mass = read.find("[mass]")
    molar = read.find("[mass] / [substance]", text=read.data)
    electrons, moles = read.charge / read.faraday, mass / molar
    number = round((electrons / moles).to("").magnitude)
    return [electrons.to("mole").magnitude, moles.to("mole").magnitude, number]


WAYS = {
    "charge": _charge,
    "mass": _made,
    "gas volume": _made,
    "time": _needed,
    "current": _needed,
    "ratio": _ratio,
    "yield": _yield,
    "two steps": _two_steps,
    "Faraday constant": _faraday,
    "gas at room temperature": _gas_in_room,
    "in parts": _in_parts,
    "mass from a melt": _melt,
    "current efficiency": _efficiency,
    "plating time": _plating,
    "mole ratio": _moles,
    "charge number": _charge_number,
}
