"""What happens when current flows: geometry, circuit, kinetics, transport, the run and its record."""

from fizzplate.cell.cell import Cell, Stage, run_many
from fizzplate.cell.circuit import LARGEST_SUPPLY_V, Lamp
from fizzplate.cell.run import ElectrodeRecord, Run
from fizzplate.cell.vessel import Range, Vessel, vessels

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
