"""Tables of what questions draw from, each row with the edition of the questions that it came in with."""

from fizzplate.questions.tables.reading import candidates, edition_rows, rows

__all__ = ["candidates", "edition_rows", "rows"]
