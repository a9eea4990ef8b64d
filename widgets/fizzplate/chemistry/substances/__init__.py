"""What cells are made of: salts, species, electrode materials, gases, indicators, and what is refused."""

from fizzplate.chemistry.substances.colour import BANDS, absorption_dm3_mol_cm, transmittance
from fizzplate.chemistry.substances.gases import GASES, gas_volume_cm3, saturation_mol_m3
from fizzplate.chemistry.substances.indicators import indicators
from fizzplate.chemistry.substances.materials import Material, electrodes
from fizzplate.chemistry.substances.product_kinds import kind_of, product_name
from fizzplate.chemistry.substances.product_tests import ProductTest, observation_of, standard_test
from fizzplate.chemistry.substances.refused import acidic_metal_ions, dangers, require_offered
from fizzplate.chemistry.substances.salts import (
    Melt,
    NonElectrolyte,
    Solution,
    melts,
    non_electrolytes,
    solutions,
)
from fizzplate.chemistry.substances.species import name_without_number, species_name, state_of

__all__ = [
    "BANDS",
    "GASES",
    "Material",
    "Melt",
    "NonElectrolyte",
    "ProductTest",
    "Solution",
    "absorption_dm3_mol_cm",
    "acidic_metal_ions",
    "dangers",
    "electrodes",
    "gas_volume_cm3",
    "indicators",
    "kind_of",
    "melts",
    "name_without_number",
    "non_electrolytes",
    "observation_of",
    "product_name",
    "require_offered",
    "saturation_mol_m3",
    "solutions",
    "species_name",
    "standard_test",
    "state_of",
    "transmittance",
]
