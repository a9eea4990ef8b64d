"""Tables for a spreadsheet, a row a question."""
