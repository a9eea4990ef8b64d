"""How an answer is marked: point by point, each with its reason.

The page marks from the same plain data (``views/quiz/mark.js``); a test holds the two together.
"""

from __future__ import annotations

import re
import unicodedata
from typing import TYPE_CHECKING

from fizzplate.lesson.equations.equation_tasks import judge
from fizzplate.questions.marking.marks import Line, Marked, all_of
from fizzplate.questions.marking.numbers import mark_parts
from fizzplate.questions.marking.words import mark_point

if TYPE_CHECKING:
    from fizzplate.questions.question import Question

LONGEST_ANSWER = 10_000
SIDES = "What reacts, what forms and the electrons stand on the right sides."
NOT_SIDES = "What reacts, what forms and the electrons do not all stand on the right sides."
_RAISED = re.compile(r"[⁰¹²³⁴-⁹⁺⁻]+")


def mark(asked: Question, answer: str) -> Marked:
    """Mark an answer to a question.

    Parameters
    ----------
    asked
        The question.
    answer
        The text of the option, the numbers with semicolons between them, the equation, the text, or the
        numbers of the points that a learner ticked. What stands beyond 10,000 characters is not read.
    """
    # a new line of a text begins a new sentence
    plain = plain_answer(answer.replace("\n", ". ") if asked.kind == "text" else answer)
    return {
        "choice": _mark_choice,
        "number": _mark_number,
        "equation": _mark_equation,
        "text": _mark_text,
        "list": _mark_list,
    }[asked.kind](asked, plain)


def plain_answer(answer: str) -> str:
    """Return an answer with plain signs: look-alikes made the same, unseen marks left out.

    Examples
    --------
    >>> plain_answer(" ２．５ × 10³  cm³")
    '2.5 × 10^3 cm^3'
    """
    raised = _RAISED.sub(lambda found: f"^{found[0]}", answer[:LONGEST_ANSWER])
    text = unicodedata.normalize("NFKC", raised).replace("−", "-").replace("’", "'")
    kept = "".join(c for c in text if unicodedata.category(c) != "Cf")
    return " ".join(kept.split())


def _mark_choice(asked: Question, answer: str) -> Marked:
    for option in asked.options:
        if answer == plain_answer(option.text):
            lines = all_of(asked.marks, option.reason, earned=option.right)
            return Marked(lines, option.reason, 0 if option.right else option.misconception)
    remark = "None of the options was chosen."
    return Marked(all_of(asked.marks, remark, earned=False), remark)


def _mark_number(asked: Question, answer: str) -> Marked:
    return mark_parts(asked.parts, answer, strict=asked.strict)


def _mark_equation(asked: Question, answer: str) -> Marked:
    """Mark an equation: what stands where, and then the balance."""
    if asked.task is None:
        raise TypeError("a question for an equation needs its task")
    verdict = judge(answer, asked.task)
    said = " ".join(verdict.says)
    if verdict.code in {"right", "multiple"}:
        lines = (Line(earned=True, reason=SIDES), *all_of(asked.marks - 1, said, earned=True))
        return Marked(lines, said)
    sides = Line(verdict.in_place, SIDES if verdict.in_place else NOT_SIDES)
    return Marked((sides, *all_of(asked.marks - 1, said, earned=False)), said)


def _mark_text(asked: Question, answer: str) -> Marked:
    return Marked(tuple(mark_point(point, answer) for point in asked.points))


def _mark_list(asked: Question, answer: str) -> Marked:
    """Mark a self-marked list: the numbers of the points that the learner found in the own answer."""
    ticked = {int(number) for number in re.findall(r"[0-9]{1,2}", answer)}
    return Marked(
        tuple(
            Line(k in ticked, f"{point.says} (own judgement)")
            for k, point in enumerate(asked.points, start=1)
        ),
        "Marked by yourself.",
    )
