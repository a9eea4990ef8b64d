"""The cell that a question leads back to, where its maker names none: one that shows its topic."""

from __future__ import annotations

from types import MappingProxyType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fizzplate.questions.question_types import Question

#: cells as links write them; a melt cannot be run, so its solution stands for it
CELL_OF_TOPIC = MappingProxyType(
    {
        "words": "NaCl",
        "ions": "CuSO4",
        "drift": "CuSO4",
        "current": "NaCl",
        "products": "NaCl",
        "melts": "ZnCl2",
        "observations": "CuCl2",
        "tests": "NaCl",
        "half-equations": "CuCl2",
        "what is left": "NaCl",
        "quantities": "CuSO4,anode=copper,cathode=copper",
        "charts": "CuSO4",
        "rule and bench": "NaCl,c=0.01,lamp=none",
        "ideas": "NaCl",
        "applications": "NaCl",
        "practical work": "CuSO4,anode=copper,cathode=copper",
    }
)


def cell_to_watch(question: Question) -> tuple[str, bool]:
    """Return the cells to watch for a question, as links write them, and whether they are its own.

    Examples
    --------
    >>> from fizzplate.questions.sets import another
    >>> cell_to_watch(another("wires swapped", 1))[1], cell_to_watch(another("definition", 1))
    (True, ('NaCl', False))
    """
    if question.watch:
        return question.watch, True
    return CELL_OF_TOPIC.get(question.topic, "NaCl"), False
