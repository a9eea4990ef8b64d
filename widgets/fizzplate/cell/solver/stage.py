"""A stretch of a run: wires one way, one setting of the supply, one liquid."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from fizzplate.chemistry import solutions
from fizzplate.chemistry.substances import require_offered
from fizzplate.words import InputError, number

MAX_RUN_MINUTES = 600.0


@dataclass(frozen=True, slots=True)
class Stage:
    """A stretch of a run: which way the wires are, what the supply is set to, what is added at its start.

    Parameters
    ----------
    minutes
        How long it lasts.
    swapped
        Whether the wires are swapped, so that the first cathode is the anode.
    off
        Whether the switch is open.
    supply_V, current_A
        What the supply is set to from this stage on, as in :class:`fizzplate.Cell`; as it was, if
        neither is given.
    add
        Solutions poured in at the start of the stage: by formula of the salt, volume in cm3 and
        concentration in mol/dm3. The liquid is stirred by hand, so all of it is alike at once, and the
        electrodes dip in as deep as before.
    water_cm3
        Pure water poured in likewise, cm3.

    Raises
    ------
    InputError
        If a number is out of range, or no such solution is offered. What depends on the cell (what must
        never be together, how much the vessel holds) is refused by :meth:`fizzplate.Cell.run`.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> cell = Cell("NaCl", concentration_mol_dm3=0.01)
    >>> run = cell.run(stages=[Stage(1), Stage(1, add={"AgNO3": (2.0, 0.05)})], samples=3)
    >>> [round(1e6 * float(amount)) for amount in run.haze_mol("AgCl")]  # in micromoles
    [0, 0, 100]
    >>> [round(float(volume), 1) for volume in run.volume_cm3]
    [60.0, 60.0, 62.0]
    """

    minutes: float
    swapped: bool = False
    off: bool = False
    supply_V: float | None = None
    current_A: float | None = None
    # a mapping has no hash; stages that are equal have equal hashes without it
    add: Mapping[str, tuple[float, float]] | None = field(default=None, hash=False)
    water_cm3: float | None = None

    def __post_init__(self) -> None:
        number("minutes", self.minutes, unit="minutes", above=0, maximum=MAX_RUN_MINUTES)
        if self.add is not None:
            object.__setattr__(self, "add", _read_additions(self.add))
        if self.water_cm3 is not None:
            number("water_cm3", self.water_cm3, unit="cm3", above=0)

    @property
    def direction(self) -> int:
        """Which way the current flows: +1, -1 with the wires swapped, 0 with the switch open."""
        return 0 if self.off else -1 if self.swapped else 1

    @property
    def added_cm3(self) -> float:
        """Volume of all that is poured in, cm3."""
        solutions_cm3 = sum(volume_cm3 for volume_cm3, _ in (self.add or {}).values())
        return solutions_cm3 + (self.water_cm3 or 0.0)


def _read_additions(
    given: Mapping[str, tuple[float, float]],
) -> Mapping[str, tuple[float, float]]:
    """Return what is poured in, by formula volume (cm3) and concentration (mol/dm3)."""
    wanted = 'volumes and concentrations, such as {"AgNO3": (1.0, 0.05)} for 1 cm3 of 0.05 mol/dm3'
    if not isinstance(given, Mapping) or not given:
        raise InputError("add", given, wanted)
    salts = solutions()
    read = {}
    for written, portion in given.items():
        formula = require_offered("add", written, salts, what="solution")
        if not isinstance(portion, (tuple, list)) or len(portion) != 2:
            raise InputError("add", portion, wanted)
        volume_cm3 = number("add", portion[0], unit="cm3", above=0)
        strength_mol_dm3 = number(
            "add",
            portion[1],
            unit="mol/dm3",
            above=0,
            maximum=salts[formula].solubility_mol_dm3,
            limit_reason=f"no stronger {salts[formula].name} solution can be made",
        )
        read[formula] = (volume_cm3, strength_mol_dm3)
    return MappingProxyType(read)
