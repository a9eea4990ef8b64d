"""What the ledgers, the sentence of the moment, the notes and the unseen table say.

Everything is settled here in words; only the figures that follow the playhead (share, current,
amount) are filled in by the page, from the same record.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Any

from fizzplate.chemistry import (
    classroom_rule,
    electrodes,
    observation_of,
    parse_formula,
    pretty,
    usual_test,
)
from fizzplate.chemistry.product_kinds import kind_of, product_name
from fizzplate.lesson import Wording, cautions, differences, narration, observations, sentence_at
from fizzplate.lesson.classroom.hazards import GENERAL_CAUTION, electrode_cautions, hazards
from fizzplate.views.bench.lesson.lesson_data import after, before
from fizzplate.views.bench.payload import LEAST_CURRENT_A, equation_of

if TYPE_CHECKING:
    from fizzplate.cell import CellLike
    from fizzplate.cell.run import ElectrodeRecord, Run
    from fizzplate.chemistry import ElectrodeRule
    from fizzplate.lesson.classroom.hazards import Hazard

SIDES = (("cathode", "−", +1), ("anode", "+", -1))
QUARTERS = 5  # instants in the unseen table: the start, the quarters and the end


@dataclass(frozen=True, slots=True)
class Ledger:
    """One electrode's ledger.

    Parameters
    ----------
    title, sign, material
        Which electrode it is.
    on
        Whether the switch is closed.
    product
        What is made there, in words.
    names
        Names of all products, in the record's order.
    equation, spoken
        The half-equation as HTML and as it is read aloud; empty where nothing happens.
    waiting
        What stands in the half-equation's place.
    rows
        Terms and what they say.
    rule, difference, cautions
        Sentences at the foot.
    """

    title: str
    sign: str
    material: str
    on: bool
    product: str
    names: tuple[str, ...] = ()
    equation: str = ""
    spoken: str = ""
    waiting: str = ""
    rows: tuple[tuple[str, str], ...] = ()
    rule: tuple[str, ...] = ()
    difference: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()


def lesson_of(run: Run, wording: Wording | None = None) -> dict[str, Any]:
    """Say what a run shows, in the board's wording, as plain data for the page."""
    cell = run.cell
    board = wording or Wording()
    rule = classroom_rule(cell.ions_mol_dm3, anode=cell.anode, cathode=cell.cathode, wording=board)
    sides = zip(
        _titles(board),
        SIDES,
        (run.cathode, run.anode),
        (rule.cathode, rule.anode),
        differences(run),
        strict=True,
    )
    found = hazards(cell, run)
    ledgers = [
        _ledger(title, role, sign, record, expected, said, found)
        if float(run.current_A.max()) > LEAST_CURRENT_A
        else _idle_ledger(title, sign, record, expected)
        for (title, sign, _), (role, _, _), record, expected, said in sides
    ]
    beside = {caution for ledger in ledgers for caution in ledger.cautions}
    general = [text for text in cautions(cell, run) if not any(text in each for each in beside)]
    return {
        "on": True,
        "picture": _picture(cell),
        "electrodes": [asdict(ledger) for ledger in ledgers],
        "narration": [[float(run.time_s[at]), sentence] for at, sentence in narration(run)],
        "seen": [[float(run.time_s[at]), sentence] for at, sentence in observations(run)],
        "notes": [in_print(text) for text in run.warnings],
        "cautions": [in_print(text) for text in general],
        "generalCaution": GENERAL_CAUTION,
        "table": _table(run),
        "classroom": after(run, board),
    }


def lesson_at_rest(run: Run, wording: Wording | None = None) -> dict[str, Any]:
    """Say what stands ready before the switch is closed, as plain data for the page."""
    cell = run.cell
    board = wording or Wording()
    ledgers = [
        Ledger(
            title=title,
            sign=sign,
            material=material,
            on=False,
            product="What forms here?",
            waiting="Predict it, then switch on.",
            rows=(("Ions drawn here", ", ".join(map(pretty, _drawn(cell, charge)))),),
        )
        for (title, sign, charge), material in zip(
            _titles(board), (cell.cathode, cell.anode), strict=True
        )
    ]
    return {
        "on": False,
        "picture": _picture(cell),
        "electrodes": [asdict(ledger) for ledger in ledgers],
        "narration": [[0.0, sentence_at(run, 0)]],
        "seen": [[0.0, sentence_at(run, 0)]],
        "notes": [],
        "cautions": [in_print(text) for text in cautions(cell)],
        "generalCaution": GENERAL_CAUTION,
        "table": None,
        "classroom": before(cell, board),
    }


def _titles(board: Wording) -> list[tuple[str, str, int]]:
    return [(board.title(role), sign, charge) for role, sign, charge in SIDES]


def in_print(sentence: str) -> str:
    """Write the units of a sentence as print does.

    Examples
    --------
    >>> in_print("60 cm3 of a 0.5 mol/dm3 solution")
    '60 cm³ of a 0.5 mol/dm³ solution'
    """
    return sentence.replace("dm3", "dm³").replace("cm3", "cm³")


def _idle_ledger(title: str, sign: str, record: ElectrodeRecord, expected: ElectrodeRule) -> Ledger:
    return Ledger(
        title=title,
        sign=sign,
        material=record.material,
        on=True,
        product="nothing to speak of",
        waiting="Too low a voltage, or too few ions.",
        rows=(("Rule", _outcome(expected.product, record.material)),),
        names=tuple(product_name(product) for product in record.products),
        rule=(expected.reason,),
    )


def _ledger(
    title: str,
    role: str,
    sign: str,
    record: ElectrodeRecord,
    expected: ElectrodeRule,
    said: tuple[str, ...],
    found: tuple[Hazard, ...],
) -> Ledger:
    by_rule = _outcome(expected.product, record.material)
    main = record.products[0]
    agrees = main == expected.product
    equation = expected.half_equation if agrees else equation_of(main, role, record.material)
    return Ledger(
        title=title,
        sign=sign,
        material=record.material,
        on=True,
        product=_outcome(main, record.material),
        names=tuple(product_name(product) for product in record.products),
        equation=equation.html(),
        spoken=equation.speech(),
        rows=(
            ("Rule", f"{by_rule} {'✓' if agrees else '✗'}"),
            ("Seen", observation_of(main)),
            ("Test", str(usual_test(main))),
        ),
        rule=(expected.reason,),
        difference=tuple(in_print(text) for text in said),
        cautions=electrode_cautions(main, found),
    )


def _outcome(product: str, material: str) -> str:
    """Say what happens at an electrode: a product forms, or the metal dissolves."""
    dissolves = product == electrodes()[material].dissolves_as
    return f"{material} dissolves" if dissolves else product_name(product)


def _drawn(cell: CellLike, charge: int) -> list[str]:
    """List the ions that an electrode draws, those of the water last."""
    of_water = "H+" if charge > 0 else "OH-"
    own = [ion for ion in cell.ions_mol_dm3 if parse_formula(ion).charge * charge > 0]
    return [*own, *([] if of_water in own else [of_water])]


def _picture(cell: CellLike) -> str:
    return (
        f"Drawing of the cell: {cell.name} in a {cell.vessel.name}, {cell.cathode} cathode on the "
        f"left, {cell.anode} anode on the right"
    )


def _table(run: Run) -> dict[str, Any]:
    """Give the run's figures at a few instants, for those who do not see it."""
    last = run.time_s.size - 1
    rows = []
    for at in dict.fromkeys(round(last * k / (QUARTERS - 1)) for k in range(QUARTERS)):
        made = [_amount(record, at) for record in (run.cathode, run.anode)]
        seconds = float(run.time_s[at])
        rows.append(
            [f"{seconds / 60:.2g} minutes", f"{1e3 * float(run.current_A[at]):.3g} mA", *made]
        )
    return {
        "caption": f"The run in figures: {run.cell.name}",
        "head": ["Time", "Current", "Made at the cathode", "Made at the anode"],
        "rows": rows,
    }


def _amount(record: ElectrodeRecord, at: int) -> str:
    said = []
    for product in record.products:
        name = product_name(product)
        kind = kind_of(product)
        if kind == "gas":
            said.append(f"{float(record.gas_cm3(product)[at]):.2g} cm³ {name}")
        elif kind == "solid":
            said.append(f"{1e3 * float(record.mass_g(product)[at]):.2g} mg {name}")
        else:
            said.append(f"{1e3 * float(record.amount_mol(product)[at]):.2g} mmol {name}")
    return ", ".join(said) or "nothing"
