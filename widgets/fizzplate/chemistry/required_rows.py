"""Which rows of other tables a solution needs: one for each element and each ion that is new."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from fizzplate import data

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

_ELEMENT = re.compile(r"[A-Z][a-z]?")


def check_rows(salt: str, ions: Iterable[str], solid: str) -> None:
    """Check that the tables hold every row that a salt of ``solutions.csv`` needs.

    Parameters
    ----------
    salt, solid
        Formula of the salt, and of what is weighed out.
    ions
        Formulae of its ions.

    Raises
    ------
    MissingRowError
        If they do not; the message names every table and row.

    Examples
    --------
    >>> check_rows("NaCl", ["Na+", "Cl-"], "NaCl")
    >>> check_rows("RbCl", ["Rb+", "Cl-"], "RbCl")
    Traceback (most recent call last):
        ...
    fizzplate.data.tables.MissingRowError: RbCl in data/solutions.csv needs more rows:
    data/elements.csv: element Rb (its standard atomic weight)
    data/species.csv: species Rb+ (its name and usual state)
    data/diffusion.csv: species Rb+ (its diffusion coefficient)
    data/reactivity.csv: ion Rb+ (its element and place in the reactivity series)
    """
    missing = [
        f"data/{table}.csv: {column} {wanted} ({what})"
        for table, column, wanted, what in _required(list(ions), solid)
        if all(row[column] != wanted for row in data.rows(table))
    ]
    if missing:
        raise data.MissingRowError(
            "\n".join([f"{salt} in data/solutions.csv needs more rows:", *missing])
        )


def _required(ions: list[str], solid: str) -> Iterator[tuple[str, str, str, str]]:
    """Yield table, column and what must stand there, and what the row tells."""
    for element in dict.fromkeys(_ELEMENT.findall(" ".join([*ions, solid]))):
        yield "elements", "element", element, "its standard atomic weight"
    for ion in ions:
        yield "species", "species", ion, "its name and usual state"
        yield "diffusion", "species", ion, "its diffusion coefficient"
        if ion.endswith("+"):
            place = "its element and place in the reactivity series"
            yield "reactivity", "ion", ion, place
