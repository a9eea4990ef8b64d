"""Why a class's results differ from theory: which causes move which way, and which are big enough."""

from __future__ import annotations

import math
from dataclasses import dataclass

GAIN, LOSS, GAS = "gain", "loss", "gas"


@dataclass(frozen=True, slots=True)
class Cause:
    """Something that happens in a real measurement (common practice).

    Parameters
    ----------
    name
        In words.
    moves
        What it moves, and which way: +1 makes the measured value larger.
    typical_percent
        How large it can be, of the expected value.
    how
        Why, as a sentence.
    """

    name: str
    moves: dict[str, int]
    typical_percent: float
    how: str


CAUSES = (
    Cause(
        "grains shed by the anode",
        {LOSS: +1},
        30.0,
        "Grains fall off the anode without dissolving.",
    ),
    Cause(
        "liquid trapped", {GAIN: +1, LOSS: -1}, 50.0, "A wet electrode weighs more than a dry one."
    ),
    Cause("flakes lost", {GAIN: -1}, 30.0, "Loose copper is rinsed or rubbed off the cathode."),
    Cause(
        "hydrogen beside the metal",
        {GAIN: -1},
        20.0,
        "At a high current part of the charge makes hydrogen instead.",
    ),
    Cause("gas dissolved", {GAS: -1}, 40.0, "Part of the gas stays in the solution."),
    Cause(
        "carbon burning",
        {GAS: -1},
        30.0,
        "Part of the oxygen becomes carbon dioxide at a carbon anode.",
    ),
    Cause("gas lost beside the tube", {GAS: -1}, 30.0, "Bubbles rise beside the tube."),
    Cause(
        "current above what was noted",
        {GAIN: +1, LOSS: +1, GAS: +1},
        20.0,
        "The current drifted up, so more charge passed than was worked out.",
    ),
    Cause(
        "current below what was noted",
        {GAIN: -1, LOSS: -1, GAS: -1},
        20.0,
        "The current drifted down, so less charge passed than was worked out.",
    ),
)


@dataclass(frozen=True, slots=True)
class Explained:
    """How a cause stands with the class's data.

    Parameters
    ----------
    cause
        Which.
    allowed
        Whether the data allow it: it moves nothing the wrong way, and is big enough.
    says
        Why, as a sentence.
    """

    cause: Cause
    allowed: bool
    says: str


def explain_difference(off_percent: dict[str, tuple[float, float]]) -> list[Explained]:
    """Say which causes a class's own data allow and which not.

    Parameters
    ----------
    off_percent
        For "gain", "loss" or "gas": how far the measured value is from theory, and its uncertainty, both in
        percent of the expected value.

    Examples
    --------
    >>> found = explain_difference({"gain": (-1.0, 2.0), "loss": (12.0, 2.0)})
    >>> [each.cause.name for each in found if each.allowed]
    ['grains shed by the anode']
    """
    seen = {
        what: 0 if abs(off) <= 2 * error else int(math.copysign(1, off))
        for what, (off, error) in off_percent.items()
    }
    return [
        _judged(cause, off_percent, seen) for cause in CAUSES if set(cause.moves) & set(off_percent)
    ]


def _judged(
    cause: Cause, off_percent: dict[str, tuple[float, float]], seen: dict[str, int]
) -> Explained:
    against, unmoved, explains, too_small = [], [], [], []
    for what, way in cause.moves.items():
        if what not in seen:
            continue
        off = off_percent[what][0]
        if seen[what] == 0:
            unmoved.append(what)
        elif seen[what] != way:
            against.append(what)
        elif abs(off) > cause.typical_percent + 2 * off_percent[what][1]:
            too_small.append(what)
        else:
            explains.append(what)
    if against:
        off = off_percent[against[0]][0]
        return Explained(
            cause,
            allowed=False,
            says=f"No: the {against[0]} is off by {off:+.0f} %, the other way.",
        )
    if too_small:
        return Explained(
            cause,
            allowed=False,
            says=f"Not alone: it is seldom more than {cause.typical_percent:.0f} %, and the "
            f"{too_small[0]} is off by {off_percent[too_small[0]][0]:+.0f} %.",
        )
    if not explains or (unmoved and len(cause.moves) > 1):
        what = unmoved[0]
        return Explained(
            cause,
            allowed=False,
            says=f"Not needed: the {what} agrees with theory within its uncertainty.",
        )
    off = off_percent[explains[0]][0]
    return Explained(
        cause, allowed=True, says=f"Possible: the {explains[0]} is off by {off:+.0f} %."
    )
