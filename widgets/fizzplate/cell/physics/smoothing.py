"""A minimum without a corner: the amount present or the amount allowed, whichever is less."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

MAX_RATIO = 1e30  # of what there is to what may be; its power must not overflow
SHARPNESS = 8
MIN_LIMIT = 1e-250


@dataclass(frozen=True, slots=True)
class Minimum:
    """A smooth minimum and its derivatives by what there is and by the logarithm of the limit."""

    value: Array
    by_there: Array
    by_ln_limit: Array


def smooth_minimum(there: Array, limit: Array) -> Minimum:
    """Return ``(there^-n + limit^-n)^(-1/n)``, and ``there`` itself where it is not positive.

    Examples
    --------
    >>> bool(abs(smooth_minimum(np.array([1.0]), np.array([50.0])).value[0] - 1) < 1e-9)
    True
    """
    ratio = np.clip(there / np.maximum(limit, MIN_LIMIT), 0.0, MAX_RATIO)
    power = ratio**SHARPNESS
    kept = (1 + power) ** (-1 / SHARPNESS)
    value = there * kept
    return Minimum(value, kept / (1 + power), value * power / (1 + power))
