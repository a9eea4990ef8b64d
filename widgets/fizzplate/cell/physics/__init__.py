"""The equations of a cell, one a file, named as a textbook names them."""

from fizzplate.cell.physics.bubbles import Release
from fizzplate.cell.physics.butler_volmer import Kinetics
from fizzplate.cell.physics.cell_like import CellLike
from fizzplate.cell.physics.circuit import CURRENT_EXPONENT, MAX_SUPPLY_V, Lamp, Supply
from fizzplate.cell.physics.convection import FreeConvection
from fizzplate.cell.physics.crystals import COVERED_FROM
from fizzplate.cell.physics.displacement import Displacement, displacements
from fizzplate.cell.physics.electrode_face import FaceModel, Faces, at_ends
from fizzplate.cell.physics.electrode_reactions import (
    Electrode,
    ExchangeFactors,
    ExchangeRow,
    Reaction,
    kinetic_value,
    opposing,
    reactions,
)
from fizzplate.cell.physics.gas_evolution import GasCollection
from fizzplate.cell.physics.geometry import Geometry, geometry
from fizzplate.cell.physics.haze import molar_volume_m3, settling_per_s
from fizzplate.cell.physics.mixing import REFERENCE_DIFFUSION_M2_S, Stirring
from fizzplate.cell.physics.nernst_planck import FlowModel, Flows
from fizzplate.cell.physics.passivity import (
    HALIDES,
    breaking_halide,
    breaks_films,
    is_passive,
    is_wholly_passive,
    passive_film,
)
from fizzplate.cell.physics.speciation import Speciation
from fizzplate.cell.physics.species import ACID, SpeciesProfile
from fizzplate.cell.physics.vessels import Range, Vessel, vessels

__all__ = [
    "ACID",
    "COVERED_FROM",
    "CURRENT_EXPONENT",
    "HALIDES",
    "MAX_SUPPLY_V",
    "REFERENCE_DIFFUSION_M2_S",
    "CellLike",
    "Displacement",
    "Electrode",
    "ExchangeFactors",
    "ExchangeRow",
    "FaceModel",
    "Faces",
    "FlowModel",
    "Flows",
    "FreeConvection",
    "GasCollection",
    "Geometry",
    "Kinetics",
    "Lamp",
    "Range",
    "Reaction",
    "Release",
    "Speciation",
    "SpeciesProfile",
    "Stirring",
    "Supply",
    "Vessel",
    "at_ends",
    "breaking_halide",
    "breaks_films",
    "displacements",
    "geometry",
    "is_passive",
    "is_wholly_passive",
    "kinetic_value",
    "molar_volume_m3",
    "opposing",
    "passive_film",
    "reactions",
    "settling_per_s",
    "vessels",
]
