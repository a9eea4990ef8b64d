"""Constants that the questions of a paper take: given once at its top, and not in each question."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.questions import Constant
from fizzplate.questions.question_types import NumberQuestion

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.questions.question_types import Question


def shared_constants(questions: Sequence[Question]) -> list[Constant]:
    """Return the constants that all questions take alike; one with two values is left to its questions.

    Examples
    --------
    >>> faraday = Constant("Faraday constant", "F = 96 500 C/mol")
    >>> mass = NumberQuestion("mass", "", 14, "", "", parts=(), data=(faraday, "M(Cu) = 63.5 g/mol"))
    >>> print(*shared_constants([mass, mass]))
    F = 96 500 C/mol
    """
    data = (
        each
        for question in questions
        if isinstance(question, NumberQuestion)
        for each in question.data
    )
    constants = dict.fromkeys(each for each in data if isinstance(each, Constant))
    names = [each.name for each in constants]
    return [each for each in constants if names.count(each.name) == 1]
