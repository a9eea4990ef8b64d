"""Supply and lamp: what stands in series with the cell."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.data import find
from fizzplate.words import number

if TYPE_CHECKING:
    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

MAX_SUPPLY_V = find("model", quantity="largest supply voltage").value
CURRENT_EXPONENT = 0.55  # of a tungsten filament; common practice
LIGHT_EXPONENT = 3.4


@dataclass(frozen=True, slots=True)
class Lamp:
    """A filament lamp by its rating.

    ``I / I_rated = (V / V_rated)^0.55``, and its light goes as ``(V / V_rated)^3.4`` (common
    practice for tungsten filaments).

    Parameters
    ----------
    rated_V
        Rated voltage, V.
    rated_A
        Rated current, A.

    Examples
    --------
    >>> float(Lamp(6.0, 0.06).voltage_V(0.03).round(2))
    1.7
    """

    rated_V: float
    rated_A: float

    def __post_init__(self) -> None:
        number("lamp rated_V", self.rated_V, unit="V", above=0, maximum=30)
        number("lamp rated_A", self.rated_A, unit="A", above=0, maximum=5)

    def voltage_V(self, current_A: float | Array) -> Array:
        """Return the voltage across the lamp at a current, V."""
        ratio = np.asarray(current_A) / self.rated_A
        return np.asarray(self.rated_V * ratio ** (1 / CURRENT_EXPONENT))

    def light(self, current_A: float | Array) -> Array:
        """Return the light relative to that at the rating."""
        return np.asarray((self.voltage_V(current_A) / self.rated_V) ** LIGHT_EXPONENT)


@dataclass(frozen=True, slots=True)
class Supply:
    """A bench supply: it holds its voltage until the current reaches its limit, then the current.

    Parameters
    ----------
    max_voltage_V
        Voltage that it holds while the current is below the limit.
    max_current_A
        Current that it holds while the voltage is below ``max_voltage_V``.
    """

    max_voltage_V: float
    max_current_A: float

    @property
    def ln_max_current_A(self) -> float:
        """Logarithm of the limit of the current in A."""
        return math.log(self.max_current_A)
