"""Text tables of measured, computed and agreed values, and the bibliography behind them."""

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
    "MissingRowError",
    "Row",
    "Source",
    "Status",
    "find",
    "rows",
    "source",
    "sources",
    "table_names",
]
