"""Fizz & Plate: widgets for teaching the electrolysis of solutions.

At each electrode something fizzes or something plates. This package computes what, why, how much
and how fast from a model of the real cell; ``fizzplate.views`` shows it.
"""

from fizzplate.cell import Cell, Lamp, Run, Stage, run_many, sweep_voltage, vessels
from fizzplate.chemistry import balance, electrodes, explain, half_equation, overall, solutions
from fizzplate.questions import questions
from fizzplate.words import Wording

__version__ = "0.1.0"

__all__ = [
    "Cell",
    "Lamp",
    "Run",
    "Stage",
    "Wording",
    "balance",
    "electrodes",
    "explain",
    "half_equation",
    "overall",
    "questions",
    "run_many",
    "solutions",
    "sweep_voltage",
    "vessels",
]
