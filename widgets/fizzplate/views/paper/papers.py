"""A set of questions as a paper to hand out, with its mark scheme: two sheets for each version."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.lesson.prepare import Sheet
from fizzplate.questions import LEVELS
from fizzplate.questions.question_types import (
    ChoiceQuestion,
    EquationQuestion,
    NumberQuestion,
    Question,
)
from fizzplate.views.paper.mark_scheme import scheme_html
from fizzplate.views.paper.paper_questions import question_html
from fizzplate.views.paper.shared_constants import shared_constants
from fizzplate.views.paper.typesetting import marks_in_words
from fizzplate.views.web import render
from fizzplate.words import DEFAULT_WORDING, begin, page_quantity

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.words import Wording

INSTRUCTIONS: dict[type[Question], str] = {
    ChoiceQuestion: "Where there are boxes, tick one.",
    NumberQuestion: "Show how you work out numbers: the steps earn marks too.",
    EquationQuestion: "Balance every equation for atoms and for charge.",
}


def papers(
    sets: Sequence[tuple[int | str, Sequence[Question]]],
    *,
    topics: Sequence[str] = (),
    level: int = 0,
    minutes: int = 0,
    edition: int = 0,
    wording: Wording = DEFAULT_WORDING,
) -> list[Sheet]:
    """Make a paper and a mark scheme of each set.

    Parameters
    ----------
    sets
        What each version is called, the number of its set or that with a letter, and its questions.
    topics
        What the sets were asked to be about; nothing means everything, and is not said.
    level
        14 (14 to 16 years) or 16 (16 to 18); 0 for the highest of the questions.
    minutes
        Time allowed; 0 for no limit.
    edition
        Of the questions, which with the number names a set; 0 for questions of a file, which have none.
    wording
        The board's.

    Examples
    --------
    >>> from fizzplate.questions.content import Part
    >>> from fizzplate.questions.question_types import NumberQuestion
    >>> part = Part(450.0, "C", ("Q = 0.50 A × 900 s = 450 C.",))
    >>> question = NumberQuestion("charge", "quantities", 14, "?", "", parts=(part,))
    >>> [sheet.title for sheet in papers([(31, [question])])]
    ['Paper 31', 'Mark scheme 31']
    """
    sheets = []
    for number, question in sets:
        about = _about(question, topics, level, minutes, edition)
        sheets += [
            Sheet(f"paper-{_key(number)}", f"Paper {number}", _paper(number, question, about)),
            Sheet(
                f"scheme-{_key(number)}",
                f"Mark scheme {number}",
                _scheme(number, question, about, wording),
            ),
        ]
    return sheets


def _key(number: int | str) -> str:
    """Return the name of a version without its space, as keys of the page need it."""
    return str(number).replace(" ", "-")


def _about(
    questions: Sequence[Question], topics: Sequence[str], level: int, minutes: int, edition: int
) -> list[str]:
    """Say what a paper is about, for whom, how long and how much."""
    highest = max((each.level for each in questions), default=min(LEVELS))
    about = [begin(", ".join(topics))] if topics else []
    about.append(f"{LEVELS[level or highest]} years")
    about.append(f"{len(questions)} question{'' if len(questions) == 1 else 's'}")
    about.append(marks_in_words(_total(questions)))
    if minutes:
        about.append(page_quantity(minutes, "minutes"))
    if edition:
        about.append(f"edition {edition}")
    return about


def _total(questions: Sequence[Question]) -> int:
    return sum(each.marks for each in questions)


def _paper(number: int | str, questions: Sequence[Question], about: Sequence[str]) -> str:
    constants = shared_constants(questions)
    left = [
        each.without(constants) if isinstance(each, NumberQuestion) else each for each in questions
    ]
    return render(
        "paper/templates/paper.html.j2",
        kind="Revision paper",
        number=number,
        about=about,
        total=_total(questions),
        rules=_instructions(questions),
        constants="; ".join(f"{each.name} {each}" for each in constants),
        questions=[
            question_html(each, f"paper-{_key(number)}-{k}") for k, each in enumerate(left, start=1)
        ],
    )


def _scheme(
    number: int | str, questions: Sequence[Question], about: Sequence[str], wording: Wording
) -> str:
    return render(
        "paper/templates/paper.html.j2",
        kind="Mark scheme",
        number=number,
        about=about,
        questions=[],
        scheme=scheme_html(questions, wording),
    )


def _instructions(questions: Sequence[Question]) -> list[str]:
    types = {type(each) for each in questions}
    rules = [
        "Answer every question.",
        *(text for each, text in INSTRUCTIONS.items() if each in types),
    ]
    if any(isinstance(each, NumberQuestion) and each.strict for each in questions):
        rules.append("Give units, and as many figures as the data allow.")
    return rules
