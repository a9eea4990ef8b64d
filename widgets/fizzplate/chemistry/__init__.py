"""What is true of substances: formulae, equations, solutions, electrodes, potentials, mobilities."""

from fizzplate.chemistry.balancing import balance
from fizzplate.chemistry.classroom_rule import ElectrodeRule, Rule, classroom_rule
from fizzplate.chemistry.equation import Equation
from fizzplate.chemistry.faraday import made_g, made_mol
from fizzplate.chemistry.formula import Formula, canonical, molar_mass_g_mol, parse_formula
from fizzplate.chemistry.half_equations import electrode_equation, half_equation, overall
from fizzplate.chemistry.notation import html, latex, pretty, speech
from fizzplate.chemistry.pedigree import Pedigree, explain
from fizzplate.chemistry.substances.colour import transmitted
from fizzplate.chemistry.substances.materials import Material, electrodes
from fizzplate.chemistry.substances.product_tests import ProductTest, observation_of, usual_test
from fizzplate.chemistry.substances.salts import (
    Melt,
    NonElectrolyte,
    Solution,
    melts,
    non_electrolytes,
    solutions,
)
from fizzplate.chemistry.substances.species import species_name, state_of
from fizzplate.words.refusals import InputError

__all__ = [
    "ElectrodeRule",
    "Equation",
    "Formula",
    "InputError",
    "Material",
    "Melt",
    "NonElectrolyte",
    "Pedigree",
    "ProductTest",
    "Rule",
    "Solution",
    "balance",
    "canonical",
    "classroom_rule",
    "electrode_equation",
    "electrodes",
    "explain",
    "half_equation",
    "html",
    "latex",
    "made_g",
    "made_mol",
    "melts",
    "molar_mass_g_mol",
    "non_electrolytes",
    "observation_of",
    "overall",
    "parse_formula",
    "pretty",
    "solutions",
    "species_name",
    "speech",
    "state_of",
    "transmitted",
    "usual_test",
]
