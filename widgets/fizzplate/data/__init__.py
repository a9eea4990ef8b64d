"""Text tables of measured, computed and agreed values, and the bibliography behind them."""

from fizzplate.data.lines import BadRowError, Line, read_lines
from fizzplate.data.tables import (
    MissingRowError,
    Row,
    Source,
    Status,
    find,
    rows,
    source,
    sources,
    table_names,
)

__all__ = [
    "BadRowError",
    "Line",
    "MissingRowError",
    "Row",
    "Source",
    "Status",
    "find",
    "read_lines",
    "rows",
    "source",
    "sources",
    "table_names",
]
