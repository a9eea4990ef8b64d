"""Makers of questions about charts of runs, and the stored runs that they read."""

from fizzplate.questions.makers.charts.parts import chart_choice_question
from fizzplate.questions.makers.charts.stored_runs import (
    CHARGE,
    CHLORINE,
    COLLECTED,
    ZINC,
    stored_run,
)

__all__ = [
    "CHARGE",
    "CHLORINE",
    "COLLECTED",
    "ZINC",
    "chart_choice_question",
    "stored_run",
]
