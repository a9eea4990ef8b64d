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
from fizzplate.questions.makers.mark_points.works_points import (
    NOBLE,
    bleach_forms,
    carbon_burns,
    copper_deposited,
    copper_dissolves,
    gases_explode,
    hydroxide_stays,
    oxygen_forms,
    sludge_falls,
    sodium_crosses,
)

__all__ = [
    "NOBLE",
    "Results",
    "acts",
    "bleach_forms",
    "carbon_burns",
    "combine",
    "copper_deposited",
    "copper_dissolves",
    "draw_results",
    "either_name",
    "gases_explode",
    "hydroxide_stays",
    "ion_words",
    "mark_points",
    "oxygen_forms",
    "sludge_falls",
    "sodium_crosses",
    "spellings",
    "ways_of",
]
