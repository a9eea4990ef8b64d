"""The blueprint of a paper: by topic and level how many questions, of which kinds, for which marks."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from fizzplate.questions import LEVELS, TOPICS, is_harder
from fizzplate.views.web import render

if TYPE_CHECKING:
    from collections.abc import Sequence

    from markupsafe import Markup

    from fizzplate.questions.question_types import Question

MINUTES_A_MARK = 1  # common practice
#: what a teacher calls one question of each kind, and several
KINDS = {
    "choice": ("choice", "choices"),
    "number": ("calculation", "calculations"),
    "equation": ("equation", "equations"),
    "text": ("in words", "in words"),
    "list": ("plan or evaluation", "plans or evaluations"),
    "plot": ("graph to plot", "graphs to plot"),
    "structured": ("in parts", "in parts"),
    "levels": ("longer answer", "longer answers"),
}


def blueprint_html(questions: Sequence[Question]) -> Markup:
    """Write what a paper holds, a row a topic and level, with the marks in all and the time for them.

    Examples
    --------
    >>> from fizzplate.questions import questions
    >>> made = questions(seed=3, count=2, topics=["tests"], level=14)
    >>> "tests" in blueprint_html(made)
    True
    """
    groups: dict[tuple[str, int], list[Question]] = {}
    for each in sorted(questions, key=_place):
        groups.setdefault((each.topic, each.level), []).append(each)
    rows = [
        (topic, LEVELS[level], len(group), _kinds(group), _harder(group), _marks(group))
        for (topic, level), group in groups.items()
    ]
    total = _marks(questions)
    harder_marks = _marks([each for each in questions if is_harder(each)])
    return render(
        "paper/templates/blueprint.html.j2",
        rows=rows,
        count=len(questions),
        kinds=_kinds(questions),
        harder=_harder(questions),
        share=round(100 * harder_marks / total) if total else 0,
        total=total,
        minutes=total * MINUTES_A_MARK,
    )


def _marks(questions: Sequence[Question]) -> int:
    return sum(each.marks for each in questions)


def _harder(questions: Sequence[Question]) -> int:
    """Count the harder ones."""
    return sum(map(is_harder, questions))


def _place(question: Question) -> tuple[int, str, int]:
    """Return where a question stands: topics in the order in which the page offers them, others last."""
    known = question.topic in TOPICS
    return TOPICS.index(question.topic) if known else len(TOPICS), question.topic, question.level


def _kinds(questions: Sequence[Question]) -> str:
    """Count the kinds in words."""
    counts = Counter(each.kind for each in questions)
    return ", ".join(
        f"{counts[kind]} {several if counts[kind] > 1 else one}"
        for kind, (one, several) in KINDS.items()
        if counts[kind]
    )
