"""Calculations of a hundred seeds by each maker, and how their answers are typed, for the tests beside."""

from __future__ import annotations

import pytest

from fizzplate.questions.calculations import makers as number_makers
from fizzplate.questions.dice import Dice

SEEDS = range(100)
MAKERS = {
    "charge": number_makers.charge,
    "mass": number_makers.mass,
    "gas volume": number_makers.volume,
    "time": number_makers.time_needed,
    "current": number_makers.current_needed,
    "ratio": number_makers.ratio,
    "yield": number_makers.percentage_yield,
    "two steps": number_makers.two_steps,
    "Faraday constant": number_makers.faraday_found,
    "gas at room temperature": number_makers.gas_at_room,
    "in parts": number_makers.in_parts,
    "mass from a melt": number_makers.melt_mass,
    "current efficiency": number_makers.efficiency,
    "plating time": number_makers.plating_time,
    "mole ratio": number_makers.mole_ratio,
    "charge number": number_makers.charge_number,
}
OF_SEVERAL = ("in parts", "mass from a melt", "plating time")

every_maker = pytest.mark.parametrize("name", list(MAKERS))


def made_by(name):
    return [MAKERS[name](Dice(seed)) for seed in SEEDS]


def typed(asked, replaced=None):
    """Write the full answer, with other text for some of its parts."""
    answers = [part.answer for part in asked.parts]
    for k, text in (replaced or {}).items():
        answers[k] = text
    return "; ".join(answers)


def marks_before(asked, k):
    return sum(len(part.steps) for part in asked.parts[:k])


def lines_of(asked, answer, k):
    """Return the lines of one part."""
    begin = marks_before(asked, k)
    return asked.mark(answer).lines[begin : begin + len(asked.parts[k].steps)]
