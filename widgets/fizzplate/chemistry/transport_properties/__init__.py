"""How ions move in water: mobilities, ion pairs, diffusion coefficients, conductivity, viscosity."""
