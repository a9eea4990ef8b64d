"""What a species is called within a sentence."""

from __future__ import annotations

from fizzplate.chemistry.formula import parse_formula
from fizzplate.chemistry.substances import species_name


def in_words(formula: str) -> str:
    """Name what reacts or forms, as in the middle of a sentence.

    Examples
    --------
    >>> in_words("Cu2+"), in_words("H2O"), in_words("Cu")
    ('copper(II) ions', 'water', 'copper')
    """
    return species_name(formula) + (" ions" if parse_formula(formula).charge else "")
