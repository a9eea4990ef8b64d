"""How the equations are solved: the model of a cell, Newton steps, time steps, many cells side by side."""

from fizzplate.cell.solver.batch import StuckError, Trajectory, simulate
from fizzplate.cell.solver.model import Model
from fizzplate.cell.solver.required_voltage import demand
from fizzplate.cell.solver.samples import Samples
from fizzplate.cell.solver.stage import LONGEST_RUN_MIN, Stage

__all__ = [
    "LONGEST_RUN_MIN",
    "Model",
    "Samples",
    "Stage",
    "StuckError",
    "Trajectory",
    "demand",
    "simulate",
]
