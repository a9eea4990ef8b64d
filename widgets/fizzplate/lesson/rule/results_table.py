"""The results table of a practical, as plain text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.chemistry import classroom_rule
from fizzplate.chemistry.substances import GASES
from fizzplate.lesson.rule.rule_vs_model import charge_share, percent
from fizzplate.words import DEFAULT_WORDING, say

if TYPE_CHECKING:
    from collections.abc import Iterable

    from fizzplate.cell import ElectrodeRecord, Run
    from fizzplate.words import Wording

HEAD = (
    "solution",
    "ions",
    "{cathode}: rule",
    "{cathode}: bench",
    "{anode}: rule",
    "{anode}: bench",
)


def amount(record: ElectrodeRecord, product: str) -> str:
    """Write what was made in the unit of school chemistry, to two figures.

    Two figures are what a class can read, and the same on every processor.
    """
    if product in GASES:
        return f"{_two_figures(float(record.gas_cm3(product)[-1]))} cm3"
    if product in record.solids:
        return f"{_two_figures(1e3 * float(record.mass_g(product)[-1]))} mg"
    return f"{_two_figures(1e3 * float(record.amount_mol(product)[-1]))} mmol"


def _two_figures(value: float) -> str:
    rounded = float(f"{value:.1e}")
    return f"{rounded:.0f}" if abs(rounded) >= 10 else f"{rounded:g}"


def _cell_result(record: ElectrodeRecord) -> str:
    if not record.products:
        return "nothing"
    main = record.products[0]
    return f"{main} {percent(charge_share(record, main))}, {amount(record, main)}"


def results_table(runs: Iterable[Run], wording: Wording = DEFAULT_WORDING) -> str:
    """Return a fixed-width table with one row a run.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> print(results_table([Cell("CuSO4").run(minutes=1)]).splitlines()[0].split("  ")[0])
    solution
    """
    rows = [tuple(say(head, wording) for head in HEAD)]
    for run in runs:
        cell = run.cell
        rule = classroom_rule(
            cell.ions_mol_dm3, anode=cell.anode, cathode=cell.cathode, wording=wording
        )
        ions = dict.fromkeys([*cell.ions_mol_dm3, "H+", "OH-"])
        rows.append(
            (
                " + ".join(cell.solution_formulae),
                " ".join(ions),
                rule.cathode.product,
                _cell_result(run.cathode),
                rule.anode.product,
                _cell_result(run.anode),
            )
        )
    widths = [max(len(row[i]) for row in rows) for i in range(len(HEAD))]
    lines = [
        "  ".join(c.ljust(w) for c, w in zip(row, widths, strict=True)).rstrip() for row in rows
    ]
    return "\n".join([lines[0], "-" * len(lines[0]), *lines[1:]])
