"""Controls: the set-up bar, the list of solutions, the board's settings, what runs a cell."""

from fizzplate.views.controls.background_work import BackgroundWork
from fizzplate.views.controls.board_settings import BoardSettings
from fizzplate.views.controls.calculator import Calculator
from fizzplate.views.controls.cell_list import CellList
from fizzplate.views.controls.field_groups import FieldGroup, GroupedSetupBar
from fizzplate.views.controls.fields import (
    controls_by_key,
    field,
    fold,
    give_key,
    menu,
    refuse,
    tool,
)
from fizzplate.views.controls.logger_panel import LoggerPanel
from fizzplate.views.controls.outdated import mark_outdated
from fizzplate.views.controls.question_runs import QuestionRuns
from fizzplate.views.controls.run_controller import RunController
from fizzplate.views.controls.setup_bar import SetupBar, read_field_number

__all__ = [
    "BackgroundWork",
    "BoardSettings",
    "Calculator",
    "CellList",
    "FieldGroup",
    "GroupedSetupBar",
    "LoggerPanel",
    "QuestionRuns",
    "RunController",
    "SetupBar",
    "controls_by_key",
    "field",
    "fold",
    "give_key",
    "mark_outdated",
    "menu",
    "read_field_number",
    "refuse",
    "tool",
]
