"""Why a class's results differ from theory: which causes move which way, and which are big enough."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum, auto
from functools import cache
from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.words import DEFAULT_WORDING, Quantity, Rendering, Sentence, say

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fizzplate.words import Wording

GAIN, LOSS, GAS = "gain", "loss", "gas"
HYDROGEN, OXYGEN, CHLORINE = "hydrogen", "oxygen", "chlorine"
GASES = (GAS, HYDROGEN, OXYGEN, CHLORINE)  # each gas is judged by its own volume


@dataclass(frozen=True, slots=True)
class Cause:
    """Something that happens in a real measurement (common practice).

    Parameters
    ----------
    name
        In words.
    directions
        What it moves, and which way: +1 makes the measured value larger.
    limit_percent
        The largest change that it usually makes, of the expected value.
    how
        What happens, in words that the board's wording fills: a part of a sentence.
    unit, usual_size
        In what its size is given, mg for each electrode or % of the charge or gas, and how large it often is.
    improvement
        What a class can do about it, in such words too.
    only
        The gases that it moves, where it does not move every gas.
    """

    name: str
    directions: dict[str, int]
    limit_percent: float
    how: str
    unit: str
    usual_size: float
    improvement: str
    only: tuple[str, ...] = ()

    def sentence_in(self, wording: Wording = DEFAULT_WORDING) -> str:
        """Say what happens, in the board's wording."""
        return say("{How}.", wording, how=Sentence(self.how))

    def how_in(self, wording: Wording = DEFAULT_WORDING) -> str:
        """Say what happens in the board's wording, as a part of a sentence."""
        return say("{how}", wording, how=Sentence(self.how))

    def improvement_in(self, wording: Wording = DEFAULT_WORDING) -> str:
        """Say what a class can do about it in the board's wording, as a part of a sentence."""
        return say("{improvement}", wording, improvement=Sentence(self.improvement))

    def direction(self, what: str) -> int:
        """Return which way it moves a quantity; 0 where it does not.

        Examples
        --------
        >>> burning = next(each for each in possible_causes() if each.name == "carbon burning")
        >>> burning.direction("oxygen"), burning.direction("hydrogen")
        (-1, 0)
        """
        if what not in GASES:
            return self.directions.get(what, 0)
        return 0 if self.only and what not in self.only else self.directions.get(GAS, 0)

    def effects(self, size: float, percent_per_mg: Mapping[str, float]) -> dict[str, float]:
        """Work out what a size of this cause does to every quantity, in percent of the expected value.

        Parameters
        ----------
        size
            In the cause's unit.
        percent_per_mg
            What 1 mg at each electrode moves the slope by, for the quantities that were measured.

        Examples
        --------
        >>> possible_causes()[1].effects(4.0, {"gain": 0.5, "loss": 0.5})
        {'gain': 2.0, 'loss': -2.0}
        """
        return {
            what: self.direction(what) * size * (per_mg if self.unit == "mg" else 1.0)
            for what, per_mg in percent_per_mg.items()
            if self.direction(what)
        }


_DIRECTIONS = {"": 0, "high": +1, "low": -1}


@cache
def possible_causes() -> tuple[Cause, ...]:
    """Return the causes that a class may find, in the order in which a page lists them.

    Examples
    --------
    >>> possible_causes()[1].name, possible_causes()[1].directions
    ('liquid trapped', {'gain': 1, 'loss': -1})
    """
    return tuple(_cause(row) for row in data.rows("causes_of_error"))


def _cause(row: data.Row) -> Cause:
    cells = row.cells
    directions = {what: cells.one_of(what, _DIRECTIONS) for what in (GAIN, LOSS, GAS)}
    # a cause of one named gas also moves a gas that is not named
    only = {"": (), **{gas: (GAS, gas) for gas in GASES[1:]}}
    return Cause(
        cells.text("cause"),
        {what: direction for what, direction in directions.items() if direction},
        cells.numbers("limit_percent")[0],
        row.text,
        cells.text("size_unit"),
        cells.numbers("usual_size")[0],
        cells.text("improvement"),
        cells.one_of("only", only),
    )


class Standing(Enum):
    """How a quantity that a cause moves stands with the class's data."""

    NOT_OFF = auto()  #: it is off by less than twice its uncertainty
    OPPOSITE = auto()  #: it is off in the other direction
    TOO_FAR_OFF = auto()  #: it is off by more than the cause makes
    EXPLAINED = auto()


@dataclass(frozen=True, slots=True)
class CauseVerdict:
    """How a cause stands with the class's data.

    Parameters
    ----------
    cause
        Which.
    allowed
        Whether the data allow it alone: it moves nothing the wrong way, and is big enough.
    sentence
        Why, as a sentence.
    """

    cause: Cause
    allowed: bool
    sentence: str


def judge_causes(
    off_percent: Mapping[str, tuple[float, float]],
    effects: Mapping[str, Mapping[str, float]] | None = None,
) -> list[CauseVerdict]:
    """Say which causes a class's own data allow and which not.

    Parameters
    ----------
    off_percent
        For "gain", "loss", "hydrogen", "oxygen", "chlorine" or any "gas": how far the measured value is
        from theory, and its uncertainty, both in percent of the expected value.
    effects
        By name of a cause, what its size does to each quantity, in percent; the usual limit without.

    Examples
    --------
    >>> found = judge_causes({"gain": (-1.0, 2.0), "loss": (12.0, 2.0)})
    >>> [each.cause.name for each in found if each.allowed]
    ['grains shed']
    """
    return [
        _judged(cause, off_percent, (effects or {}).get(cause.name))
        for cause in possible_causes()
        if any(map(cause.direction, off_percent))
    ]


def resolution_sentence(off_percent: Mapping[str, tuple[float, float]]) -> str:
    """Say whether the resolution of the balance or the tube explains what is off.

    Parameters
    ----------
    off_percent
        By quantity, how far it is off and what the resolution alone does to the slope, both in percent.

    Examples
    --------
    >>> resolution_sentence({"gain": (-1.0, 0.8)}).split(" by ")[0]
    'The gain is off'
    """
    return " ".join(
        say(
            "The {what} is off by {off}. The resolution of the instrument can explain up to {most}."
            if abs(off) <= 2 * error
            else "The {what} is off by {off}. The resolution of the instrument can explain only {most}.",
            what=what,
            off=signed_percent(off),
            most=signed_percent(2 * error, ".2g"),
        )
        for what, (off, error) in off_percent.items()
    )


def signed_percent(value: float, spec: str = "+.0f") -> str:
    """Write a percentage, with its sign if no other format is asked for."""
    return Quantity(value, "%", spec).text(Rendering.PAGE)


def _judged(
    cause: Cause,
    off_percent: Mapping[str, tuple[float, float]],
    effects: Mapping[str, float] | None,
) -> CauseVerdict:
    quantities: dict[Standing, list[str]] = {standing: [] for standing in Standing}
    for what, (off, error) in off_percent.items():
        direction = cause.direction(what)
        most = cause.limit_percent if effects is None else abs(effects.get(what, 0.0))
        if not direction:
            continue
        if abs(off) <= 2 * error:
            standing = Standing.NOT_OFF
        elif math.copysign(1, off) != direction:
            standing = Standing.OPPOSITE
        elif abs(off) > most + 2 * error:
            standing = Standing.TOO_FAR_OFF
        else:
            standing = Standing.EXPLAINED
        quantities[standing].append(what)
    allowed, sentence = _verdict(cause, off_percent, effects, quantities)
    return CauseVerdict(cause, allowed, sentence)


def _verdict(
    cause: Cause,
    off_percent: Mapping[str, tuple[float, float]],
    effects: Mapping[str, float] | None,
    quantities: Mapping[Standing, list[str]],
) -> tuple[bool, str]:
    """Say whether the data allow a cause alone, and why, from how each quantity stands with it."""
    explained, not_off = quantities[Standing.EXPLAINED], quantities[Standing.NOT_OFF]
    # each gas is collected, dissolves and burns by itself, so that one says nothing of the other
    by_itself = set(cause.directions) == {GAS}
    if quantities[Standing.OPPOSITE] and not (by_itself and explained):
        what = quantities[Standing.OPPOSITE][0]
        return False, (
            f"Not alone: the {what} is off by {signed_percent(off_percent[what][0])}, in the opposite "
            "direction, so something else must have a larger effect."
        )
    if quantities[Standing.TOO_FAR_OFF] and not (by_itself and explained):
        what = quantities[Standing.TOO_FAR_OFF][0]
        size = (
            f"this cause seldom makes more than {signed_percent(cause.limit_percent, '.0f')}"
            if effects is None
            else f"a cause of this size makes {signed_percent(effects.get(what, 0.0), '+.1f')}"
        )
        return (
            False,
            f"Not alone: {size}, and the {what} is off by {signed_percent(off_percent[what][0])}.",
        )
    if not explained:
        return (
            False,
            f"Not needed: the {not_off[0]} differs from theory by less than twice its uncertainty.",
        )
    if not_off and not by_itself:
        return False, (
            f"Not alone: this cause would change the {not_off[0]} too, but the {not_off[0]} differs from "
            "theory by less than twice its uncertainty."
        )
    what = explained[0]
    makes = (
        ""
        if effects is None
        else f", and a cause of this size makes {signed_percent(effects.get(what, 0.0), '+.1f')}"
    )
    return True, f"Possible: the {what} is off by {signed_percent(off_percent[what][0])}{makes}."
