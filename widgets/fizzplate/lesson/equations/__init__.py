"""Half-equations to be written, and how an answer is judged."""

from fizzplate.lesson.equations.equation_judge import judge, known_species, normalise
from fizzplate.lesson.equations.equation_tasks import EquationTask, half_task, overall_task

__all__ = [
    "EquationTask",
    "half_task",
    "judge",
    "known_species",
    "normalise",
    "overall_task",
]
