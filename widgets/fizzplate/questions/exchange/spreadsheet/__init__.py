"""Tables for a spreadsheet, a row a question."""

from fizzplate.questions.exchange.spreadsheet.table import from_csv, read_csv, to_csv

__all__ = [
    "from_csv",
    "read_csv",
    "to_csv",
]
