"""The points of a text or a list as a cell, a line for each mark."""

from __future__ import annotations

from fizzplate.questions.content import Point
from fizzplate.questions.exchange.question_checks import search_form
from fizzplate.questions.exchange.spreadsheet.cell_text import (
    escape_cell,
    read_lines,
    read_words,
    unescape_cell,
    write_lines,
    write_words,
)
from fizzplate.questions.exchange.spreadsheet.further_fields import (
    further_cells,
    further_names,
    read_further,
)

_POINT = ("statement", "words", "contradictions", "too_little")


def write_points(points: tuple[Point, ...]) -> str:
    """Write points with the words that earn them.

    Examples
    --------
    >>> write_points((Point("it fizzes", ("fizz", "bubbl")),))
    'says: it fizzes | words: fizz; bubbl'
    """
    return write_lines(_point_fields(point) for point in points)


def _point_fields(point: Point) -> list[tuple[str, str]]:
    return [
        ("says", escape_cell(point.statement)),
        ("words", write_words(point.words)),
        ("not with", write_words(point.contradictions)),
        ("too little", write_words(point.too_little)),
        *further_cells(point, _POINT),
    ]


def read_points(cell: str) -> tuple[Point, ...]:
    """Read points with the words that earn them.

    Raises
    ------
    InputError
        If a line has a field that is not known.

    Examples
    --------
    >>> read_points("says: hydrogen forms | words: hydrogen; H2")[0].words
    ('hydrogen', 'h2')
    """
    names = ("says", "words", "not with", "too little", *further_names(Point, _POINT).values())
    return tuple(
        Point(
            unescape_cell(line.get("says", "")),
            *(_looked_for(line.get(name, "")) for name in names[1:4]),
            **read_further(Point, _POINT, "points", line),
        )
        for line in read_lines("points", cell, names)
    )


def _looked_for(words: str) -> tuple[str, ...]:
    """Return words as an answer is searched for them, which is in small letters: H2 as h2."""
    return tuple(word if word == word.lower() else search_form(word) for word in read_words(words))
