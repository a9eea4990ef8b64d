"""Practice: siblings of questions, worked examples that fade, reasons, and what is asked next."""

from fizzplate.questions.practice.next_question import PracticeItem, next_item
from fizzplate.questions.practice.record import Attempt, read_record
from fizzplate.questions.practice.siblings import item_key, sibling, text_key
from fizzplate.questions.practice.worked_examples import ALONE, WHOLE

__all__ = [
    "ALONE",
    "WHOLE",
    "Attempt",
    "PracticeItem",
    "item_key",
    "next_item",
    "read_record",
    "sibling",
    "text_key",
]
