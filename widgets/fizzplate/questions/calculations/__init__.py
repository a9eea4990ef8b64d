"""Questions with numbers for answers: builders with explicit quantities, and makers that draw them."""

from fizzplate.questions.calculations.quantities import FARADAY

__all__ = [
    "FARADAY",
]
