"""Makers of questions about charts of runs, and the stored runs that they read."""

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
    "stored_run",
]
