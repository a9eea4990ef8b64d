"""How a sentence is made: the board's wording, the names of electrodes, and refusals of bad input."""

from fizzplate.words.field_labels import LABELS, field_label, page_refusal
from fizzplate.words.refusals import InputError, choice, list_choices, number
from fizzplate.words.rendering import (
    NO_BREAK,
    NoValue,
    Quantity,
    Rendering,
    lowered,
    number_text,
    page_quantity,
    raised,
    with_unit,
)
from fizzplate.words.say import DEFAULT_WORDING, begin, board_slots, say
from fizzplate.words.sentence import SOURCES, Sentence
from fizzplate.words.wording import ELECTRODE_NAMES, Wording

__all__ = [
    "DEFAULT_WORDING",
    "ELECTRODE_NAMES",
    "LABELS",
    "NO_BREAK",
    "SOURCES",
    "InputError",
    "NoValue",
    "Quantity",
    "Rendering",
    "Sentence",
    "Wording",
    "begin",
    "board_slots",
    "choice",
    "field_label",
    "list_choices",
    "lowered",
    "number",
    "number_text",
    "page_quantity",
    "page_refusal",
    "raised",
    "say",
    "with_unit",
]
