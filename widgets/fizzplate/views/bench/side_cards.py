"""What the side cards, the sentence of the moment, the notes and the unseen table say.

All words are made here; the page fills in only the figures that follow the playhead (share, current,
amount), from the same record.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Any

from fizzplate.cell import MIN_CURRENT_A
from fizzplate.chemistry import (
    classroom_rule,
    electrodes,
    parse_formula,
    pretty,
    standard_test,
    wording_for,
)
from fizzplate.chemistry.substances import kind_of, product_name
from fizzplate.lesson import cautions, differences, narration, observations
from fizzplate.lesson.classroom import (
    GENERAL_CAUTION,
    electrode_cautions,
    electrode_hazards,
    hazards,
)
from fizzplate.lesson.rule import SWITCH_OPEN, SWITCH_OPEN_SEEN, deposit_dissolves, main_sight
from fizzplate.views.bench.lesson import after, before
from fizzplate.views.bench.payload import equation_of
from fizzplate.words import DEFAULT_WORDING, Rendering, page_quantity, say

if TYPE_CHECKING:
    from fizzplate.cell import CellLike, ElectrodeRecord, Run
    from fizzplate.chemistry import ElectrodeRule
    from fizzplate.lesson.classroom import Hazard
    from fizzplate.lesson.rule import Remains
    from fizzplate.words import Wording

QUARTERS = 5  # instants in the unseen table: the start, the quarters and the end
NO_CURRENT = "The voltage is too low, or there are too few ions."


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a cell: the electrode's role, its sign, and the charge of the ions that it attracts."""

    role: str
    sign: str
    attracts: int

    def record(self, run: Run) -> ElectrodeRecord:
        """Return what happened there."""
        return run.cathode if self.role == "cathode" else run.anode


SIDES = (Side("cathode", "−", +1), Side("anode", "+", -1))


@dataclass(frozen=True, slots=True)
class SideCard:
    """One electrode's card at the side of the picture.

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
        What is shown instead of the half-equation.
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


def lesson_of(
    run: Run, wording: Wording = DEFAULT_WORDING, remains: Remains | None = None
) -> dict[str, Any]:
    """Say what a run shows, in the board's wording, as plain data for the page.

    Of a stage, ``remains`` says what is still seen of what was made before it.
    """
    cell = run.cell
    rule = classroom_rule(
        cell.ions_mol_dm3, anode=cell.anode, cathode=cell.cathode, wording=wording
    )
    flows = float(run.current_A.max()) >= MIN_CURRENT_A
    found = hazards(cell, run, wording)
    cards = [
        _side_card(run, side, expected, difference, found, wording)
        if flows
        else _card_without_current(run, side, expected, wording)
        for side, expected, difference in zip(
            SIDES, (rule.cathode, rule.anode), differences(run, wording), strict=True
        )
    ]
    on_cards = {
        each.caution
        for side in SIDES
        if flows
        for each in electrode_hazards(side.record(run).products[0], found)
    }
    general = [text for text in cautions(cell, run, wording) if text not in on_cards]
    return {
        "on": True,
        "picture": _picture(cell, wording),
        "electrodes": [asdict(card) for card in cards],
        "narration": [
            [float(run.time_s[at]), sentence] for at, sentence in narration(run, wording)
        ],
        "seen": [
            [float(run.time_s[at]), sentence]
            for at, sentence in observations(run, wording, remains)
        ],
        "notes": run.warnings_in(wording, Rendering.PAGE),
        "cautions": general,
        "generalCaution": GENERAL_CAUTION,
        "table": _table(run, wording),
        "classroom": after(run, wording),
    }


def lesson_at_rest(cell: CellLike, wording: Wording = DEFAULT_WORDING) -> dict[str, Any]:
    """Say what the page shows before the switch is closed, as plain data."""
    cards = [
        SideCard(
            title=wording.title(side.role),
            sign=side.sign,
            material=getattr(cell, side.role),
            on=False,
            product="What forms here?",
            waiting="Predict it, then switch on.",
            rows=(
                ("Ions attracted here", ", ".join(map(pretty, _attracted(cell, side.attracts)))),
            ),
        )
        for side in SIDES
    ]
    return {
        "on": False,
        "picture": _picture(cell, wording),
        "electrodes": [asdict(card) for card in cards],
        "narration": [[0.0, SWITCH_OPEN]],
        "seen": [[0.0, SWITCH_OPEN_SEEN]],
        "notes": [],
        "cautions": cautions(cell, wording=wording),
        "generalCaution": GENERAL_CAUTION,
        "table": None,
        "classroom": before(cell, wording),
    }


def _card_without_current(
    run: Run, side: Side, expected: ElectrodeRule, wording: Wording
) -> SideCard:
    record = side.record(run)
    return SideCard(
        title=wording.title(side.role),
        sign=side.sign,
        material=record.material,
        on=True,
        product="hardly anything",
        waiting=NO_CURRENT if run.supply_voltage_V.max() else SWITCH_OPEN,
        rows=(("Rule", _outcome(expected.product, record.material)),),
        names=tuple(product_name(product) for product in record.products),
        rule=(expected.reason,),
    )


def _side_card(
    run: Run,
    side: Side,
    expected: ElectrodeRule,
    difference: tuple[str, ...],
    found: tuple[Hazard, ...],
    wording: Wording,
) -> SideCard:
    record = side.record(run)
    by_rule = _outcome(expected.product, record.material)
    main = record.products[0]
    agrees = main == expected.product
    board = wording_for(run.cell.ions_mol_dm3, wording)
    equation = (
        expected.half_equation if agrees else equation_of(main, side.role, record.material, board)
    )
    return SideCard(
        title=wording.title(side.role),
        sign=side.sign,
        material=record.material,
        on=True,
        product=_outcome(main, record.material),
        names=tuple(product_name(product) for product in record.products),
        equation=equation.html(),
        spoken=equation.speech(),
        rows=(
            ("Rule", f"{by_rule} {'✓' if agrees else '✗'}"),
            ("Seen", main_sight(run, side.role)),
            ("Test", str(standard_test(main))),
        ),
        rule=(expected.reason,),
        difference=difference,
        cautions=electrode_cautions(main, found),
    )


def _outcome(product: str, material: str) -> str:
    """Say what happens at an electrode: a product forms, or the metal, or one deposited before, dissolves."""
    if product == electrodes()[material].dissolves_as:
        return f"{material} dissolves"
    deposited = deposit_dissolves(product, material)
    return f"{deposited} dissolves" if deposited else product_name(product)


def _attracted(cell: CellLike, charge: int) -> list[str]:
    """List the ions that an electrode attracts, those of the water last."""
    of_water = "H+" if charge > 0 else "OH-"
    own = [ion for ion in cell.ions_mol_dm3 if parse_formula(ion).charge * charge > 0]
    return [*own, *([] if of_water in own else [of_water])]


def _picture(cell: CellLike, wording: Wording) -> str:
    return say(
        "Drawing of the cell: {solution} in a {vessel}, {cathode_material} {cathode} on the left, "
        "{anode_material} {anode} on the right",
        wording,
        solution=cell.name,
        vessel=cell.vessel.name,
        cathode_material=cell.cathode,
        anode_material=cell.anode,
    )


def _table(run: Run, wording: Wording) -> dict[str, Any]:
    """Give the run's figures at a few instants, for those who do not see it."""
    last = run.time_s.size - 1
    rows = []
    for at in dict.fromkeys(round(last * k / (QUARTERS - 1)) for k in range(QUARTERS)):
        made = [_amount(record, at) for record in (run.cathode, run.anode)]
        seconds = float(run.time_s[at])
        rows.append(
            [
                page_quantity(seconds / 60, "minutes", ".2g"),
                f"{1e3 * float(run.current_A[at]):.3g} mA",
                *made,
            ]
        )
    return {
        "caption": f"The run in figures: {run.cell.name}",
        "head": [
            "Time",
            "Current",
            say("Made at {the_cathode}", wording),
            say("Made at {the_anode}", wording),
        ],
        "rows": rows,
    }


def _amount(record: ElectrodeRecord, at: int) -> str:
    amounts = []
    for product in record.products:
        name = product_name(product)
        kind = kind_of(product)
        if kind == "gas":
            amounts.append(f"{float(record.gas_cm3(product)[at]):.2g} cm³ {name}")
        elif kind == "solid":
            amounts.append(f"{1e3 * float(record.mass_g(product)[at]):.2g} mg {name}")
        else:
            amounts.append(f"{1e3 * float(record.amount_mol(product)[at]):.2g} mmol {name}")
    return ", ".join(amounts) or "nothing"
