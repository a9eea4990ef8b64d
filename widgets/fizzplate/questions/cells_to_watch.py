"""The cell that a question leads back to, where its maker names none: that in its words, or of its topic."""

from __future__ import annotations

import re
from types import MappingProxyType
from typing import TYPE_CHECKING

from fizzplate.chemistry import solutions

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
    if named := _named_in(question.text):
        return named
    return CELL_OF_TOPIC.get(question.topic, "NaCl"), False


def _named_in(text: str) -> tuple[str, bool] | None:
    """Return the first solution that words name, with its electrodes, and whether it is the cell meant.

    Examples
    --------
    >>> _named_in("Silver nitrate solution is electrolysed with silver electrodes.")
    ('AgNO3,anode=silver,cathode=silver', True)
    >>> _named_in("Why does solid potassium iodide not conduct?"), _named_in("What is an anode?")
    (('KI', False), None)
    """
    low = text.lower()
    places = {
        (low.index(each.name.lower()), -len(each.name)): (formula, each.name.lower())
        for formula, each in solutions().items()
        if each.name.lower() in low
    }
    if not places:
        return None
    formula, name = places[min(places)]
    metal = re.search(r"(copper|silver) electrodes", low)
    rods = f",anode={metal[1]},cathode={metal[1]}" if metal else ""
    dissolved = not re.search(rf"(molten|solid) {re.escape(name)}", low)
    return f"{formula}{rods}", dissolved
