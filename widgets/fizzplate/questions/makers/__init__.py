"""Makers of questions: each draws what it asks about at random, and computes the rest."""

from fizzplate.questions.makers.registry import MAKERS

__all__ = [
    "MAKERS",
]
