"""Numbers, units and quantities written for a page and as plain text.

A page, its print and its SVG hold the same Unicode letters, so one rendering serves all three: they
differ from plain text only. The raised and lowered signs of formulae are made here too
(:mod:`fizzplate.chemistry.notation` also writes formulae as HTML, LaTeX and speech).
"""

from __future__ import annotations

import re
from abc import ABC, abstractmethod
from dataclasses import dataclass
from enum import Enum, auto

_EXPONENT = re.compile(r"(?<=[a-z])-?\d")
NO_BREAK = "\N{NO-BREAK SPACE}"  #: keeps a number and its unit, or its thousands, on one line
SPACED_FROM = 5  # digits before the point: in 1200 the thousands stand together
_RAISED = str.maketrans("0123456789+-−", "⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻⁻")
_LOWERED = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")


class Rendering(Enum):
    """Where a value is written."""

    PLAIN = auto()  #: as typed in Python and in files: mol/dm3, -0.5, 1e-05
    PAGE = auto()  #: Unicode, on pages, on paper, in SVG and on canvas: mol/dm³, −0.5, 1 × 10⁻⁵


def raised(text: str) -> str:
    """Write an exponent or a charge above the line.

    Examples
    --------
    >>> raised("-2"), raised("2+")
    ('⁻²', '²⁺')
    """
    return text.translate(_RAISED)


def lowered(text: str) -> str:
    """Write a number of atoms below the line.

    Examples
    --------
    >>> lowered("4")
    '₄'
    """
    return text.translate(_LOWERED)


def number_text(value: float, rendering: Rendering, *, spec: str = "g") -> str:
    """Write a number: on a page with a true minus, a power of ten instead of an e, and thousands apart.

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
    >>> print(number_text(36828, Rendering.PAGE, spec=".0f"), number_text(1200, Rendering.PAGE))
    36 828 1200
    """
    plain = format(value, spec)
    if rendering is Rendering.PLAIN:
        return plain
    digits, _, exponent = plain.partition("e")
    whole, point, decimals = digits.lstrip("+-").partition(".")
    if len(whole) >= SPACED_FROM:
        whole = f"{int(whole):,}".replace(",", NO_BREAK)
    sign = "−" if plain.startswith("-") else "+" if plain.startswith("+") else ""
    power = f" × 10{raised(str(int(exponent)))}" if exponent else ""
    return f"{sign}{whole}{point}{decimals}{power}"


def with_unit(written: str, unit: str) -> str:
    """Put a unit behind a number that is written, on one line with it; a bare number stays bare.

    Examples
    --------
    >>> print(with_unit("0.25", "mol/dm³"), with_unit("3", ""))
    0.25 mol/dm³ 3
    """
    return f"{written}{NO_BREAK}{unit}" if unit else written


def unit_text(unit: str, rendering: Rendering) -> str:
    """Write a unit.

    Examples
    --------
    >>> unit_text("mol/dm3", Rendering.PAGE), unit_text("cm2", Rendering.PLAIN)
    ('mol/dm³', 'cm2')
    """
    if rendering is Rendering.PLAIN:
        return unit
    return _EXPONENT.sub(lambda found: raised(found[0]), unit)


class SentenceValue(ABC):
    """A value of a sentence that is written differently on a page and plainly."""

    @abstractmethod
    def text(self, rendering: Rendering) -> str:
        """Write the value."""


ONE_OF = {
    "minutes": "minute",
    "questions": "question",
}  # what one is called of units that are words


@dataclass(frozen=True, slots=True)
class Quantity(SentenceValue):
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
    >>> Quantity(60, "cm3").text(Rendering.PLAIN)
    '60 cm3'
    >>> print(Quantity(-0.5, "mol/dm3").text(Rendering.PAGE))
    −0.5 mol/dm³
    >>> Quantity(1, "minutes").text(Rendering.PLAIN), Quantity(2, "minutes").text(Rendering.PLAIN)
    ('1 minute', '2 minutes')
    """

    value: float
    unit: str = ""
    spec: str = "g"

    def text(self, rendering: Rendering) -> str:
        """Write number and unit."""
        shown = number_text(self.value, rendering, spec=self.spec)
        unit = unit_text(ONE_OF.get(self.unit, self.unit) if shown == "1" else self.unit, rendering)
        if rendering is Rendering.PAGE:
            return with_unit(shown, unit)
        return f"{shown} {unit}" if unit else shown


def page_quantity(value: float, unit: str, spec: str = "g") -> str:
    """Write a number with its unit, in plain letters, as a page has them.

    Examples
    --------
    >>> print(page_quantity(0.5, "mol/dm3"), page_quantity(2 / 3, "cm3", ".2g"))
    0.5 mol/dm³ 0.67 cm³
    """
    return Quantity(value, unit, spec).text(Rendering.PAGE)


@dataclass(frozen=True, slots=True)
class Unit(SentenceValue):
    """A unit alone."""

    unit: str

    def text(self, rendering: Rendering) -> str:
        """Write the unit."""
        return unit_text(self.unit, rendering)


@dataclass(frozen=True, slots=True)
class NoValue(SentenceValue):
    """No value: ``None`` in Python, and on a page what its reader sees instead.

    Parameters
    ----------
    on_page
        The reader's words.

    Examples
    --------
    >>> NoValue("none").text(Rendering.PLAIN), NoValue("none").text(Rendering.PAGE)
    ('None', 'none')
    """

    on_page: str

    def text(self, rendering: Rendering) -> str:
        """Write that there is none."""
        return self.on_page if rendering is Rendering.PAGE else repr(None)
