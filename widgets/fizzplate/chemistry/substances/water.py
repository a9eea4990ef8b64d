"""Vapour pressure of water."""

from __future__ import annotations

import math


def vapour_pressure_kPa(temperature_C: float) -> float:
    """Return the saturation vapour pressure of water, kPa, between 0 and 50 °C.

    ``p = 0.61121 exp((18.678 - t/234.5) t / (257.14 + t))`` with t in °C: Buck (1981), with the
    coefficients of 1996, within 0.1 % of IAPWS-95 at 20 and 25 °C.

    Examples
    --------
    >>> round(vapour_pressure_kPa(25.0), 2)
    3.17
    """
    t = temperature_C
    return 0.61121 * math.exp((18.678 - t / 234.5) * t / (257.14 + t))
