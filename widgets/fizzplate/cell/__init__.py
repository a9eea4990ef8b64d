"""What happens when current flows: geometry, circuit, kinetics, transport, the run and its record."""

from fizzplate.cell.cell import Cell, Stage, run_many
from fizzplate.cell.physics.circuit import LARGEST_SUPPLY_V, Lamp
from fizzplate.cell.physics.vessels import Range, Vessel, vessels
from fizzplate.cell.run import ElectrodeRecord, Run

__all__ = [
    "LARGEST_SUPPLY_V",
    "Cell",
    "ElectrodeRecord",
    "Lamp",
    "Range",
    "Run",
    "Stage",
    "Vessel",
    "run_many",
    "vessels",
]
