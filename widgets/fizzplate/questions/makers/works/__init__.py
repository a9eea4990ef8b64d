"""Makers of questions about what electrolysis is used for: brine, pure copper, aluminium and plating."""

from fizzplate.questions.makers.works.industry import (
    ALUMINIUM,
    BRINE,
    MEMBRANE,
    REFINING,
    brine_alkali,
    impurities,
)

__all__ = [
    "ALUMINIUM",
    "BRINE",
    "MEMBRANE",
    "REFINING",
    "brine_alkali",
    "impurities",
]
