"""A stretch of a run with the wires one way."""

from __future__ import annotations

from dataclasses import dataclass

from fizzplate.words import number

MAX_RUN_MINUTES = 600.0


@dataclass(frozen=True, slots=True)
class Stage:
    """A stretch of a run with the wires one way.

    Parameters
    ----------
    minutes
        How long it lasts.
    swapped
        Whether the wires are swapped, so that the first cathode is the anode.
    off
        Whether the switch is open.
    """

    minutes: float
    swapped: bool = False
    off: bool = False

    def __post_init__(self) -> None:
        number("minutes", self.minutes, unit="minutes", above=0, maximum=MAX_RUN_MINUTES)

    @property
    def direction(self) -> int:
        """Which way the current flows: +1, -1 with the wires swapped, 0 with the switch open."""
        return 0 if self.off else -1 if self.swapped else 1
