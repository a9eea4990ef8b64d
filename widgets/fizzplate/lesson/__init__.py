"""What a class does with it: the classroom rule, observations, tests, rule and bench compared."""

from fizzplate.lesson.classroom.hazards import cautions
from fizzplate.lesson.rule.narration import narration, observations, sentence_at
from fizzplate.lesson.rule.results_table import results_table
from fizzplate.lesson.rule.rule_vs_model import charge_share, differences
from fizzplate.lesson.state.cell_setup import CORE, LAMPS, USUAL, VESSELS, CellSetup
from fizzplate.lesson.state.links import (
    PageState,
    from_file,
    from_query,
    read_cell,
    to_file,
    to_query,
    write_cell,
)
from fizzplate.words.wording import Wording

__all__ = [
    "CORE",
    "LAMPS",
    "USUAL",
    "VESSELS",
    "CellSetup",
    "PageState",
    "Wording",
    "cautions",
    "charge_share",
    "differences",
    "from_file",
    "from_query",
    "narration",
    "observations",
    "read_cell",
    "results_table",
    "sentence_at",
    "to_file",
    "to_query",
    "write_cell",
]
