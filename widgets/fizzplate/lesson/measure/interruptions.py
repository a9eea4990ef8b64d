"""Where a logger's readings break off, or show no current: what that does to the charge."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from fizzplate.lesson.measure.logger_file import Readings

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    Indices = np.ndarray[tuple[int, ...], np.dtype[np.int64]]

LONG_STEPS = 5.0  # a step this many times the usual one is a gap: a choice
STILL = 0.01  # of the largest current: what a meter shows with its leads open is less than this
MAX_NAMED_INTERRUPTIONS = 3
MAX_DRAWN_READINGS = 1200  # readings of one line: more are closer than a screen shows
IN_MINUTES_FROM_S = 120.0


@dataclass(frozen=True, slots=True)
class Interruption:
    """A time without readings, or without current.

    Parameters
    ----------
    start_s, end_s
        The readings on both sides of a gap; the first and the last reading without current.
    """

    start_s: float
    end_s: float


def gaps(readings: Readings) -> tuple[Interruption, ...]:
    """Find where readings are missing: steps of time far longer than the usual (median) one.

    Examples
    --------
    >>> from fizzplate.lesson.measure.logger_file import Readings
    >>> gaps(Readings(np.array([0.0, 1, 2, 3, 60, 61]), np.full(6, 0.2)))
    (Interruption(start_s=3.0, end_s=60.0),)
    """
    steps = np.diff(readings.time_s)
    moved = steps[steps > 0]
    if moved.size < 2:
        return ()
    long = np.flatnonzero(steps > LONG_STEPS * np.median(moved))
    return tuple(_between(readings, int(k), int(k) + 1) for k in long)


def pauses(readings: Readings) -> tuple[Interruption, ...]:
    """Find stretches of at least two readings that show no current.

    Examples
    --------
    >>> from fizzplate.lesson.measure.logger_file import Readings
    >>> pauses(Readings(np.arange(6.0), np.array([0, 0, 0.2, 0, 0.2, 0.2])))
    (Interruption(start_s=0.0, end_s=1.0),)
    """
    none = np.abs(readings.current_A) <= STILL * np.max(np.abs(readings.current_A))
    edges = np.flatnonzero(np.diff(np.concatenate(([False], none, [False])).astype(int)))
    return tuple(
        _between(readings, first, after - 1)
        for first, after in zip(edges[::2], edges[1::2], strict=True)
        if after - first >= 2 and readings.time_s[after - 1] > readings.time_s[first]
    )


def time_unit(readings: Readings) -> tuple[str, float]:
    """Return the unit in which to name times of these readings: its name, and its size in seconds."""
    lasts_s = float(readings.time_s[-1] - readings.time_s[0])
    return ("minutes", 60.0) if lasts_s >= IN_MINUTES_FROM_S else ("seconds", 1.0)


def interruption_sentences(readings: Readings) -> list[str]:
    """Say where readings or the current are missing, and what that means for the charge.

    Examples
    --------
    >>> from fizzplate.lesson.measure.logger_file import Readings
    >>> interruption_sentences(Readings(np.array([0.0, 1, 2, 3, 60, 61]), np.full(6, 0.2)))[0]
    'No readings from 3 to 60 seconds. The charge there is an estimate, by a straight line across the gap.'
    """
    said = []
    if missing := gaps(readings):
        across = "the gap" if len(missing) == 1 else "each gap"
        said.append(
            f"No readings {_interruptions_text(missing, readings)}. "
            f"The charge there is an estimate, by a straight line across {across}."
        )
    if stopped := pauses(readings):
        said.append(
            f"No current {_interruptions_text(stopped, readings)}. "
            "If the supply was off, the charge is right. If a lead of the meter was loose, the charge is too "
            "small."
        )
    return said


def current_curve(readings: Readings) -> tuple[Array, Array]:
    """Return times and currents to draw: every peak and dip of a long file, and nothing across a gap.

    Returns
    -------
    tuple
        Times, s, and currents, A; in each gap stands a point that is not a number.
    """
    ends = [int(np.searchsorted(readings.time_s, gap.end_s)) for gap in gaps(readings)]
    whole = np.arange(readings.time_s.size)
    parts = [_thinned(part, readings.current_A) for part in np.split(whole, ends)]
    nothing = np.array([np.nan])

    def joined(values: Array) -> Array:
        return np.concatenate([each for part in parts for each in (values[part], nothing)][:-1])

    return joined(readings.time_s), joined(readings.current_A)


def _thinned(at: Indices, values: Array) -> Indices:
    """Keep of each of many equal shares of a file its ends, its highest and its lowest reading."""
    if at.size <= MAX_DRAWN_READINGS:
        return at
    shares = np.array_split(at, MAX_DRAWN_READINGS // 4)
    kept = [(s[0], s[np.argmin(values[s])], s[np.argmax(values[s])], s[-1]) for s in shares]
    return np.unique(np.array(kept))


def _between(readings: Readings, first: int, last: int) -> Interruption:
    return Interruption(float(readings.time_s[first]), float(readings.time_s[last]))


def _interruptions_text(found: tuple[Interruption, ...], readings: Readings) -> str:
    unit, size_s = time_unit(readings)
    named = [
        f"from {e.start_s / size_s:.3g} to {e.end_s / size_s:.3g}"
        for e in found[:MAX_NAMED_INTERRUPTIONS]
    ]
    if more := len(found) - len(named):
        return f"{', '.join(named)} {unit}, and in {more} more {'place' if more == 1 else 'places'}"
    *first, last = named
    return f"{', '.join(first)} and {last} {unit}" if first else f"{last} {unit}"
