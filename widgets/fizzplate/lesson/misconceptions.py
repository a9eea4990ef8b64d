"""What learners get wrong, each with the correction and a cell to watch."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from fizzplate import data


@dataclass(frozen=True, slots=True)
class Misconception:
    """One idea of learners.

    Parameters
    ----------
    number
        As the project counts them, 1 to 30.
    topic
        What it is about.
    wrong, right
        What learners say, and what is so.
    watch
        A cell that shows it, as links write it; an empty text where none does.
    caveat
        What else is true at the bench.
    """

    number: int
    topic: str
    wrong: str
    right: str
    watch: str
    caveat: str


@cache
def misconceptions() -> tuple[Misconception, ...]:
    """Return all of them, in order.

    Examples
    --------
    >>> len(misconceptions()), misconceptions()[5].right
    (30, 'Cations go to the cathode.')
    """
    return tuple(
        Misconception(
            int(row["number"]), row["topic"], row.text, row["truth"], row["watch"], row.caveat
        )
        for row in data.rows("misconceptions")
    )


def correction(number: int) -> str:
    """Return what is said to a learner who holds one, with the bench where it differs from the rule.

    Examples
    --------
    >>> correction(12).endswith("The bench plates some iron all the same.")
    True
    """
    found = misconceptions()[number - 1]
    aside = "" if found.caveat.startswith("Reported") else f" {found.caveat}."
    return f"{found.right}{aside}"
