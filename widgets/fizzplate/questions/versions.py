"""Papers of one blueprint: the order in which a paper asks, and versions worth the same part by part."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.questions.makers import MAKERS
from fizzplate.questions.question_types import StructuredQuestion
from fizzplate.questions.random_source import EDITION, seed_of
from fizzplate.questions.sets import another

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Sequence

    from fizzplate.questions.question_types import Question
    from fizzplate.words import Wording

DRAWS = 40  # of a maker, before its nearest question is taken
MOST_APART = 1  # mark, of a question and of each of its parts


def by_demand(questions: Iterable[Question]) -> list[Question]:
    """Put questions in the order of a paper: the lower level first, then few marks before many.

    Examples
    --------
    >>> from fizzplate.questions.sets import questions
    >>> demands = [(each.level, each.marks) for each in by_demand(questions(seed=3, count=8))]
    >>> demands == sorted(demands)
    True
    """
    return sorted(questions, key=lambda each: (each.level, each.marks))


def marks_by_part(question: Question) -> tuple[int, ...]:
    """Return the marks of each part of a question, of the whole where it has none.

    Examples
    --------
    >>> from fizzplate.questions.sets import another
    >>> marks_by_part(another("in parts", 2)), marks_by_part(another("gas test", 1))
    ((1, 1, 1, 1), (2,))
    """
    if isinstance(question, StructuredQuestion):
        return tuple(each.marks for each in question.sections)
    return tuple(len(part.steps) for part in question.parts) or (question.marks,)


def parallel(
    questions: Sequence[Question],
    seed: int,
    *,
    unlike: Collection[Question] = (),
    strict: bool = False,
    wording: Wording | None = None,
    edition: int = EDITION,
) -> list[Question]:
    """Make another version of a paper: each question by the same maker, within a mark in every part.

    A question of a file, or one that its maker cannot ask otherwise for the same marks, stays as it is.

    Parameters
    ----------
    questions
        The first version.
    seed
        Another one gives another version.
    unlike
        Questions that should not come again, besides those of the first version.
    strict, wording, edition
        As for a set.

    Examples
    --------
    >>> from fizzplate.questions.sets import questions
    >>> first = questions(seed=3, count=4)
    >>> [each.maker for each in parallel(first, 1)] == [each.maker for each in first]
    True
    """
    # of a chart the text alone may be the same, as what is to be read is
    taken = {(each.text, each.chart) for each in (*unlike, *questions)}
    made: list[Question] = []
    for place, each in enumerate(questions):
        found = each
        if each.maker in MAKERS:
            draws = (
                another(
                    each.maker,
                    seed_of(seed, place, draw, "version"),
                    strict=strict,
                    wording=wording,
                    edition=edition,
                )
                for draw in range(DRAWS)
            )
            found = _nearest(each, (draw for draw in draws if (draw.text, draw.chart) not in taken))
        taken.add((found.text, found.chart))
        made.append(found)
    return made


def _nearest(question: Question, draws: Iterable[Question]) -> Question:
    """Return the first draw with the same marks in every part, or one a mark apart, or the question."""
    nearest = question
    for draw in draws:
        marks, wanted = marks_by_part(draw), marks_by_part(question)
        if len(marks) != len(wanted) or draw.kind != question.kind:
            continue
        if marks == wanted:
            return draw
        apart = max(abs(a - b) for a, b in zip(marks, wanted, strict=True))
        if nearest is question and max(apart, abs(draw.marks - question.marks)) <= MOST_APART:
            nearest = draw
    return nearest
