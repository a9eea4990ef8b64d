"""What a class does with a run, as plain data for the page: asked, tested, explained, recorded."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from fizzplate.cell import MIN_CURRENT_A
from fizzplate.chemistry import classroom_rule, pretty, wording_for
from fizzplate.chemistry.substances import observation_of, standard_test
from fizzplate.lesson.classroom import (
    NOTHING,
    choice_of,
    expected_choice,
    observation_phrases,
    observation_points,
    product_choices,
    wording_traps,
)
from fizzplate.lesson.equations import half_task
from fizzplate.lesson.rule import (
    TESTS,
    acidity_statement,
    as_plain,
    explanation,
    gas_test,
    ions_with_water,
    liquid_seen,
    residue,
)
from fizzplate.views.bench.payload import equation_of
from fizzplate.views.workshop import plain_task
from fizzplate.words import say

if TYPE_CHECKING:
    from fizzplate.cell import CellLike, ElectrodeRecord, Run
    from fizzplate.chemistry import ElectrodeRule, Equation
    from fizzplate.lesson import Wording

ROLES = ("cathode", "anode")


def before(cell: CellLike, wording: Wording) -> dict[str, Any]:
    """Give what is asked before the switch is closed, and the explanation by the rule."""
    return {
        "ask": [_prediction_task(cell, role, wording) for role in ROLES],
        "ions": _by_charge(cell),
        "traps": [asdict(trap) for trap in wording_traps()],
        "steps": as_plain(explanation(cell, wording)),
    }


def after(run: Run, wording: Wording) -> dict[str, Any]:
    """Give what is compared, tested, explained and recorded after a run."""
    cell = run.cell
    data = before(cell, wording)
    offered = observation_phrases(
        *(record.products[0] for record in (run.cathode, run.anode) if record.products)
    )
    for ask, record in zip(data["ask"], (run.cathode, run.anode), strict=True):
        if not record.products:
            continue
        main = record.products[0]
        ask |= {
            "outcome": choice_of(main, record.material),
            "observation": observation_of(main),
            "points": [asdict(point) for point in observation_points(main)],
            "phrases": list(offered),
        }
    return data | {
        "steps": as_plain(explanation(cell, wording, run)),
        "tests": {
            "names": list(TESTS),
            "results": [
                {test: asdict(gas_test(record, test)) for test in TESTS}
                for record in (run.cathode, run.anode)
            ],
        },
        "liquid": liquid_seen(run),
        "row": _row(run, wording),
    }


def _prediction_task(cell: CellLike, role: str, wording: Wording) -> dict[str, Any]:
    return {
        "role": role,
        "title": wording.title(role),
        "options": list(product_choices(cell)),
        "expected": expected_choice(cell, role, wording),
    }


def _by_charge(cell: CellLike) -> list[dict[str, str]]:
    """List the ions that a class can choose from, each with the electrode that its charge takes it to."""
    if not cell.ions_mol_dm3:
        return []
    return [
        {"label": pretty(ion), "goes": "cathode" if ion.endswith("+") else "anode"}
        for ion in ions_with_water(cell.ions_mol_dm3)
    ]


def _row(run: Run, wording: Wording) -> dict[str, Any]:
    """Give the row of the results table: what is seen and tested as in the run, and both products."""
    cell = run.cell
    if not cell.ions_mol_dm3:
        return {}
    rule = classroom_rule(
        cell.ions_mol_dm3, anode=cell.anode, cathode=cell.cathode, wording=wording
    )
    acidity = residue(rule, cell.ions_mol_dm3).acidity
    accepts = {"left": [acidity]}
    row: dict[str, Any] = {
        "ions": ", ".join(pretty(ion) for ion in ions_with_water(cell.ions_mol_dm3)),
        "left": acidity_statement(acidity, run, wording),
        "pH": say(
            "{cathode} {cathode_first:.1f} to {cathode_last:.1f}; {anode} {anode_first:.1f} to "
            "{anode_last:.1f}",
            wording,
            cathode_first=run.cathode.pH[0],
            cathode_last=run.cathode.pH[-1],
            anode_first=run.anode.pH[0],
            anode_last=run.anode.pH[-1],
        ),
    }
    board = wording_for(cell.ions_mol_dm3, wording)
    flows = float(run.current_A.max()) >= MIN_CURRENT_A
    for role in ROLES:
        record, expected = getattr(run, role), getattr(rule, role)
        main = record.products[0] if flows and record.products else ""
        made = equation_of(main, role, record.material, board) if main else None
        row[role] = _at_electrode(record, role, expected, made, wording)
        accepts[f"{role}-product"] = [choice_of(expected.product, record.material), NOTHING]
        if main:
            accepts[f"{role}-product"][1] = choice_of(main, record.material)
    return row | {"accepts": accepts}


def _at_electrode(
    record: ElectrodeRecord,
    role: str,
    expected: ElectrodeRule,
    made: Equation | None,
    wording: Wording,
) -> dict[str, Any]:
    """Fill the columns of one electrode; where rule and run differ, both are given by name."""
    product = choice_of(expected.product, record.material)
    equation = expected.half_equation.pretty()
    task = plain_task(half_task(expected.half_equation, expected.product, role, wording))
    if made is None:
        return {
            "seen": "nothing is seen",
            "test": "nothing to test",
            "product": f"exam: {product}; bench: {NOTHING}",
            "equation": f"exam: {equation}; bench: none",
            "task": task,
        }
    main = record.products[0]
    if main != expected.product:
        also = plain_task(half_task(made, main, role, wording))
        product = f"exam: {product}; bench: {choice_of(main, record.material)}"
        equation = f"exam: {equation}; bench: {made.pretty()}"
        task |= {
            "accepted": [*task["accepted"], *also["accepted"]],
            "goal": f"{task['goal']}, or {also['goal']}",
        }
    return {
        "seen": observation_of(main),
        "test": str(standard_test(main)),
        "product": product,
        "equation": equation,
        "task": task,
    }
