"""What a teacher prepares: amounts, timing, what will be visible, the air of the room, sheets."""

from fizzplate.lesson.prepare.amounts import (
    ClassNeeds,
    Cupboard,
    acid_stocks,
    amounts_for,
    cell_count,
    mixing_instructions,
    solids,
)
from fizzplate.lesson.prepare.room_air import (
    CHECK_LIMIT,
    HYDROGEN_BURNS_PERCENT,
    HalogenBudget,
    alkali_mmol,
    check_room,
    halogen_budget_of,
    hydrogen_budget,
    hydrogen_cm3,
    total_hydrogen,
)
from fizzplate.lesson.prepare.sheets import Sheet, caution_text, quantity_text, sheets
from fizzplate.lesson.prepare.timetable import (
    PlanEntry,
    check_period,
    class_version,
    one_period,
    plan,
)
from fizzplate.lesson.prepare.visibility import (
    Visibility,
    current_range_A,
    duration_text,
    milliamps,
    visibility,
    visibility_advice,
    visibility_without_lamp,
)

__all__ = [
    "CHECK_LIMIT",
    "HYDROGEN_BURNS_PERCENT",
    "ClassNeeds",
    "Cupboard",
    "HalogenBudget",
    "PlanEntry",
    "Sheet",
    "Visibility",
    "acid_stocks",
    "alkali_mmol",
    "amounts_for",
    "caution_text",
    "cell_count",
    "check_period",
    "check_room",
    "class_version",
    "current_range_A",
    "duration_text",
    "halogen_budget_of",
    "hydrogen_budget",
    "hydrogen_cm3",
    "milliamps",
    "mixing_instructions",
    "one_period",
    "plan",
    "quantity_text",
    "sheets",
    "solids",
    "total_hydrogen",
    "visibility",
    "visibility_advice",
    "visibility_without_lamp",
]
