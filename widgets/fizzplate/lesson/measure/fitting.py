"""Straight lines through a class's own measurements, and what follows from their slopes."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from fizzplate.chemistry import FARADAY_C_MOL
from fizzplate.words import InputError

Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

FAR_OFF = 3.5  # robust deviations: a common limit for an outlier
FAR_SHARE = 0.05  # of what the line gives
MAD_TO_SIGMA = 1.4826  # of a normal distribution
MIN_POINTS_FOR_OUTLIERS = 5


@dataclass(frozen=True, slots=True)
class Fit:
    """A straight line.

    Parameters
    ----------
    slope, slope_error
        And its standard uncertainty, in units of y over x.
    intercept, intercept_error
        Zero where the line goes through the origin.
    residuals
        Of each point, (N,).
    by_resolution
        Whether the points scatter less than the instrument can show, so that its resolution sets the
        uncertainties.
    """

    slope: float
    slope_error: float
    intercept: float
    intercept_error: float
    residuals: Array
    by_resolution: bool = False

    @property
    def relative_error(self) -> float:
        """Uncertainty of the slope over the slope."""
        return abs(self.slope_error / self.slope) if self.slope else math.inf


def through_origin(x: Array, y: Array, *, resolution: float = 0.0) -> Fit:
    """Fit ``y = k x`` by least squares.

    Parameters
    ----------
    x, y
        The points, (N,).
    resolution
        What the instrument's resolution lets each y be off by; the scatter is not taken for less.

    Raises
    ------
    InputError
        If there are fewer than two points, or none with x.

    Examples
    --------
    >>> fit = through_origin(np.array([1.0, 2.0, 3.0]), np.array([2.0, 4.1, 5.9]))
    >>> round(fit.slope, 3), round(fit.slope_error, 3)
    (1.993, 0.026)
    """
    _enough(x, 2)
    square = float(x @ x)
    if square == 0:
        raise InputError("charge", "zero everywhere", "at least one charge above zero")
    slope = float(x @ y) / square
    residuals = np.asarray(y - slope * x)
    variance = float(residuals @ residuals) / (x.size - 1)
    coarse = variance < resolution**2
    error = math.sqrt(max(variance, resolution**2) / square)
    return Fit(slope, error, 0.0, 0.0, residuals, coarse)


def free_line(x: Array, y: Array, *, resolution: float = 0.0) -> Fit:
    """Fit ``y = a + k x`` by least squares.

    Parameters
    ----------
    x, y
        The points, (N,).
    resolution
        What the instrument's resolution lets each y be off by; the scatter is not taken for less.

    Raises
    ------
    InputError
        If there are fewer than three points, or all have the same x.

    Examples
    --------
    >>> fit = free_line(np.array([0.0, 1.0, 2.0, 3.0]), np.array([1.0, 3.1, 4.9, 7.0]))
    >>> round(fit.slope, 2), round(fit.intercept, 2)
    (1.98, 1.03)
    """
    _enough(x, 3)
    middle = float(x.mean())
    spread = float(((x - middle) ** 2).sum())
    if spread == 0:
        raise InputError("charge", "the same everywhere", "charges that differ")
    slope = float(((x - middle) * y).sum()) / spread
    intercept = float(y.mean()) - slope * middle
    residuals = np.asarray(y - intercept - slope * x)
    scatter = float(residuals @ residuals) / (x.size - 2)
    variance = max(scatter, resolution**2)
    return Fit(
        slope,
        math.sqrt(variance / spread),
        intercept,
        math.sqrt(variance * (1 / x.size + middle**2 / spread)),
        residuals,
        scatter < resolution**2,
    )


def _enough(x: Array, least: int) -> None:
    if x.size < least:
        raise InputError("groups", x.size, f"at least {least} groups with a value")


def outliers(fit: Fit) -> tuple[int, ...]:
    """Return which points lie far off, by deviations that an outlier does not enlarge.

    Examples
    --------
    >>> x = np.arange(1.0, 9.0)
    >>> y = 2 * x + np.array([0.1, -0.1, 0.1, 0.0, 9.0, -0.1, 0.0, 0.1])
    >>> outliers(free_line(x, y))
    (4,)
    """
    size = fit.residuals.size
    if size < MIN_POINTS_FOR_OUTLIERS:
        return ()
    away = np.abs(fit.residuals - np.median(fit.residuals))
    sigma = MAD_TO_SIGMA * float(np.median(away))
    if sigma == 0:
        return ()
    return tuple(int(k) for k in np.flatnonzero(away > FAR_OFF * sigma))


def middle_slope(x: Array, y: Array) -> float:
    """Return the median of the slopes from the origin to each point; NaN without points.

    Examples
    --------
    >>> middle_slope(np.array([1.0, 2.0, 30.0]), np.array([2.0, 4.0, 6.0]))
    2.0
    """
    return float(np.median(y / x)) if x.size else math.nan


def off_the_middle(x: Array, y: Array) -> tuple[int, ...]:
    """Return which points lie far off the line of the median slope.

    A point of ten times the charge would pull a least-squares line to itself, and seem to lie on it. A point
    within a twentieth of the line is never far off, however close the others lie (common practice).

    Examples
    --------
    >>> x = np.array([1.0, 2.0, 3.0, 4.0, 50.0, 6.0])
    >>> off_the_middle(x, np.array([2.1, 3.9, 6.1, 7.9, 10.0, 12.1]))
    (4,)
    """
    slope = middle_slope(x, y)
    residuals = np.asarray(y - slope * x)
    far = outliers(Fit(slope, 0.0, 0.0, 0.0, residuals))
    return tuple(k for k in far if abs(residuals[k]) > FAR_SHARE * abs(slope * x[k]))


@dataclass(frozen=True, slots=True)
class FittedConstant:
    """A constant that was found, with its standard uncertainty."""

    value: float
    error: float
    accepted: float

    @property
    def off(self) -> float:
        """Relative distance from the accepted value."""
        return self.value / self.accepted - 1


def constants_from_masses(
    fit: Fit, molar_mass_g_mol: float, charge_number: int
) -> dict[str, FittedConstant]:
    """Return what a slope in g/C gives: the Faraday constant, the molar mass, the charge number.

    Examples
    --------
    >>> x = np.array([100.0, 200.0, 300.0])
    >>> found = constants_from_masses(through_origin(x, x * 63.546 / (2 * 96485.33212)), 63.546, 2)
    >>> round(found["Faraday constant, C/mol"].value), round(found["charge number"].value, 6)
    (96485, 2.0)
    """
    part = fit.relative_error
    faraday = molar_mass_g_mol / (charge_number * fit.slope)
    mass = fit.slope * charge_number * FARADAY_C_MOL
    number = molar_mass_g_mol / (fit.slope * FARADAY_C_MOL)
    return {
        "Faraday constant, C/mol": FittedConstant(faraday, part * faraday, FARADAY_C_MOL),
        "molar mass, g/mol": FittedConstant(mass, part * mass, molar_mass_g_mol),
        "charge number": FittedConstant(number, part * number, float(charge_number)),
    }


def constants_from_volumes(
    fit: Fit, expected_slope: float, electrons: int
) -> dict[str, FittedConstant]:
    """Return what a slope in cm3/C gives, with the molar volume of the room that theory was worked out for.

    Examples
    --------
    >>> x = np.array([30.0, 60.0, 90.0])
    >>> found = constants_from_volumes(through_origin(x, 0.125 * x), 0.125, 2)
    >>> round(found["Faraday constant, C/mol"].value)
    96485
    """
    part = fit.relative_error
    faraday = FARADAY_C_MOL * expected_slope / fit.slope
    number = electrons * expected_slope / fit.slope
    return {
        "Faraday constant, C/mol": FittedConstant(faraday, part * faraday, FARADAY_C_MOL),
        "electrons for each molecule": FittedConstant(number, part * number, float(electrons)),
    }
