"""What happens when current flows: geometry, circuit, kinetics, transport, the run and its record."""

from fizzplate.cell.cell import Cell
from fizzplate.cell.electrode_record import ElectrodeRecord
from fizzplate.cell.known_runs import known_runs
from fizzplate.cell.oxide_film import oxide_film
from fizzplate.cell.physics import (
    MAX_SUPPLY_V,
    CellLike,
    Displacement,
    Lamp,
    Range,
    Vessel,
    displacements,
    is_passive,
    passive_film,
    vessels,
)
from fizzplate.cell.run import Run
from fizzplate.cell.setup import Liquid
from fizzplate.cell.side_by_side import run_many
from fizzplate.cell.solver import Stage
from fizzplate.cell.voltage_sweep import VoltageSweep, sweep_voltage
from fizzplate.cell.warnings import MIN_CURRENT_A, SPONGY

__all__ = [
    "MAX_SUPPLY_V",
    "MIN_CURRENT_A",
    "SPONGY",
    "Cell",
    "CellLike",
    "Displacement",
    "ElectrodeRecord",
    "Lamp",
    "Liquid",
    "Range",
    "Run",
    "Stage",
    "Vessel",
    "VoltageSweep",
    "displacements",
    "is_passive",
    "known_runs",
    "oxide_film",
    "passive_film",
    "run_many",
    "sweep_voltage",
    "vessels",
]
