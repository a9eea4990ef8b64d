"""What is never offered, and what is never put together, each with its reason and what to use instead."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.words import InputError, Sentence, choice

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable

    from fizzplate.data import Row

MIN_LOG_ACIDITY = -11.5  # log K of hydrolysis: a weaker acid changes the pH by less than one
HYDROLYSIS = re.compile(r"([A-Z]\S*) \+ H2O -> \S+ \+ H\+")  # of one metal ion


def require_offered(argument: str, given: object, names: Iterable[str], *, what: str) -> str:
    """Return ``given`` if it is one of ``names``; refuse what is dangerous with the reason.

    Parameters
    ----------
    argument, given
        Name and value of the argument.
    names
        What is offered.
    what
        "solution" or "electrode".

    Raises
    ------
    InputError
        If it is none of them; the message gives the nearest name, or the danger where the table has one.

    Examples
    --------
    >>> require_offered("anode", "stainless steel", ["iron", "graphite"], what="electrode")
    Traceback (most recent call last):
    fizzplate.words.refusals.InputError: anode: 'stainless steel' cannot be used: a steel anode may \
contain chromium and nickel and then releases chromium(VI) and nickel ions, which cause cancer and \
allergies; the wires can be swapped, so a cathode of steel is not offered either. Use iron, graphite or \
platinum.
    """
    try:
        return choice(argument, given, names)
    except InputError:
        for row in data.rows("never_offered"):
            if row["what"] == what and re.search(row["pattern"], str(given)):
                raise InputError(argument, given, row["instead"], why=Sentence(row.text)) from None
        raise


def dangers(
    ions: Collection[str], *, electrodes: Collection[str] = (), crystal: str = ""
) -> tuple[Row, ...]:
    """Return why what is in a cell must never be together, with what to use instead; nothing if it may.

    A solution counts as acidic by its hydrogen ions, or by metal ions that hydrolyse, at any strength:
    even at 0.01 mol/dm3 they make it acid enough for hydrogen fluoride.

    Parameters
    ----------
    ions
        Formulae of what is in the solution.
    electrodes, crystal
        Materials of both electrodes, since the wires can be swapped; formula of a crystal laid on a paper
        strip.

    Examples
    --------
    >>> [row["when"] for row in dangers({"Na+", "F-", "Cu2+", "SO4^2-"})]
    ['ion F- & acidic']
    >>> dangers({"Na+", "F-"})
    ()
    """
    holds = {f"ion {ion}" for ion in ions} | {f"electrode {material}" for material in electrodes}
    holds.add(f"crystal {crystal}")
    if "H+" in ions or acidic_metal_ions() & set(ions):
        holds.add("acidic")
    return tuple(
        row for row in data.rows("never_together") if set(row["when"].split(" & ")) <= holds
    )


def acidic_metal_ions() -> frozenset[str]:
    """Return the metal ions whose salts make a solution acid.

    Examples
    --------
    >>> sorted(acidic_metal_ions())
    ['Cu2+', 'Fe2+', 'Fe3+', 'Mg2+', 'Ni2+', 'Pb2+', 'Zn2+']
    """
    hydrolyses = (
        (HYDROLYSIS.fullmatch(row["equation"]), row.value)
        for row in data.rows("speciation")
        if row["quantity"] == "log K"
    )
    return frozenset(
        hydrolysis[1] for hydrolysis, log_K in hydrolyses if hydrolysis and log_K > MIN_LOG_ACIDITY
    )
