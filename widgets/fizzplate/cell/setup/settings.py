"""What a cell is set to, read and checked: its supply, sizes, electrodes, crystal and samples."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.cell.physics import MAX_SUPPLY_V
from fizzplate.words import InputError, NoValue, Sentence, choice, number

if TYPE_CHECKING:
    from fizzplate.cell.physics import Vessel

DEFAULT_SUPPLY_V = 6.0
MAX_CURRENT_A = 5.0
MAX_SAMPLES = 2001
CRYSTALS = ("KMnO4",)


def read_supply_limit_A(given: float) -> float:
    """Return the largest current that a supply can give, A."""
    return number("supply_limit_A", given, unit="A", above=0, maximum=MAX_CURRENT_A)


def voltage_or_current(
    supply_V: float | None, current_A: float | None, *, supply_limit_A: float
) -> tuple[float | None, float | None]:
    """Read what the supply is set to: a voltage or a constant current; the other is None.

    Examples
    --------
    >>> voltage_or_current(None, None, supply_limit_A=1.0)
    (6.0, None)
    """
    if current_A is None:
        volts = DEFAULT_SUPPLY_V if supply_V is None else supply_V
        why = "more is not safe to touch"
        return number(
            "supply_V", volts, unit="V", above=0, maximum=MAX_SUPPLY_V, limit_reason=why
        ), None
    if supply_V is not None:
        raise InputError("current_A", current_A, "either a current or a supply voltage, not both")
    return None, number("current_A", current_A, unit="A", above=0, maximum=supply_limit_A)


def read_volume_cm3(vessel: Vessel, given: float | None) -> float:
    """Return how much liquid is wanted in a vessel, cm3; nothing, where its size says how much."""
    allowed, name = vessel.volume_cm3, vessel.name
    if allowed is None:
        if given is not None:
            words = {"none": NoValue("an empty field"), "vessel": name}
            fixed = Sentence("{none}: the size of a {vessel} fixes the volume", words)
            raise InputError("volume_cm3", given, fixed)
        return 0.0
    if given is None:
        return allowed.default
    return number(
        "volume_cm3",
        given,
        unit="cm3",
        where=f"in a {name}",
        minimum=allowed.minimum,
        maximum=allowed.maximum,
    )


def read_size(vessel: Vessel, argument: str, given: float | None, unit: str) -> float:
    """Return a measure of the electrodes in a vessel, the vessel's own if none is given."""
    allowed = getattr(vessel, argument)
    if given is None:
        return float(allowed.default)
    return number(
        argument,
        given,
        unit=unit,
        where=f"in a {vessel.name}",
        minimum=allowed.minimum,
        maximum=allowed.maximum,
    )


def read_mass_g(argument: str, given: float | None) -> float | None:
    """Return the mass of an electrode at the start, g, or None."""
    return None if given is None else number(argument, given, unit="g", above=0, maximum=1000)


def read_crystal(vessel: Vessel, given: str | None) -> str | None:
    """Return the crystal that is laid on a vessel's paper, or None."""
    if given is None:
        return None
    if not vessel.takes_crystal:
        words = {"none": NoValue("none"), "vessel": vessel.name}
        raise InputError("crystal", given, Sentence("{none}: a {vessel} takes no crystal", words))
    return choice("crystal", given, CRYSTALS)


def check_samples(samples: int) -> None:
    """Raise an :class:`InputError` unless a run can be recorded at so many instants."""
    if not isinstance(samples, int) or not 2 <= samples <= MAX_SAMPLES:
        raise InputError("samples", samples, f"a whole number from 2 to {MAX_SAMPLES}")
