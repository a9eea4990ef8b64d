"""What earns a mark, in a learner's own words."""

from fizzplate.questions.makers.mark_points.class_results import (
    Results,
    acts,
    draw_results,
    ways_of,
)
from fizzplate.questions.makers.mark_points.points import mark_points
from fizzplate.questions.makers.mark_points.spellings import (
    combine,
    either_name,
    ion_words,
    spellings,
)

__all__ = [
    "Results",
    "acts",
    "combine",
    "draw_results",
    "either_name",
    "ion_words",
    "mark_points",
    "spellings",
    "ways_of",
]
