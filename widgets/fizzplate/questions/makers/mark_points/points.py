"""The points that an answer is marked by: a table holds their texts, this room's modules their words."""

from __future__ import annotations

from fizzplate.questions.content import Point
from fizzplate.questions.makers.mark_points.definitions import OF_DEFINITIONS
from fizzplate.questions.makers.mark_points.residue_points import OF_RESIDUES
from fizzplate.questions.makers.mark_points.test_points import OF_TESTS
from fizzplate.questions.tables import edition_rows

PATTERNS = {**OF_DEFINITIONS, **OF_TESTS, **OF_RESIDUES}


def mark_points(answer: str, edition: int) -> tuple[Point, ...]:
    """Return the points of an answer, in the order in which they are marked.

    Parameters
    ----------
    answer
        Which answer, as the table calls it.
    edition
        Of the questions.

    Examples
    --------
    >>> [point.statement for point in mark_points("test for H2", 1)]
    ['a lighted splint', 'a squeaky pop']
    """
    points = []
    for row in edition_rows("mark_points", edition, answer=answer):
        found = row.one_of("point", PATTERNS)
        points.append(
            Point(
                row.text("text"),
                found.words,
                found.contradictions,
                found.too_little,
                found.within,
                found.besides,
            )
        )
    return tuple(points)
