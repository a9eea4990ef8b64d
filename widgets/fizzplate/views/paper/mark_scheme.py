"""The mark scheme of a set: by question the answer, what earns each mark, and what does not."""

from __future__ import annotations

from functools import singledispatch
from typing import TYPE_CHECKING

from fizzplate.questions.misconceptions import misconceptions
from fizzplate.questions.question_types import (
    ChecklistQuestion,
    ChoiceQuestion,
    EquationQuestion,
    NumberQuestion,
    Question,
    TextQuestion,
)
from fizzplate.questions.question_types.equation import SIDES
from fizzplate.questions.question_types.question import missing_for
from fizzplate.views.paper.scheme_numbers import answer_shown, number_notes
from fizzplate.views.paper.scheme_words import wordings
from fizzplate.views.paper.typesetting import equation_of, typeset
from fizzplate.words.say import begin

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from fizzplate.questions.content import Part

LETTERS = "ABCDEFGH"
BALANCE = "Atoms and charge balance."

#: what holds for every question of a type
RULES: dict[type[Question], str] = {
    ChoiceQuestion: (
        "Only the right box earns the mark. Beside each other letter stands what to tell a student who ticks "
        "it, with the idea that often lies behind it in quotation marks."
    ),
    NumberQuestion: (
        "A right number earns all its marks, whether or not the working is shown. Where it is wrong, mark "
        "the working point by point: a step that follows rightly from a wrong result before it earns its "
        "mark, for no error is punished twice."
    ),
    EquationQuestion: (
        "Accept any multiple of an equation, its species in any order, electrons taken away on the other "
        "side, and state symbols or none. A species left on both sides costs the mark for the balance."
    ),
    TextQuestion: (
        "Words after “accept” earn the mark, as part of a longer word or in others of the same meaning too. "
        "Words after “reject” take it back, even beside a right answer."
    ),
    ChecklistQuestion: "A plan is marked by its list: in any order, and in the student’s own words.",
}
UNITS_COUNT = (
    "Units and figures count: a missing unit, a unit other than the one asked for, or more than one figure "
    "beyond those shown here costs the last mark of a number that carries several."
)
UNITS_DO_NOT_COUNT = (
    "Units and figures: point out what is missing or too much, but take no mark for it."
)


def scheme_html(asked: Sequence[Question]) -> str:
    """Write the mark scheme of a set.

    Parameters
    ----------
    asked
        The questions, in their order.

    Examples
    --------
    >>> from fizzplate.questions.content import Part
    >>> from fizzplate.questions.question_types import NumberQuestion
    >>> part = Part(450.0, "C", ("Q = 0.50 A × 900 s = 450 C.",))
    >>> charge = NumberQuestion("charge", "quantities", 14, "?", "", parts=(part,))
    >>> "Accept 445 to" in scheme_html([charge])
    True
    """
    heads = ("Question", "What earns the marks", "Marks")
    head = "".join(f'<th scope="col">{text}</th>' for text in heads)
    rows = "".join(_rows(str(k), each) for k, each in enumerate(asked, start=1))
    total = sum(each.marks for each in asked)
    return (
        f"{_listed(_rules(asked), 'fp-scheme-rules')}"
        f'<table class="fp-scheme"><thead><tr>{head}</tr></thead><tbody>{rows}'
        f'<tr><th scope="row">Total</th><td></td><td>{total}</td></tr></tbody></table>'
    )


def _rules(asked: Sequence[Question]) -> list[str]:
    """Give the rules that this set needs."""
    types = {type(each) for each in asked}
    said = [
        "Each numbered point earns one mark. Other right wordings and methods earn the same marks.",
        *(rule for each, rule in RULES.items() if each in types),
    ]
    numbers = [each for each in asked if isinstance(each, NumberQuestion)]
    if numbers:
        strict = any(each.strict for each in numbers)
        said.append(UNITS_COUNT if strict else UNITS_DO_NOT_COUNT)
    return said


def _rows(number: str, asked: Question) -> str:
    """Write one question: a row, or a row for each of its parts."""
    return "".join(
        f'<tr><th scope="row">{number}{label}</th><td>{content}</td><td>{marks}</td></tr>'
        for label, content, marks in scheme_rows(asked)
    )


@singledispatch
def scheme_rows(asked: Question) -> list[tuple[str, str, int]]:
    """Write the rows of a question of this type: what follows its number, what earns the marks, how many."""
    raise missing_for(asked, "mark scheme", "scheme_rows")


@scheme_rows.register
def _(asked: ChoiceQuestion) -> list[tuple[str, str, int]]:
    answer, wrong = "", []
    for letter, option in zip(LETTERS, asked.options, strict=False):
        if option.right:
            answer = _answer(f"{letter}: {option.text}") + f"<p>{typeset(option.reason)}</p>"
            continue
        idea = misconceptions()[option.misconception - 1].wrong if option.misconception else ""
        behind = f" “{idea}”" if idea not in {"", option.text} else ""
        wrong.append(f"{letter}: {option.reason}{behind}")
    return [("", answer + _listed(wrong), asked.marks)]


@scheme_rows.register
def _(asked: NumberQuestion) -> list[tuple[str, str, int]]:
    several = len(asked.parts) > 1
    return [
        (f" ({'abcdefgh'[k]})" if several else "", _part(part, k), len(part.steps))
        for k, part in enumerate(asked.parts)
    ]


@scheme_rows.register
def _(asked: EquationQuestion) -> list[tuple[str, str, int]]:
    forms = [equation_of(net) for net in asked.task.accepted]
    others = [f"Or: {form}" for form in forms[1:]]
    points = _points([SIDES, *[BALANCE] * (asked.marks - 1)][: asked.marks])
    return [("", _answer(forms[0]) + _listed(others) + points, asked.marks)]


@scheme_rows.register
def _(asked: TextQuestion) -> list[tuple[str, str, int]]:
    reason = f"<p>{typeset(asked.why)}</p>" if asked.why != asked.answer else ""
    points = _points(map(wordings, asked.points))
    return [("", _answer(begin(asked.answer)) + reason + points, asked.marks)]


@scheme_rows.register
def _(asked: ChecklistQuestion) -> list[tuple[str, str, int]]:
    return [("", _points(f"{begin(point.says)}." for point in asked.points), asked.marks)]


def _part(part: Part, place: int) -> str:
    answer = answer_shown(part, part.value)
    return _answer(answer) + _points(part.steps) + _listed(number_notes(part, place))


def _answer(text: str) -> str:
    return f'<p class="fp-scheme-answer">{typeset(text)}</p>'


def _points(points: Iterable[str]) -> str:
    return f"<ol>{''.join(f'<li>{typeset(point)}</li>' for point in points)}</ol>"


def _listed(notes: Iterable[str], name: str = "fp-scheme-notes") -> str:
    items = "".join(f"<li>{typeset(note)}</li>" for note in notes)
    return f'<ul class="{name}">{items}</ul>' if items else ""
