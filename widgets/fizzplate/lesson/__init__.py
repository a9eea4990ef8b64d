"""What a class does with it: the classroom rule, observations, tests, rule and bench compared."""

from fizzplate.lesson.bench import Cell
from fizzplate.lesson.cell_setup import CORE, LAMPS, USUAL, VESSELS, CellSetup
from fizzplate.lesson.difference import charge_share, differences
from fizzplate.lesson.hazards import cautions
from fizzplate.lesson.links import (
    PageState,
    from_file,
    from_query,
    read_cell,
    to_file,
    to_query,
    write_cell,
)
from fizzplate.lesson.narrator import narration, sentence_at, what_is_seen
from fizzplate.lesson.product_tests import ProductTest, observation_of, usual_test
from fizzplate.lesson.results import results_table
from fizzplate.lesson.rule import ElectrodeRule, Rule, classroom_rule
from fizzplate.words.wording import Wording

__all__ = [
    "CORE",
    "LAMPS",
    "USUAL",
    "VESSELS",
    "Cell",
    "CellSetup",
    "ElectrodeRule",
    "PageState",
    "ProductTest",
    "Rule",
    "Wording",
    "cautions",
    "charge_share",
    "classroom_rule",
    "differences",
    "from_file",
    "from_query",
    "narration",
    "observation_of",
    "read_cell",
    "results_table",
    "sentence_at",
    "to_file",
    "to_query",
    "usual_test",
    "what_is_seen",
    "write_cell",
]
