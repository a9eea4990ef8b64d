"""Where a number comes from: value, unit, conditions, source and caveat of every row about a subject."""

from __future__ import annotations

from dataclasses import dataclass

from fizzplate import data
from fizzplate.chemistry.formula import canonical
from fizzplate.words import InputError, choice

STATUS_WORDS = {
    data.Status.READ: "read in",
    data.Status.COMPUTED: "computed from",
    data.Status.FITTED: "fitted to",
    data.Status.REMEMBERED: "from memory:",
    data.Status.PRACTICE: "common practice:",
    data.Status.CHOSEN: "chosen:",
}


@dataclass(frozen=True, slots=True)
class Provenance:
    """One value with all that is known of where it comes from.

    Parameters
    ----------
    subject
        What the value belongs to, as its table names it.
    quantity
        Which quantity it is.
    value, unit, conditions
        As the table has them.
    source
        How it came into the table and from where.
    caveat
        What to beware of, or empty.
    """

    subject: str
    quantity: str
    value: str
    unit: str
    conditions: str
    source: str
    caveat: str

    def __str__(self) -> str:
        head = f"{self.quantity} of {self.subject}: {self.value} {self.unit}".rstrip()
        return ". ".join(
            filter(
                None, (f"{head} ({self.conditions or 'no conditions'})", self.source, self.caveat)
            )
        )


def _names(row: data.Row) -> set[str]:
    """Return everything that a row can be asked by: its keys, and the species of its equation."""
    terms: set[str] = set()
    for value in row.key.values():
        terms.add(value)
        for term in value.replace(" -> ", " + ").split(" + "):
            terms.add(term.lstrip("0123456789"))
    return terms


def _quantity(row: data.Row) -> str:
    return row.key.get("quantity") or row.key.get("kind") or row.table.replace("_", " ")


def explain(subject: str, quantity: str = "") -> tuple[Provenance, ...]:
    """Return where the values about a subject come from.

    Parameters
    ----------
    subject
        A formula ("Cu2+", "NaCl"), a material ("graphite"), a vessel, a reaction or a quantity of
        the model ("bubble film").
    quantity
        Part of a quantity's name or of its table's ("diffusion", "exchange current"); all, if empty.

    Raises
    ------
    InputError
        If no table has the subject, or none has the quantity for it; the nearest names are given.

    Examples
    --------
    >>> found = explain("Cu2+", "diffusion")[0]
    >>> found.value, found.unit, found.source[:20]
    ('0.714e-9', 'm2/s', 'read in CRC Handbook')
    """
    every = [row for table in data.table_names() for row in data.rows(table)]
    known = {name for row in every for name in _names(row)}
    name = subject
    if subject not in known:
        try:
            name = canonical(subject)
        except InputError:
            name = subject
    choice("subject", name, sorted(known))
    about = [row for row in every if name in _names(row)]
    wanted = [row for row in about if quantity in _quantity(row) or quantity in row.table]
    if not wanted:
        offered = sorted({_quantity(row) for row in about})
        raise InputError("quantity", quantity, f"one of {', '.join(offered)} for {name}")
    return tuple(_provenance(row) for row in wanted)


def _provenance(row: data.Row) -> Provenance:
    source = data.source(row.source)
    own = [
        value for column, value in row.key.items() if column not in {"quantity", "kind"} and value
    ]
    return Provenance(
        subject=", ".join(own) or row.table,
        quantity=_quantity(row),
        value=row.text,
        unit=row.unit,
        conditions=row.conditions,
        source=f"{STATUS_WORDS[row.status]} {source.citation}",
        caveat=row.caveat,
    )
