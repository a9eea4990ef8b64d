"""Half-equations to be written, and how an answer is judged."""

from fizzplate.lesson.equations.equation_judge import (
    dissolved_compounds,
    judge,
    known_species,
    normalise,
)
from fizzplate.lesson.equations.equation_tasks import (
    EquationTask,
    half_task,
    overall_task,
    water_made,
)

__all__ = [
    "EquationTask",
    "dissolved_compounds",
    "half_task",
    "judge",
    "known_species",
    "normalise",
    "overall_task",
    "water_made",
]
