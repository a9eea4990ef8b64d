"""What a class does with a cell: the classroom rule, observations, tests, rule and bench compared."""

from fizzplate.lesson.classroom import cautions
from fizzplate.lesson.rule import (
    certainty,
    charge_share,
    differences,
    narration,
    observations,
    results_table,
    sentence_at,
)
from fizzplate.lesson.state import (
    CORE,
    DEFAULT_SETUP,
    LAMPS,
    VESSELS,
    CellSetup,
    LinkState,
    from_file,
    from_query,
    read_cell,
    to_file,
    to_query,
    write_cell,
)
from fizzplate.words import Wording

__all__ = [
    "CORE",
    "DEFAULT_SETUP",
    "LAMPS",
    "VESSELS",
    "CellSetup",
    "LinkState",
    "Wording",
    "cautions",
    "certainty",
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
