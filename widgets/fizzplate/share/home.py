"""What stands on the pages round the five pages, besides their templates' own words."""

from __future__ import annotations

from collections import Counter
from importlib.metadata import version
from typing import Any

from fizzplate import data
from fizzplate.data import Status

#: status of an answer: its heading, and what can be done
REFUSALS = {
    403: (
        "This class needs its link",
        (
            "Open the link that your teacher shows, or scan its code again: it is new each time "
            "the pages are started."
        ),
    ),
    404: ("There is no such page here", "The home page leads to all there are."),
    503: (
        "All places are taken just now",
        (
            "A place comes free when somebody closes their page. This page tries again by itself "
            "every ten seconds; you can also press Try again."
        ),
    ),
}
#: how the home page says in what ways values came into the tables, the best known first
ORIGINS = {
    Status.READ: "were read in a published source",
    Status.COMPUTED: "were computed",
    Status.FITTED: "were fitted to published measurements",
    Status.CHOSEN: "were chosen for this model",
    Status.PRACTICE: "are common practice in school laboratories",
    Status.REMEMBERED: "are from memory",
}
OTHERWISE = ("This did not work", "Go to the home page and try again.")


def about() -> dict[str, Any]:
    """Return what the home page says of this version."""
    rows = Counter(row.status for table in data.table_names() for row in data.rows(table))
    return {
        "version": version("fizzplate"),
        "sources": [each.citation for each in data.sources().values()],
        "rows": rows.total(),
        "origins": [f"{rows[status]} {words}" for status, words in ORIGINS.items()],
    }


def plain_page(handler: Any, status: int) -> str:
    """Return the page that says what is wrong, and what can be done."""
    heading, advice = REFUSALS.get(status, OTHERWISE)
    return str(
        handler.render_template("plain.html", heading=heading, advice=advice, retries=status == 503)
    )
