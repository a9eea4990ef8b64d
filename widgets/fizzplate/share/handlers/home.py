"""What the home page says, besides its template's own words."""

from __future__ import annotations

from collections import Counter
from importlib.metadata import version
from typing import Any

from fizzplate import data
from fizzplate.data import Status
from fizzplate.lesson.state import PAGES

#: how the home page says where the values of the tables come from, the most reliable first
ORIGINS = {
    Status.READ: "were read in a published source",
    Status.COMPUTED: "were computed",
    Status.FITTED: "were fitted to published measurements",
    Status.CHOSEN: "were chosen for this model",
    Status.PRACTICE: "are common practice in school laboratories",
    Status.REMEMBERED: "are from memory",
}


def about() -> dict[str, Any]:
    """Return what the home page says of this version."""
    rows = Counter(row.status for table in data.table_names() for row in data.rows(table))
    return {
        "pages": PAGES.values(),
        "version": version("fizzplate"),
        "sources": [each.citation for each in data.sources().values()],
        "rows": rows.total(),
        "origins": [f"{rows[status]} {words}" for status, words in ORIGINS.items()],
    }
