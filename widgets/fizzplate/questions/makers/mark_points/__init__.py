"""What earns a mark, in a learner's own words."""

from fizzplate.questions.makers.mark_points.class_results import acts, drawn_results
from fizzplate.questions.makers.mark_points.definitions import MEANINGS
from fizzplate.questions.makers.mark_points.residue_points import (
    HYDROGEN_GOES,
    HYDROGEN_LEFT,
    HYDROXIDE_GOES,
    HYDROXIDE_LEFT,
)
from fizzplate.questions.makers.mark_points.spellings import either_name, ion_words, said, spellings
from fizzplate.questions.makers.mark_points.test_points import TESTED

__all__ = [
    "HYDROGEN_GOES",
    "HYDROGEN_LEFT",
    "HYDROXIDE_GOES",
    "HYDROXIDE_LEFT",
    "MEANINGS",
    "TESTED",
    "acts",
    "drawn_results",
    "either_name",
    "ion_words",
    "said",
    "spellings",
]
