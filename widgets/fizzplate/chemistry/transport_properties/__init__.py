"""How ions move in water: mobilities, ion pairs, diffusion coefficients, conductivity, viscosity."""

from fizzplate.chemistry.transport_properties.conductivity import conductivity_S_m
from fizzplate.chemistry.transport_properties.diffusion import diffusion_coefficient_m2_s
from fizzplate.chemistry.transport_properties.mobility import Mobilities

__all__ = [
    "Mobilities",
    "conductivity_S_m",
    "diffusion_coefficient_m2_s",
]
