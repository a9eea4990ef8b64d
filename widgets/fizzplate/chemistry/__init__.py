"""What is true of substances: formulae, equations, solutions, electrodes, potentials, mobilities."""

from fizzplate.chemistry.balancing import balance
from fizzplate.chemistry.classroom_rule import (
    ElectrodeRule,
    Rule,
    classroom_rule,
    competitors,
    ion_list,
    wording_for,
)
from fizzplate.chemistry.constants import FARADAY_C_MOL, GAS_J_MOL_K, ZERO_CELSIUS_K
from fizzplate.chemistry.equation import Equation, Side
from fizzplate.chemistry.faraday import made_g, made_mol
from fizzplate.chemistry.formula import Formula, canonical, molar_mass_g_mol, parse_formula
from fizzplate.chemistry.half_equations import electrode_equation, half_equation, overall
from fizzplate.chemistry.in_words import in_words
from fizzplate.chemistry.notation import html, latex, line_and_charge, pretty, speech
from fizzplate.chemistry.provenance import Provenance, explain
from fizzplate.chemistry.substances import (
    Material,
    Melt,
    NonElectrolyte,
    ProductTest,
    Solution,
    electrodes,
    melts,
    name_without_number,
    non_electrolytes,
    observation_of,
    solutions,
    species_name,
    standard_test,
    state_of,
    transmittance,
)
from fizzplate.words import InputError

__all__ = [
    "FARADAY_C_MOL",
    "GAS_J_MOL_K",
    "ZERO_CELSIUS_K",
    "ElectrodeRule",
    "Equation",
    "Formula",
    "InputError",
    "Material",
    "Melt",
    "NonElectrolyte",
    "ProductTest",
    "Provenance",
    "Rule",
    "Side",
    "Solution",
    "balance",
    "canonical",
    "classroom_rule",
    "competitors",
    "electrode_equation",
    "electrodes",
    "explain",
    "half_equation",
    "html",
    "in_words",
    "ion_list",
    "latex",
    "line_and_charge",
    "made_g",
    "made_mol",
    "melts",
    "molar_mass_g_mol",
    "name_without_number",
    "non_electrolytes",
    "observation_of",
    "overall",
    "parse_formula",
    "pretty",
    "solutions",
    "species_name",
    "speech",
    "standard_test",
    "state_of",
    "transmittance",
    "wording_for",
]
