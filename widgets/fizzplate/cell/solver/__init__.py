"""How the equations are solved: the model of a cell, Newton steps, time steps, many cells side by side."""

from fizzplate.cell.solver.batch import (
    ConvergenceError,
    Segment,
    Trajectory,
    simulate,
    simulate_models,
)
from fizzplate.cell.solver.model import Model
from fizzplate.cell.solver.required_voltage import voltage_needed
from fizzplate.cell.solver.samples import Samples
from fizzplate.cell.solver.stage import MAX_RUN_MINUTES, Stage

__all__ = [
    "MAX_RUN_MINUTES",
    "ConvergenceError",
    "Model",
    "Samples",
    "Segment",
    "Stage",
    "Trajectory",
    "simulate",
    "simulate_models",
    "voltage_needed",
]
