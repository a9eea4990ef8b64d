"""Questions drawn from a seed, how they are marked, and how files store them."""

from fizzplate.questions.content import Chart, ChartLine, Constant, NearMiss, Part, Point
from fizzplate.questions.misconceptions import ParticleDrawing, misconceptions
from fizzplate.questions.set_state import (
    DEFAULT_SET,
    MAX_SEED,
    STYLES,
    QuestionSet,
    changes_since,
    read_set,
    write_set,
)
from fizzplate.questions.sets import LEVELS, TOPICS, another, questions

__all__ = [
    "DEFAULT_SET",
    "LEVELS",
    "MAX_SEED",
    "STYLES",
    "TOPICS",
    "Chart",
    "ChartLine",
    "Constant",
    "NearMiss",
    "Part",
    "ParticleDrawing",
    "Point",
    "QuestionSet",
    "another",
    "changes_since",
    "misconceptions",
    "questions",
    "read_set",
    "write_set",
]
