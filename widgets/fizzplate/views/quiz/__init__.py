"""A set of questions in the page: answered, marked and reviewed without asking Python."""

from fizzplate.views.quiz.question_data import plain_ideas, plain_question
from fizzplate.views.quiz.quiz import Quiz

__all__ = ["Quiz", "plain_ideas", "plain_question"]
