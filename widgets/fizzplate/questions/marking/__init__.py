"""How answers are marked: numbers and words, each mark with its reason.

The page marks from the same plain data (``views/quiz/mark.js``); a test holds the two together.
"""

from fizzplate.questions.marking.carried_forward import made_for_an_electron
from fizzplate.questions.marking.marks import Line, MarkedAnswer, repeat_line
from fizzplate.questions.marking.numbers import EXACT, UNITS, lines_joined, mark_parts
from fizzplate.questions.marking.plain_answers import plain_answer
from fizzplate.questions.marking.words import distinct_words, mark_point, shown_word

__all__ = [
    "EXACT",
    "UNITS",
    "Line",
    "MarkedAnswer",
    "distinct_words",
    "lines_joined",
    "made_for_an_electron",
    "mark_parts",
    "mark_point",
    "plain_answer",
    "repeat_line",
    "shown_word",
]
