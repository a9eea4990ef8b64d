"""What the bench shows of a melt: amounts by Faraday's law, over a picture that is only drawn."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from fizzplate.cell import MIN_CURRENT_A
from fizzplate.chemistry import parse_formula, pretty, wording_for
from fizzplate.chemistry.substances import product_name
from fizzplate.lesson import cautions
from fizzplate.lesson.classroom import (
    NOTHING,
    electrode_cautions,
    expected_choice,
    hazards,
    product_choices,
    teacher_only,
)
from fizzplate.lesson.equations import half_task
from fizzplate.lesson.rule import (
    COMPUTED,
    SWITCH_OPEN,
    SWITCH_OPEN_SEEN,
    VAPOURS,
    MeltRun,
    as_plain,
    form_of,
    melt_explanation,
    residue,
    seen_in_melt,
)
from fizzplate.views.bench.payload import ArrayBlock, Payload, board_words
from fizzplate.views.web.theme import ion_property, solid_property
from fizzplate.views.workshop import plain_task
from fizzplate.words import page_quantity, say

if TYPE_CHECKING:
    from fizzplate.cell import Cell
    from fizzplate.chemistry import ElectrodeRule, Melt
    from fizzplate.words import Wording

ROLES = ("cathode", "anode")
SIGNS = ("−", "+")
PLACES = 12  # along the picture: everywhere the same
DRAWN_MOL_M3 = 1000.0  # a choice: any crowd stands for a melt
DRAWN_DRIFT_M_S = 1e-6  # a choice: in a melt no drift is calculated
DRAWN_GAP_M, DRAWN_AREA_CM2 = 0.04, 10.0
DRAWN_DENSITY_G_CM3 = 7.1  # of zinc, from memory: the one metal that is drawn as a layer

#: shown while a class predicts: they do not give away what forms
ASKING_TEACHER = (
    "A melt is very hot and may give off toxic vapour: demonstration by the teacher only, in a fume "
    "cupboard. Your school's own risk assessment decides."
)
ASKING_NEVER = (
    "Only factories work with this melt: never in a school, where this picture stands for it. Your school's "
    "own risk assessment decides what is shown instead."
)
NO_TEST = "not tested in class"


def melt_payload(cell: Cell, run: MeltRun | None, wording: Wording) -> Payload:
    """Make the header and the bytes of a melt: amounts through a run, and places that are only drawn.

    Parameters
    ----------
    cell
        The cell with the melt.
    run
        What a current makes of it; nothing while the switch is open.
    wording
        The board's.
    """
    arrays = ArrayBlock()
    times = 1 if run is None else run.time_s.size
    everywhere = np.ones((times, PLACES))
    arrays.add("position_m", np.linspace(0.0, DRAWN_GAP_M, PLACES))
    for ion, count in cell.ions_mol_dm3.items():
        charge = parse_formula(ion).charge
        arrays.add(f"c:{ion}", DRAWN_MOL_M3 * count * everywhere)
        if run is not None:
            arrays.add(f"v:{ion}", -np.sign(charge) * DRAWN_DRIFT_M_S * everywhere)
    if run is not None:
        for name, values in _by_time(run).items():
            arrays.add(name, values)
    header = board_words(wording) | {
        "solution": " + ".join(cell.solution_formulae),
        "name": cell.name,
        "vessel": "crucible",
        "melt": None if cell.melt is None else _about_melt(cell.melt),
        "wettedCm2": DRAWN_AREA_CM2,
        "filmM": 0.0,
        "supplyV": None,
        "lamp": None,
        "species": [
            {
                "formula": ion,
                "label": pretty(ion),
                "charge": parse_formula(ion).charge,
                "tint": ion_property(ion),
                "dissolved": False,
            }
            for ion in cell.ions_mol_dm3
        ],
        "liquidColours": [],
        "hazes": [],
        "indicators": {},
        "minutes": 0.0 if run is None else run.minutes,
        "idle": run is None or run.current_A < MIN_CURRENT_A,
        "electrodes": [_electrode(cell, run, role) for role in ROLES],
        "index": arrays.index,
    }
    return Payload(header, arrays.pack())


def _about_melt(melt: Melt) -> dict[str, Any]:
    temperature = page_quantity(melt.temperature_C, "°C", ".0f")
    return {"caption": f"molten, at about {temperature} or more: no water"}


def _by_time(run: MeltRun) -> dict[str, Any]:
    found = {
        "time_s": run.time_s,
        "current_A": np.full(run.time_s.size, run.current_A),
        "charge_C": run.charge_C,
    }
    for side, role in enumerate(ROLES):
        product = run.product(role)
        found[f"{side}:share:{product}"] = np.ones(run.time_s.size)
        found[f"{side}:amount_mol:{product}"] = run.amount_mol(role)
        found[f"{side}:mass_g:{product}"] = run.mass_g(role)
        if form_of(product) == "gas":
            for name in ("gas", "collected", "bubbles"):
                found[f"{side}:{name}_cm3:{product}"] = run.gas_cm3(role)
        else:
            settles = form_of(product) == "settles"
            found[f"{side}:layer_g"] = run.mass_g(role) * (1.0 if settles else 0.0)
    return found


def _electrode(cell: Cell, run: MeltRun | None, role: str) -> dict[str, Any]:
    product = "" if run is None else run.product(role)
    is_metal = bool(product) and form_of(product) != "gas"
    return {
        "material": getattr(cell, role),
        "role": role,
        "layerTint": solid_property(product) if is_metal else "",
        "layerGCm3": DRAWN_DENSITY_G_CM3,
        "spongy": False,
        "pool": form_of(product) if is_metal else "",
        "products": [] if run is None else [_product(getattr(run.rule, role))],
    }


def _product(rule: ElectrodeRule) -> dict[str, Any]:
    """Say what forms, of what, and how it is drawn."""
    equation, product = rule.half_equation, rule.product
    made = next(n for n, species in equation.products if species == product)
    count, ion = next((n, species) for n, species in equation.reactants if species != "e-")
    is_gas = form_of(product) == "gas"
    return {
        "formula": product,
        "label": pretty(product),
        "charge": 0,
        "kind": "gas" if is_gas else "solid",
        "electrons": equation.electrons // made,
        "consumed": {"formula": ion, "count": count // made},
        "released": [],
        "tint": ion_property(product) if is_gas else solid_property(product),
        "metal": "",
        "isWeighed": product in VAPOURS,
    }


def melt_lesson(cell: Cell, run: MeltRun | None, wording: Wording) -> dict[str, Any]:
    """Say what the page shows of a melt, as plain data, in the form of a solution's lesson."""
    board = wording_for(cell.ions_mol_dm3, wording)
    found = hazards(cell, None, wording)
    rule = cell.rule(board)
    seen = [seen_in_melt(getattr(rule, role).product) for role in ROLES]
    on = run is not None
    told = "; ".join(
        f"{wording.title(role)}: {text}" for role, text in zip(ROLES, seen, strict=True)
    )
    return {
        "on": on,
        "isMelt": True,
        "picture": say(
            "Drawing of {melt}, heated in a crucible, with a {material} {cathode} on the left and a "
            "{material} {anode} on the right",
            wording,
            melt=cell.name,
            material=cell.cathode,
        ),
        "electrodes": [
            _card(cell, run, side, getattr(rule, role), found, wording)
            for side, role in enumerate(ROLES)
        ],
        "narration": [[0.0, f"{told}." if on else SWITCH_OPEN]],
        "seen": [[0.0, "Ions move in the melt." if on else SWITCH_OPEN_SEEN]],
        "notes": [COMPUTED],
        "cautions": list(cautions(cell, None, wording)),
        "generalCaution": ASKING_TEACHER if teacher_only(cell) else ASKING_NEVER,
        "table": None,
        "classroom": {
            "ask": [
                {
                    "role": role,
                    "title": wording.title(role),
                    "options": list(product_choices(cell)),
                    "expected": expected_choice(cell, role, wording),
                }
                for role in ROLES
            ],
            "ions": [
                {"label": pretty(ion), "goes": "cathode" if ion.endswith("+") else "anode"}
                for ion in cell.ions_mol_dm3
            ],
            "traps": [],
            "steps": [] if run is None else as_plain(melt_explanation(run, wording)),
            **({} if run is None else {"row": _row(run, wording)}),
        },
    }


def _card(
    cell: Cell,
    run: MeltRun | None,
    side: int,
    rule: ElectrodeRule,
    found: Any,
    wording: Wording,
) -> dict[str, Any]:
    role = ROLES[side]
    attracted = [ion for ion in cell.ions_mol_dm3 if ion.endswith("+") == (role == "cathode")]
    card = {
        "title": wording.title(role),
        "sign": SIGNS[side],
        "material": getattr(cell, role),
        "on": run is not None,
        "product": "What forms here?",
        "names": [],
        "equation": "",
        "spoken": "",
        "waiting": "Predict it, then go on.",
        "rows": [("Ions attracted here", ", ".join(map(pretty, attracted)))],
        "rule": [],
        "difference": [],
        "cautions": [],
    }
    if run is None:
        return card
    return card | {
        "product": product_name(rule.product),
        "names": [product_name(rule.product)],
        "equation": rule.half_equation.html(),
        "spoken": rule.half_equation.speech(),
        "waiting": "",
        "rows": [("Seen", seen_in_melt(rule.product)), ("Test", NO_TEST)],
        "rule": [rule.reason],
        "cautions": list(electrode_cautions(rule.product, found)),
    }


def _row(run: MeltRun, wording: Wording) -> dict[str, Any]:
    """Give the row of the results table."""
    cell = run.cell
    board = wording_for(cell.ions_mol_dm3, wording)
    rule = cell.rule(board)
    left = " ".join(residue(rule, cell.ions_mol_dm3, molten=True, wording=board).sentences)
    row: dict[str, Any] = {
        "ions": ", ".join(pretty(ion) for ion in cell.ions_mol_dm3),
        "left": left,
        "pH": "no water, so no pH",
        "accepts": {"left": [left]},
    }
    for role in ROLES:
        at: ElectrodeRule = getattr(rule, role)
        name = product_name(at.product)
        row["accepts"][f"{role}-product"] = [name, NOTHING]
        row[role] = {
            "seen": seen_in_melt(at.product),
            "test": NO_TEST,
            "product": run.made_text(role),
            "equation": at.half_equation.pretty(),
            "task": plain_task(half_task(at.half_equation, at.product, role, wording)),
        }
    return row
