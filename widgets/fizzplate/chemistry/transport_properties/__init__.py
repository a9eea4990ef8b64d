"""How ions move in water: mobilities, ion pairs, diffusion coefficients, conductivity, viscosity."""

from fizzplate.chemistry.transport_properties.conductivity import hydrogensulfate_constant_mol_m3
from fizzplate.chemistry.transport_properties.diffusion import diffusion_coefficient_m2_s
from fizzplate.chemistry.transport_properties.mobility import Mobilities

__all__ = [
    "Mobilities",
    "diffusion_coefficient_m2_s",
    "hydrogensulfate_constant_mol_m3",
]
