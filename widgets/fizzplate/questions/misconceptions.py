"""What learners get wrong, each with the correction and a cell to watch, or a step that is drawn."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from fizzplate import data


@dataclass(frozen=True, slots=True)
class DrawnStep:
    """A still picture where no cell can show it.

    Parameters
    ----------
    species
        Formulae of what is drawn, one for each particle.
    caption
        What is said beneath.
    """

    species: tuple[str, ...]
    caption: str


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
    bench
        What else is true at the bench, without a full stop; an empty text where the rule is all.
    watch
        A cell that shows it, as links write it; an empty text where none does.
    drawn
        What is drawn instead, where no cell shows it.
    """

    number: int
    topic: str
    wrong: str
    right: str
    bench: str
    watch: str
    drawn: DrawnStep | None


@cache
def misconceptions() -> tuple[Misconception, ...]:
    """Return all of them, in order.

    Examples
    --------
    >>> len(misconceptions()), misconceptions()[8].right
    (30, 'A cation has fewer electrons than protons.')
    >>> misconceptions()[13].drawn.species[:3]
    ('Pb2+', 'Br-', 'Br-')
    """
    return tuple(
        Misconception(
            int(row["number"]),
            row["topic"],
            row.text,
            row["truth"],
            row["bench"],
            row["watch"],
            DrawnStep(tuple(row["drawn"].split()), row["caption"]) if row["drawn"] else None,
        )
        for row in data.rows("misconceptions")
    )


def correction(number: int) -> str:
    """Return what is said to a learner who holds one, with the bench where it differs from the rule.

    Examples
    --------
    >>> correction(12).endswith("At the bench some iron is plated all the same.")
    True
    """
    found = misconceptions()[number - 1]
    return f"{found.right} {found.bench}." if found.bench else found.right
