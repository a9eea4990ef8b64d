"""Numbers, units and quantities written for a page, for print, for a drawing (SVG) and as plain text."""

from __future__ import annotations

import re
from abc import ABC, abstractmethod
from dataclasses import dataclass
from enum import Enum, auto

_EXPONENT = re.compile(r"(?<=[a-z])-?\d")
_RAISED = str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")


class Rendering(Enum):
    """Where a value is written."""

    PLAIN = auto()  #: as typed in Python and in files: mol/dm3, -0.5, 1e-05
    PAGE = auto()  #: Unicode: mol/dm³, −0.5, 1 × 10⁻⁵
    PRINT = auto()  #: HTML, for a printed sheet: mol/dm<sup>3</sup>
    SVG = auto()  #: text of a drawing: as on a page


def raised(exponent: str, rendering: Rendering) -> str:
    """Write an exponent above the line.

    Examples
    --------
    >>> raised("-2", Rendering.PAGE), raised("-2", Rendering.PRINT), raised("-2", Rendering.PLAIN)
    ('⁻²', '<sup>−2</sup>', '-2')
    """
    if rendering is Rendering.PLAIN:
        return exponent
    if rendering is Rendering.PRINT:
        return f"<sup>{exponent.replace('-', '−')}</sup>"
    return exponent.translate(_RAISED)


def number_text(value: float, rendering: Rendering, *, spec: str = "g") -> str:
    """Write a number: with a true minus, and with a power of ten instead of an e.

    Parameters
    ----------
    value
        The number.
    rendering
        Where it is written.
    spec
        Python's format: figures and style.

    Examples
    --------
    >>> number_text(-0.00001, Rendering.PLAIN), number_text(-0.00001, Rendering.PAGE)
    ('-1e-05', '−1 × 10⁻⁵')
    """
    plain = format(value, spec)
    if rendering is Rendering.PLAIN:
        return plain
    digits, _, exponent = plain.partition("e")
    power = f" × 10{raised(str(int(exponent)), rendering)}" if exponent else ""
    return f"{digits.replace('-', '−')}{power}"


def unit_text(unit: str, rendering: Rendering) -> str:
    """Write a unit.

    Examples
    --------
    >>> unit_text("mol/dm3", Rendering.PAGE), unit_text("cm2", Rendering.PRINT)
    ('mol/dm³', 'cm<sup>2</sup>')
    """
    return _EXPONENT.sub(lambda found: raised(found[0], rendering), unit)


class Written(ABC):
    """A value of a sentence that is written differently on a page, in print, in a drawing and plainly."""

    @abstractmethod
    def text(self, rendering: Rendering) -> str:
        """Write the value."""


@dataclass(frozen=True, slots=True)
class Quantity(Written):
    """A number with its unit, or a pure number.

    Parameters
    ----------
    value
        The number.
    unit
        Its unit in plain letters ("mol/dm3"), or empty.
    spec
        Python's format of the number.

    Examples
    --------
    >>> Quantity(-0.5, "mol/dm3").text(Rendering.PAGE), Quantity(60, "cm3").text(Rendering.PLAIN)
    ('−0.5 mol/dm³', '60 cm3')
    """

    value: float
    unit: str = ""
    spec: str = "g"

    def text(self, rendering: Rendering) -> str:
        """Write number and unit."""
        shown = number_text(self.value, rendering, spec=self.spec)
        return f"{shown} {unit_text(self.unit, rendering)}" if self.unit else shown


@dataclass(frozen=True, slots=True)
class Unit(Written):
    """A unit alone."""

    unit: str

    def text(self, rendering: Rendering) -> str:
        """Write the unit."""
        return unit_text(self.unit, rendering)
