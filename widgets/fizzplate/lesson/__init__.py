"""What a class does with it: the classroom rule, observations, tests, rule and bench compared."""

from fizzplate.lesson.bench import Cell
from fizzplate.lesson.difference import charge_share, differences
from fizzplate.lesson.hazards import caution_of, cautions
from fizzplate.lesson.narrator import narration, sentence_at
from fizzplate.lesson.product_tests import ProductTest, observation_of, usual_test
from fizzplate.lesson.results import results_table
from fizzplate.lesson.rule import ElectrodeRule, Rule, classroom_rule
from fizzplate.lesson.wording import Wording

__all__ = [
    "Cell",
    "ElectrodeRule",
    "ProductTest",
    "Rule",
    "Wording",
    "caution_of",
    "cautions",
    "charge_share",
    "classroom_rule",
    "differences",
    "narration",
    "observation_of",
    "results_table",
    "sentence_at",
    "usual_test",
]
