"""What a class does with a cell: predicts, investigates, compares, and takes care."""

from fizzplate.lesson.classroom.cell_comparison import compare_cells, compared_curves
from fizzplate.lesson.classroom.hazards import (
    CHECK,
    DEFER,
    FIRST_AID,
    GENERAL_CAUTION,
    Hazard,
    cautions,
    cautions_of_added,
    electrode_cautions,
    electrode_hazards,
    hazards,
    hazards_before_run,
    label,
    teacher_only,
    waste,
)
from fizzplate.lesson.classroom.investigations import Investigation, investigations
from fizzplate.lesson.classroom.predictions import (
    DISSOLVES,
    NOTHING,
    choice_of,
    expected_choice,
    observation_phrases,
    observation_points,
    product_choices,
    wording_traps,
)
from fizzplate.lesson.classroom.sweeps import SWEEPS, Sweep, sweep

__all__ = [
    "CHECK",
    "DEFER",
    "DISSOLVES",
    "FIRST_AID",
    "GENERAL_CAUTION",
    "NOTHING",
    "SWEEPS",
    "Hazard",
    "Investigation",
    "Sweep",
    "cautions",
    "cautions_of_added",
    "choice_of",
    "compare_cells",
    "compared_curves",
    "electrode_cautions",
    "electrode_hazards",
    "expected_choice",
    "hazards",
    "hazards_before_run",
    "investigations",
    "label",
    "observation_phrases",
    "observation_points",
    "product_choices",
    "sweep",
    "teacher_only",
    "waste",
    "wording_traps",
]
