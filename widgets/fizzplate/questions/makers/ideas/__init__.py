"""Makers of questions about learners' ideas: reasons, true and wrong statements, mistakes to find."""

from fizzplate.questions.makers.ideas.reasons import (
    conducts_in_words,
)

__all__ = [
    "conducts_in_words",
]
