"""Questions with numbers for answers: builders with explicit quantities, and makers that draw them."""

from fizzplate.questions.calculations.derivations import ROOM, links_to_product
from fizzplate.questions.calculations.industry import brine_amounts, carbon_burnt, copper_purity
from fizzplate.questions.calculations.parts import Link, Slip, apart, number_question, part
from fizzplate.questions.calculations.products import (
    CLASS_A,
    COPPER,
    HYDROGEN,
    NICKEL,
    SILVER,
    ZINC,
)
from fizzplate.questions.calculations.quantities import FARADAY, Flow, amperes, measured

__all__ = [
    "CLASS_A",
    "COPPER",
    "FARADAY",
    "HYDROGEN",
    "NICKEL",
    "ROOM",
    "SILVER",
    "ZINC",
    "Flow",
    "Link",
    "Slip",
    "amperes",
    "apart",
    "brine_amounts",
    "carbon_burnt",
    "copper_purity",
    "links_to_product",
    "measured",
    "number_question",
    "part",
]
