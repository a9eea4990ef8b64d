"""The types of question, each with its own answer and its own way of marking."""

from fizzplate.questions.question_types.checklist import ChecklistQuestion
from fizzplate.questions.question_types.choice import ChoiceQuestion
from fizzplate.questions.question_types.equation import SIDES, EquationQuestion
from fizzplate.questions.question_types.levels import MARKS_A_LEVEL, LevelsQuestion
from fizzplate.questions.question_types.number import NumberQuestion
from fizzplate.questions.question_types.plot import LINES_OF_A_PLOT, PlotQuestion
from fizzplate.questions.question_types.question import Question, missing_for
from fizzplate.questions.question_types.structured import StructuredQuestion, labelled
from fizzplate.questions.question_types.text import TextQuestion

__all__ = [
    "LINES_OF_A_PLOT",
    "MARKS_A_LEVEL",
    "SIDES",
    "ChecklistQuestion",
    "ChoiceQuestion",
    "EquationQuestion",
    "LevelsQuestion",
    "NumberQuestion",
    "PlotQuestion",
    "Question",
    "StructuredQuestion",
    "TextQuestion",
    "labelled",
    "missing_for",
]
