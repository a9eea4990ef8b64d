"""Makers of questions that weigh cells or ions against each other: mixtures, which cell gives what."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.cell import Cell
from fizzplate.chemistry import electrodes, in_words, parse_formula, solutions, species_name
from fizzplate.questions.maker import maker
from fizzplate.questions.makers.parts import (
    CARBON,
    choice,
    choice_question,
    rule_of,
    salts,
    solution_name,
    why_product,
)
from fizzplate.questions.misconceptions import Idea, correction
from fizzplate.words import begin, board_slots, say

if TYPE_CHECKING:
    from fizzplate.questions.makers.parts import Wrong
    from fizzplate.questions.question_types import Question
    from fizzplate.questions.random_source import RandomSource
    from fizzplate.words import Wording

HALIDES = (("KI", "NaCl"), ("KBr", "NaCl"), ("NaI", "KBr"), ("KI", "KBr"), ("NaBr", "KCl"))
METAL_SALTS = (
    ("CuSO4", "Na2SO4"),
    ("CuSO4", "MgSO4"),
    ("AgNO3", "Cu(NO3)2"),
    ("AgNO3", "NaNO3"),
    ("CuCl2", "NaCl"),
    ("Cu(NO3)2", "KNO3"),
    ("Na2SO4", "K2SO4"),
    ("NaNO3", "KNO3"),
)


@maker("mixture", topic="products", level=16, version=1)
def mixture(rng: RandomSource) -> Question:
    """Ask which ion of a mixture goes first."""
    role = rng.one_of(("cathode", "anode"))
    first, second = rng.one_of(METAL_SALTS if role == "cathode" else HALIDES)
    cell = Cell({first: 0.5, second: 0.5})
    rule = cell.rule(rng.wording, dilute_chloride_below_mol_dm3=0.0)
    product = getattr(rule, role).product
    right = species_name(product)
    sign = 1 if role == "cathode" else -1
    wrong: list[Wrong] = []
    other_side: list[Wrong] = []
    for ion in cell.ions_mol_dm3:
        name = _product_of(ion)
        if not name or name == right:
            continue
        if parse_formula(ion).charge * sign > 0:
            wrong.append((name, _later(ion, role, right), 0))
        else:
            other_side.append((name, _other_side(role, rng.wording), Idea.CATIONS_DRIFT_TO_ANODE))
    if role == "cathode" and right != "hydrogen":
        idea = Idea.COPPER_HARDER_THAN_HYDROGEN if right == "copper" else 0
        wrong.append(
            ("hydrogen", f"{begin(right)} is less reactive than hydrogen, so it forms first.", idea)
        )
    if role == "anode":
        wrong.append(("oxygen", "Halide ions are discharged rather than hydroxide ions.", 0))
    rivals = len(wrong)
    wrong += other_side
    wrong.append(
        (
            "you cannot tell without trying it",
            correction(Idea.PRODUCTS_UNPREDICTABLE, rng.wording),
            Idea.PRODUCTS_UNPREDICTABLE,
        )
    )
    electrode = board_slots(rng.wording)[role]
    name = " and ".join(solutions()[each].name for each in (first, second))
    text = (
        f"A solution contains equal amounts of {name}. It is electrolysed with inert electrodes. "
        f"What forms first at the {electrode}?"
    )
    reason = (
        getattr(rule, role).reason if role == "cathode" else _firmer(list(cell.ions_mol_dm3), right)
    )
    options = choice(rng, right, wrong, reason, keep=min(rivals, 2))
    watch = f"{second},also={first}:0.5"
    return choice_question(text, options, watch=watch)


def _product_of(ion: str) -> str:
    """Name the element that an ion would give, or nothing for one that is never discharged."""
    if parse_formula(ion).charge > 0:
        return str(data.find("reactivity", ion=ion)["element"])
    found = [row["product"] for row in data.rows("halogens") if row["ion"] == ion]
    return species_name(found[0]) if found else ""


def _later(ion: str, role: str, right: str) -> str:
    if role == "anode":
        return f"{begin(in_words(ion))} keep their electrons more firmly, so {right} forms first."
    return f"{begin(_product_of(ion))} is more reactive than {right}, so its ions stay."


def _firmer(ions: list[str], right: str) -> str:
    """Say which of two halide ions loses its electrons more easily."""
    halides = [ion for ion in ions if parse_formula(ion).charge < 0 and _product_of(ion)]
    first, second = sorted(halides, key=lambda ion: _product_of(ion) != right)
    return f"{begin(in_words(first))} lose electrons more easily than {in_words(second)}."


def _other_side(role: str, wording: Wording) -> str:
    template = (
        "Negative ions drift to {the_anode}."
        if role == "cathode"
        else "Positive ions drift to {the_cathode}."
    )
    return say(template, wording)


@maker("which cell", topic="products", level=14, version=1)
def which_cell(rng: RandomSource) -> Question:
    """Ask which of four cells gives two products."""
    cells = [(formula, CARBON) for formula in salts(rng) if formula != "NaF"]
    cells += [("CuSO4", "copper"), ("Cu(NO3)2", "copper"), ("AgNO3", "silver")]
    formula, material = rng.one_of(cells)
    rule = rule_of(formula, rng.wording, material, material)
    wanted = _pair(formula, material, rng)
    others: dict[tuple[str, str], tuple[str, str]] = {}
    for each in rng.shuffled(cells):
        others.setdefault(_pair(each[0], each[1], rng), each)
    del others[wanted]
    # those that share a product with what is asked for come first, so that a learner must decide about both
    near = [pair for pair in others if pair[0] == wanted[0] or pair[1] == wanted[1]]
    ordered = [*near, *(pair for pair in others if pair not in near)]
    wrong: list[Wrong] = [
        (
            _cell_name(each, rng),
            say(
                "There {product} forms at {the_cathode}, and {at_anode}.",
                rng.wording,
                product=pair[0],
                at_anode=pair[1],
            ),
            Idea.COPPER_ANODE_GIVES_OXYGEN
            if rule.anode.product == "O2" and each[1] != CARBON
            else 0,
        )
        for pair, each in ((pair, others[pair]) for pair in ordered)
    ]
    at_anode = (
        why_product(formula, "anode", rule, rng.wording)
        if material == CARBON
        else say("{An_anode} of {material} dissolves.", rng.wording, material=material)
    )
    reason = f"{rule.cathode.reason} {at_anode}"
    text = say(
        "In which cell does {product} form at {the_cathode} while {at_anode}?",
        rng.wording,
        product=wanted[0],
        at_anode=wanted[1],
    )
    watch = formula if material == CARBON else f"{formula},anode={material},cathode={material}"
    options = choice(rng, _cell_name((formula, material), rng), wrong, reason)
    return choice_question(text, options, watch=watch)


def _pair(formula: str, material: str, rng: RandomSource) -> tuple[str, str]:
    """Say what forms at the cathode, and what happens at the anode."""
    rule = rule_of(formula, rng.wording, material, material)
    dissolves = electrodes()[material].active
    anode = (
        say("{the_anode} dissolves", rng.wording)
        if dissolves
        else say(
            "{product} forms at {the_anode}", rng.wording, product=species_name(rule.anode.product)
        )
    )
    return species_name(rule.cathode.product), anode


def _cell_name(cell: tuple[str, str], rng: RandomSource) -> str:
    kind = "carbon" if cell[1] == CARBON else cell[1]
    return f"{solution_name(cell[0], rng.wording)} with {kind} electrodes"
