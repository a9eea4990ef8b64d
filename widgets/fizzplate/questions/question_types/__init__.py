"""The five types of question, each with its own answer and its own way of marking."""

from fizzplate.questions.question_types.checklist import ChecklistQuestion
from fizzplate.questions.question_types.choice import ChoiceQuestion
from fizzplate.questions.question_types.equation import EquationQuestion
from fizzplate.questions.question_types.number import NumberQuestion
from fizzplate.questions.question_types.question import Question
from fizzplate.questions.question_types.text import TextQuestion

__all__ = [
    "ChecklistQuestion",
    "ChoiceQuestion",
    "EquationQuestion",
    "NumberQuestion",
    "Question",
    "TextQuestion",
]
