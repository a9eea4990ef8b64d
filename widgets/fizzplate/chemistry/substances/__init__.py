"""What cells are made of: salts, species, electrode materials, gases, indicators, and what is refused."""
