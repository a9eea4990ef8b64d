"""How ions move in water: mobilities, ion pairs, diffusion coefficients, conductivity, density."""

from fizzplate.chemistry.transport_properties.conductivity import conductivity_S_m
from fizzplate.chemistry.transport_properties.density import WATER_KG_M3, density_change_kg_mol
from fizzplate.chemistry.transport_properties.diffusion import diffusion_coefficient_m2_s
from fizzplate.chemistry.transport_properties.mobility import Mobilities

__all__ = [
    "WATER_KG_M3",
    "Mobilities",
    "conductivity_S_m",
    "density_change_kg_mol",
    "diffusion_coefficient_m2_s",
]
