"""Results of a class as questions give them, and which causes they allow."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from fizzplate.chemistry import half_equation, made_g, made_mol, species_name
from fizzplate.chemistry.substances import gas_volume_cm3
from fizzplate.lesson.measure import GAIN, GAS, LOSS, judge_causes
from fizzplate.questions.tables import candidates
from fizzplate.words import NO_BREAK, say

if TYPE_CHECKING:
    from collections.abc import Iterable

    from fizzplate.lesson.measure import CauseVerdict
    from fizzplate.questions.random_source import RandomSource


@dataclass(frozen=True, slots=True)
class Results:
    """A class's results, as a question gives them.

    Parameters
    ----------
    text
        What was done and measured, and what theory expects.
    watch
        The cell, as links write it.
    off_percent
        For the gain, the loss or the gas: how far it is from theory and its uncertainty, both in percent.
    causes
        Which causes are asked about, by name.
    """

    text: str
    watch: str
    off_percent: dict[str, tuple[float, float]]
    causes: tuple[str, ...]

    @property
    def verdicts(self) -> list[CauseVerdict]:
        """Every cause, with whether the results allow it: decided as on the Measure page."""
        return [each for each in judge_causes(self.off_percent) if each.cause.name in self.causes]

    @property
    def possible_causes(self) -> list[CauseVerdict]:
        """Causes that the results allow."""
        return [each for each in self.verdicts if each.allowed]

    @property
    def sufficient_causes(self) -> list[CauseVerdict]:
        """Of those, causes that act on all that is off by more than its uncertainty."""
        off = {what for what, (by, known) in self.off_percent.items() if abs(by) > known}
        return [each for each in self.possible_causes if off <= set(each.cause.directions)]

    @property
    def excluded_causes(self) -> list[CauseVerdict]:
        """Causes that the results rule out."""
        return [each for each in self.verdicts if not each.allowed]


KNOWN_MG = 3.0  # two weighings
KNOWN_PERCENT = 3.0  # of a volume
#: how far the gain and the loss are off together, each pair as one cause would have it
RODS_OFF_PERCENT = (
    *((-12, 1), (-9, -1), (-10, 0)),  # copper lost from the deposit, or hydrogen in its place
    *((1, 9), (-1, 12), (0, 14)),  # grains that fall off
    *((8, -10), (11, -8), (9, 9), (11, 12), (-9, -10), (-12, -11)),  # liquid, or another current
)


def draw_results(rng: RandomSource) -> Results:
    """Return results of a class: of two copper rods, or of a gas.

    Examples
    --------
    >>> from fizzplate.questions.random_source import RandomSource
    >>> sorted(draw_results(RandomSource(2)).off_percent)
    ['gas']
    """
    # so much charge that what is off by 8 % is off by more than weighing explains
    current, minutes = rng.one_of((0.25, 0.30)), rng.one_of((20, 25, 30))
    passes = f"A class passes {current:.2f}{NO_BREAK}A for {minutes}{NO_BREAK}minutes"
    charge_C = current * 60 * minutes
    return rng.one_of((_rod_results, _gas_results))(rng, passes, charge_C)


def _rod_results(rng: RandomSource, passes: str, charge_C: float) -> Results:
    expected = round(1e3 * made_g(half_equation("Cu"), "Cu", charge_C))
    off = dict(zip((GAIN, LOSS), rng.one_of(RODS_OFF_PERCENT), strict=True))
    found = {what: round(expected * (1 + by / 100)) for what, by in off.items()}
    return Results(
        say(
            "{passes} between two copper rods in copper(II) sulfate solution. In theory each rod "
            "should change by {expected}. {The_cathode} gained {gain} and {the_anode} lost "
            "{loss}; each mass is known to {known}.",
            rng.wording,
            passes=passes,
            expected=f"{expected}{NO_BREAK}mg",
            gain=f"{found[GAIN]}{NO_BREAK}mg",
            loss=f"{found[LOSS]}{NO_BREAK}mg",
            known=f"{KNOWN_MG:.0f}{NO_BREAK}mg",
        ),
        "CuSO4,anode=copper,cathode=copper",
        {
            what: (100 * (mass / expected - 1), 100 * KNOWN_MG / expected)
            for what, mass in found.items()
        },
        candidates("cause", rng.edition),
    )


def _gas_results(rng: RandomSource, passes: str, charge_C: float) -> Results:
    gas = rng.one_of(("O2", "O2", "H2"))
    moles = made_mol(half_equation(gas), gas, charge_C)
    expected_cm3 = float(gas_volume_cm3(moles, temperature_C=20.0))
    off = rng.one_of((-18, -14, -11, -8))
    return Results(
        f"{passes} through sodium sulfate solution with carbon rods at 20{NO_BREAK}°C. In theory "
        f"{expected_cm3:.1f}{NO_BREAK}cm³ of {species_name(gas)} should form. The class collects "
        f"{expected_cm3 * (1 + off / 100):.1f}{NO_BREAK}cm³, known to {KNOWN_PERCENT:.0f}{NO_BREAK}%.",
        "Na2SO4",
        {GAS: (float(off), KNOWN_PERCENT)},
        tuple(
            cause
            for cause in candidates("cause", rng.edition)
            if gas == "O2" or cause != "carbon burning"
        ),
    )


def acts(each: CauseVerdict, measured: Iterable[str]) -> str:
    """Say which way a cause moves what was measured."""
    return f"This cause makes {ways_of(each, measured)}."


def ways_of(each: CauseVerdict, measured: Iterable[str]) -> str:
    """Say which way a cause moves what was measured, as a part of a sentence."""
    return " and ".join(
        f"the {what} too {'large' if each.cause.directions[what] > 0 else 'small'}"
        for what in measured
        if what in each.cause.directions
    )
