"""Why one group's results lie far from its class's line: a slip in what was noted, or a cause of error."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.lesson.measure.causes_of_error import judge_causes, possible_causes, signed_percent
from fizzplate.words import DEFAULT_WORDING, NO_BREAK, Rendering, Sentence, begin, number_text, say

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fizzplate.lesson.measure.class_entries import Groups
    from fizzplate.lesson.measure.theory_comparison import TheoryComparison
    from fizzplate.words import Wording

SURE = 3.0  # uncertainties of a group's own reading: nearer than this agrees
SLIP_TOLERANCE = 0.25  # a slip by a power of ten or by 60 is looked for within a quarter
MIN_OFF_PERCENT = 3.0  # of one group: less is not looked into
MAX_NAMED = 3  # causes, the likeliest first
#: factors by which a current or a time is noted wrongly, and what was noted then
CHARGE_SLIPS = (
    (0.1, "the decimal point of its current or time may be one place too far right"),
    (10.0, "the decimal point of its current or time may be one place too far left"),
    (0.001, "its current may be in mA, but noted in A"),
    (1000.0, "its current may be in A, but noted in mA"),
    (1 / 60, "its time may be in seconds, but noted in minutes"),
    (60.0, "its time may be in minutes, but noted in seconds"),
)


@dataclass(frozen=True, slots=True)
class GroupVerdict:
    """What may have happened in one group.

    Parameters
    ----------
    name, row
        The group, and its place in the table.
    off_percent
        For what it measured, how far off the class's line it is, and how far its own reading lets it be.
    sentences
        What is off, then what may explain it, the likeliest first.
    """

    name: str
    row: int
    off_percent: Mapping[str, tuple[float, float]]
    sentences: tuple[str, ...]


def explain_groups(
    groups: Groups,
    made: Mapping[str, TheoryComparison],
    wording: Wording = DEFAULT_WORDING,
) -> list[GroupVerdict]:
    """Say what may have happened in each group that is far off its class's line, or left out of it.

    Parameters
    ----------
    groups
        The class's table.
    made
        Each comparison with theory by what was measured: "gain", "loss", or the name of a gas.
    wording
        The board's.
    """
    rows = {
        row
        for found in made.values()
        for name, row in zip(
            (found.everyone or found).names, (found.everyone or found).rows, strict=True
        )
        if row not in found.rows or name in found.far_off
    }
    return [_verdict(groups, made, row, wording) for row in sorted(rows)]


def _verdict(
    groups: Groups, made: Mapping[str, TheoryComparison], row: int, wording: Wording
) -> GroupVerdict:
    off = {what: each for what, found in made.items() if (each := _off(found, row)) is not None}
    name = groups.names[row]
    far = {
        what: each
        for what, each in off.items()
        if abs(each[0]) > max(SURE * each[1], MIN_OFF_PERCENT)
    }
    if not off:
        return GroupVerdict(name, row, off, ("Its class has no line to compare it with.",))
    if not far:
        sentence = "It lies as near to the line as its own readings allow."
        return GroupVerdict(name, row, off, (sentence,))
    facts = "; ".join(
        f"{what} off the class's line by {signed_percent(value)}"
        if what in far
        else f"{what} on the class's line"
        for what, (value, _) in off.items()
    )
    why = (
        _reversed_weighing(groups, row, far)
        or _charge_slip(groups, row, off)
        or _causes(off, far, wording)
    )
    return GroupVerdict(name, row, off, (begin(f"{facts}."), why))


def _off(found: TheoryComparison, row: int) -> tuple[float, float] | None:
    """How far a group is off the middle of those who count, and its own uncertainty, both in percent."""
    everyone = found.everyone or found
    if row not in everyone.rows or not found.middle_slope > 0:
        return None
    k = everyone.rows.index(row)
    on_line = found.middle_slope * float(everyone.charge_C[k])
    return 100 * (float(everyone.measured[k]) / on_line - 1), 100 * found.error / on_line


def _charge_slip(groups: Groups, row: int, off: Mapping[str, tuple[float, float]]) -> str:
    """Say which slip in current or time explains all that a group measured, if one does."""
    factors = np.array([1 + value / 100 for value, _ in off.values()])
    errors = np.array([error / 100 for _, error in off.values()])
    factor = float(np.average(factors, weights=1 / errors**2))
    agree = bool((np.abs(factors - factor) <= SURE * errors).all())
    if factor <= 0 or not agree or abs(factor - 1) < 0.01 * MIN_OFF_PERCENT:
        return ""
    for slip, words in CHARGE_SLIPS:
        if abs(math.log(factor / slip)) < SLIP_TOLERANCE:
            return f"Likely: {words}."
    if len(off) == 1:
        return ""  # one reading alone says as little of the charge as of itself
    current = float(groups.values["current"][row])
    minutes = float(groups.charge_C[row]) / current / 60
    return (
        "Likely: another charge passed than was noted, since everything is off by the same share. It fits "
        f"{_figure(factor * current)}{NO_BREAK}A instead of {_figure(current)}{NO_BREAK}A, or "
        f"{_figure(factor * minutes)}{NO_BREAK}min instead of {_figure(minutes)}{NO_BREAK}min."
    )


def _reversed_weighing(groups: Groups, row: int, far: Mapping[str, tuple[float, float]]) -> str:
    """Say so where two weighings of an electrode stand the wrong way round."""
    weighed = {"gain": groups.gained_g, "loss": groups.lost_g}
    turned = [what for what in far if what in weighed and float(weighed[what][row]) < 0]
    if not turned:
        return ""
    return "Likely: the weighings before and after stand in each other's places."


def _causes(
    off: Mapping[str, tuple[float, float]], far: Mapping[str, tuple[float, float]], wording: Wording
) -> str:
    """Name the causes of error that move what is off the right way, and say whether one is large enough."""
    judged = judge_causes({what: (value, error * SURE / 2) for what, (value, error) in off.items()})
    alone = [each.cause for each in judged if each.allowed]
    pushing = alone or [
        each
        for each in possible_causes()
        if all(each.direction(what) * value >= 0 for what, (value, _) in far.items())
        and any(map(each.direction, far))
        and not any(each.direction(what) for what in off if what not in far)
    ]
    if not pushing:
        return "No single cause of error moves all of these this way: look at each reading again."
    named = "; ".join(
        say("{name} ({how})", wording, name=each.name, how=Sentence(each.how))
        for each in pushing[:MAX_NAMED]
    )
    if alone:
        return f"Possible alone: {named}."
    most = max(each.limit_percent for each in pushing)
    return (
        f"Too much for one usual cause, which seldom makes more than {signed_percent(most, '.0f')}: "
        f"look at its readings again. What works this way: {named}."
    )


def _figure(value: float) -> str:
    return number_text(value, Rendering.PAGE, spec=".3g")
