"""Tables of what questions draw from, each row with the edition of the questions that it came in with."""

from fizzplate.questions.tables.reading import candidates, offered, rows

__all__ = ["candidates", "offered", "rows"]
