"""Questions drawn from a seed, how they are marked, and how files store them."""

from fizzplate.questions.blueprint import BlueprintRow, blueprint_of, is_harder
from fizzplate.questions.cells_to_watch import cell_to_watch
from fizzplate.questions.content import Chart, ChartLine, Constant, NearMiss, Part, Point
from fizzplate.questions.misconceptions import ParticleDrawing, misconceptions
from fizzplate.questions.random_source import seed_of
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
from fizzplate.questions.versions import by_demand, parallel

__all__ = [
    "DEFAULT_SET",
    "LEVELS",
    "MAX_SEED",
    "STYLES",
    "TOPICS",
    "BlueprintRow",
    "Chart",
    "ChartLine",
    "Constant",
    "NearMiss",
    "Part",
    "ParticleDrawing",
    "Point",
    "QuestionSet",
    "another",
    "blueprint_of",
    "by_demand",
    "cell_to_watch",
    "changes_since",
    "is_harder",
    "misconceptions",
    "parallel",
    "questions",
    "read_set",
    "seed_of",
    "write_set",
]
