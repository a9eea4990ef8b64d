"""Makers of questions with a graph to plot: a table of readings, of which one does not fit."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from fizzplate.chemistry import FARADAY_C_MOL, molar_mass_g_mol
from fizzplate.lesson.measure import significant
from fizzplate.questions.calculations import amperes
from fizzplate.questions.content import Chart, ChartLine, Point
from fizzplate.questions.maker import UNDECLARED, maker
from fizzplate.questions.question_types import PlotQuestion
from fizzplate.words import NO_BREAK, say

if TYPE_CHECKING:
    from fizzplate.questions.question_types import Question
    from fizzplate.questions.random_source import RandomSource

MOLAR_VOLUME_CM3_MOL = 24_000.0  # at room temperature and pressure, as schools take it
READINGS = 7
STEPS_MIN = (2, 3, 4, 5)
CURRENTS_A = (0.30, 0.40, 0.50, 0.60)
SCATTER = 0.015  # of the largest value: how far a good reading may be from the law
ODD = (-0.16, -0.13, 0.13, 0.16)  # of the largest value: how far the odd reading is from it
READ_TO = 0.05  # of the value: how well a line that was drawn by hand is read


@dataclass(frozen=True, slots=True)
class _Measured:
    """What is measured: its name and label, its unit, the solution, and how much of it a coulomb makes."""

    name: str
    label: str
    unit: str
    solution: str
    watch: str
    amount_C: float


MEASURED = (
    _Measured(
        "mass of copper deposited",
        "Mass of copper, mg",
        "mg",
        "copper(II) sulfate solution",
        "CuSO4",
        1000 * molar_mass_g_mol("Cu") / (2 * FARADAY_C_MOL),
    ),
    _Measured(
        "mass of silver deposited",
        "Mass of silver, mg",
        "mg",
        "silver nitrate solution",
        "AgNO3",
        1000 * molar_mass_g_mol("Ag") / FARADAY_C_MOL,
    ),
    _Measured(
        "volume of hydrogen collected",
        "Volume of hydrogen, cm³",
        "cm³",
        "sulfuric acid",
        "H2SO4",
        MOLAR_VOLUME_CM3_MOL / (2 * FARADAY_C_MOL),
    ),
)


@maker("plot a graph", topic="practical work", level=14, version=3)
def plot_a_graph(rng: RandomSource) -> Question:
    """Ask to plot readings, to draw the line of best fit without the odd one, and to use the line.

    The readings are invented: what Faraday's law gives, with a scatter, and one that is far off.
    """
    of, current_A, step = rng.one_of(MEASURED), rng.one_of(CURRENTS_A), rng.one_of(STEPS_MIN)
    minutes = tuple(float(step * k) for k in range(1, READINGS + 1))
    per_minute = 60 * current_A * of.amount_C
    largest = per_minute * minutes[-1]
    odd = 2 + rng.number(READINGS - 4)  # neither at the beginning nor at the end
    off = [SCATTER * (rng.number(21) - 10) / 10 for _ in minutes]
    off[odd] = rng.one_of(ODD)
    places = 1 if largest < 100 else 0  # so that a column has about three figures
    values = tuple(
        round(per_minute * x + share * largest, places)
        for x, share in zip(minutes, off, strict=True)
    )
    fit = slope_through_origin(minutes, values, odd)
    asked, right, used = _use_of_line(rng, of, fit, step)
    statements = (
        (
            "each axis has its quantity with the unit and an even scale, so that the points fill more "
            "than half of the grid both ways"
        ),
        f"all {READINGS} points are within half a small square of their place",
        (
            "a straight line of best fit, drawn with a ruler, goes through the origin and leaves out the "
            f"reading at {minutes[odd]:g}{NO_BREAK}minutes"
        ),
        f"{used}: {right}",
    )
    text = say(
        "A class passes a steady current of {current} through {solution} and measures the {name} at "
        "{the_cathode}. The table shows the readings, which are invented. Plot them on graph paper, with "
        "time on the horizontal axis. Draw a straight line of best fit through the origin; leave out the "
        "reading that does not fit. {asked}",
        rng.wording,
        current=amperes(current_A),
        solution=of.solution,
        name=of.name,
        asked=asked,
    )
    chart = Chart(
        f"The line of best fit leaves out the reading at {minutes[odd]:g}{NO_BREAK}minutes",
        "Time, minutes",
        of.label,
        (
            ChartLine("readings", minutes, values),
            ChartLine("line of best fit", (0.0, minutes[-1]), (0.0, fit * minutes[-1])),
        ),
    )
    return PlotQuestion(
        *UNDECLARED,
        text,
        "; ".join(statements),
        points=tuple(Point(each, ()) for each in statements),
        chart=chart,
        watch=of.watch,
    )


def slope_through_origin(x: tuple[float, ...], y: tuple[float, ...], left_out: int) -> float:
    """Return the slope of the least-squares line through the origin, without one of the points.

    Examples
    --------
    >>> slope_through_origin((1.0, 2.0, 3.0), (2.0, 9.0, 6.0), 1)
    2.0
    """
    kept = [pair for k, pair in enumerate(zip(x, y, strict=True)) if k != left_out]
    return sum(a * b for a, b in kept) / sum(a * a for a, _ in kept)


def _use_of_line(rng: RandomSource, of: _Measured, fit: float, step: int) -> tuple[str, str, str]:
    """Return what the line is used for: the sentence that asks it, the answer, and what earns the mark."""
    if rng.number(2):
        between = step * (rng.number(3) + 3.5)
        return (
            f"Read from your line the {of.name} after {between:g}{NO_BREAK}minutes.",
            _accepted(fit * between, of.unit),
            f"the value at {between:g}{NO_BREAK}minutes is read from the line",
        )
    unit = f"{of.unit} per minute"
    return (
        f"Use your line to find the gradient in {unit}.",
        _accepted(fit, unit),
        "the gradient is worked out from two points of the line that are far apart",
    )


def _accepted(value: float, unit: str) -> str:
    low, middle, high = (significant(value * (1 + share), 3) for share in (-READ_TO, 0.0, READ_TO))
    return f"{middle}{NO_BREAK}{unit} (accept {low} to {high})"
