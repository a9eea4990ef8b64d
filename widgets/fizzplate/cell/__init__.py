"""What happens when current flows: geometry, circuit, kinetics, transport, the run and its record."""

from fizzplate.cell.cell import Cell, run_many
from fizzplate.cell.liquid import Liquid
from fizzplate.cell.physics.cell_like import CellLike
from fizzplate.cell.physics.circuit import LARGEST_SUPPLY_V, Lamp
from fizzplate.cell.physics.vessels import Range, Vessel, vessels
from fizzplate.cell.run import ElectrodeRecord, Run
from fizzplate.cell.solver.stage import Stage

__all__ = [
    "LARGEST_SUPPLY_V",
    "Cell",
    "CellLike",
    "ElectrodeRecord",
    "Lamp",
    "Liquid",
    "Range",
    "Run",
    "Stage",
    "Vessel",
    "run_many",
    "vessels",
]
