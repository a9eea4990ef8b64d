"""Question sets as files: packages of the open standard QTI 3.0, and tables for a spreadsheet.

A question comes back from both with the same marks for every answer. What a file holds was written by
strangers: it is plain text and is shown as text.
"""

from fizzplate.questions.exchange.qti import from_qti, to_qti
from fizzplate.questions.exchange.spreadsheet import from_csv, read_csv, to_csv

__all__ = ["from_csv", "from_qti", "read_csv", "to_csv", "to_qti"]
