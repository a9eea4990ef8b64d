"""What is dissolved and what is solid in a liquid at equilibrium: one table, one solver."""

from fizzplate.chemistry.equilibria.activity import ConditionalConstants
from fizzplate.chemistry.equilibria.dissolving import dissolve
from fizzplate.chemistry.equilibria.newton import Equilibrium, EquilibriumSolver
from fizzplate.chemistry.equilibria.system import PROTON, ChemicalSystem, Member

__all__ = [
    "PROTON",
    "ChemicalSystem",
    "ConditionalConstants",
    "Equilibrium",
    "EquilibriumSolver",
    "Member",
    "dissolve",
]
