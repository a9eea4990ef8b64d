"""The explanation, step by step, in the order in which a teacher gives it (common practice)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.chemistry import electrodes, parse_formula, pretty, species_name
from fizzplate.chemistry.classroom_rule import ElectrodeRule, Rule, classroom_rule, ion_list
from fizzplate.chemistry.product_tests import observation_of
from fizzplate.lesson.rule.balancing_steps import BalancingStep, balancing_steps
from fizzplate.lesson.rule.residue import ions_with_water, overall_sentence, residue
from fizzplate.words.wording import Wording

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fizzplate.cell import CellLike, Run

LEAST_CURRENT_A = 1e-5


@dataclass(frozen=True, slots=True)
class Place:
    """One place in an order that is drawn: the reactivity series, or what an anode discharges first.

    Parameters
    ----------
    name
        What stands there.
    present
        Whether it takes part here.
    chosen
        Whether it is what is discharged.
    """

    name: str
    present: bool
    chosen: bool


@dataclass(frozen=True, slots=True)
class ExplanationStep:
    """One step.

    Parameters
    ----------
    title, sentence
        What is explained, and how.
    species
        Formulae of the ions that are meant; the others step back.
    side
        0 for the cathode, 1 for the anode, -1 for neither.
    order, order_title
        An order that is drawn, and what it is.
    balancing
        How the half-equation is balanced.
    """

    title: str
    sentence: str
    species: tuple[str, ...] = ()
    side: int = -1
    order: tuple[Place, ...] = ()
    order_title: str = ""
    balancing: tuple[BalancingStep, ...] = ()


def explanation(
    cell: CellLike, wording: Wording | None = None, run: Run | None = None
) -> list[ExplanationStep]:
    """Return the steps for a cell, with a run's pH and products where one is given.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> [step.title for step in explanation(Cell("NaCl"))][:3]
    ['Ions in the solution', 'Which way they drift', 'Cathode: who competes']
    """
    board = wording or Wording()
    ions = cell.ions_mol_dm3
    if not ions:
        return [
            ExplanationStep(
                "Ions in the solution", "There are next to none: nothing can carry a current."
            )
        ]
    rule = classroom_rule(
        ions, anode=cell.anode, cathode=cell.cathode, molten=cell.melt is not None, wording=board
    )
    everyone = tuple(ions) if cell.melt is not None else ions_with_water(ions)
    positive = tuple(ion for ion in everyone if parse_formula(ion).charge > 0)
    negative = tuple(ion for ion in everyone if parse_formula(ion).charge < 0)
    return [
        ExplanationStep("Ions in the solution", rule.cathode.steps[0], everyone),
        ExplanationStep(
            "Which way they drift",
            f"Positive ions, {ion_list(positive)}, drift to the {board.title('cathode').lower()}; negative "
            f"ions, {ion_list(negative)}, to the {board.title('anode').lower()}.",
            everyone,
        ),
        *_at("cathode", 0, rule.cathode, positive, _series(positive, rule.cathode), board),
        *_at("anode", 1, rule.anode, negative, _anode_order(cell, negative, rule.anode), board),
        _electrons(rule),
        _left(cell, rule, run),
        _seen(rule, board, run),
    ]


def _at(
    role: str,
    side: int,
    rule: ElectrodeRule,
    travellers: tuple[str, ...],
    order: tuple[str, tuple[Place, ...]],
    board: Wording,
) -> list[ExplanationStep]:
    title = board.title(role)
    order_title, places = order
    used = tuple(s for _, s in rule.half_equation.reactants if s != "e-")
    equation = rule.half_equation
    gained, verb = ("oxidation", "lost") if equation.is_oxidation else ("reduction", "gained")
    return [
        ExplanationStep(f"{title}: who competes", rule.steps[2], travellers, side),
        ExplanationStep(f"{title}: the rule", rule.reason, used, side, places, order_title),
        ExplanationStep(f"{title}: the product", rule.steps[4], used, side),
        ExplanationStep(
            f"{title}: the half-equation",
            f"Electrons are {verb}: it is {gained}.",
            used,
            side,
            balancing=balancing_steps(equation),
        ),
    ]


def _series(present: tuple[str, ...], rule: ElectrodeRule) -> tuple[str, tuple[Place, ...]]:
    first = next(s for _, s in rule.half_equation.reactants if s != "e-")
    chosen = "H+" if rule.product == "H2" else first
    rows = sorted(data.rows("reactivity"), key=lambda row: row.value)
    places = tuple(
        Place(row["element"], row["ion"] in present, row["ion"] == chosen) for row in rows
    )
    return (
        "Reactivity series, the most reactive first; the least reactive present is discharged",
        places,
    )


def _anode_order(
    cell: CellLike, present: tuple[str, ...], rule: ElectrodeRule
) -> tuple[str, tuple[Place, ...]]:
    metal = electrodes()[cell.anode]
    if metal.active:
        places = (
            Place(f"the {metal.name} itself", True, True),
            *(Place(pretty(ion), True, False) for ion in present),
        )
        return "An active anode comes before every ion", places
    rows = sorted(data.rows("halogens"), key=lambda row: row.value)
    used = {s for _, s in rule.half_equation.reactants}
    water = "O2-" if cell.melt is not None else "OH-"
    of_oxygen = rule.product == "O2"
    rest = [ion for ion in present if ion not in {water, *(row["ion"] for row in rows)}]
    places = (
        *(Place(pretty(row["ion"]), row["ion"] in present, row["ion"] in used) for row in rows),
        Place(pretty(water), water in present, of_oxygen),
        *(Place(pretty(ion), True, False) for ion in rest),
    )
    return "At an inert anode, from what is discharged first to what is not discharged", places


def _electrons(rule: Rule) -> ExplanationStep:
    """Say how both electrodes pass the same number of electrons."""
    counts = [rule.cathode.half_equation.electrons, rule.anode.half_equation.electrons]
    if counts[0] == counts[1]:
        said = f"Each event passes {counts[0]} electron{'s' if counts[0] > 1 else ''} at either electrode."
    else:
        said = (
            f"One event at the cathode passes {counts[0]}, one at the anode {counts[1]}: for the same number "
            "of electrons the one with fewer happens more often."
        )
    return ExplanationStep(
        "The same number of electrons",
        f"{said} What leaves the anode through the wire arrives at the cathode; none swims through the "
        "solution.",
    )


def _left(cell: CellLike, rule: Rule, run: Run | None) -> ExplanationStep:
    left = residue(rule, cell.ions_mol_dm3, molten=cell.melt is not None)
    sentences = [overall_sentence(left.overall), *left.sentences]
    if run is not None and float(run.current_A.max()) > LEAST_CURRENT_A:
        cathode, anode = float(run.cathode.pH[-1]), float(run.anode.pH[-1])
        sentences.append(
            f"At the end of this run the pH is {cathode:.1f} at the cathode and {anode:.1f} at the anode."
        )
    stay = tuple(ion for ion in cell.ions_mol_dm3 if ion not in _used(rule))
    return ExplanationStep(
        "What is left", " ".join(sentences), stay or ions_with_water(cell.ions_mol_dm3)
    )


def _used(rule: Rule) -> set[str]:
    both = (*rule.cathode.half_equation.reactants, *rule.anode.half_equation.reactants)
    return {species for _, species in both}


def _seen(rule: Rule, board: Wording, run: Run | None) -> ExplanationStep:
    parts = [
        f"{board.title(role)}: {observation_of(each.product)}, so {species_name(each.product)}."
        for role, each in (("cathode", rule.cathode), ("anode", rule.anode))
    ]
    if run is not None:
        mains = (run.cathode.products[:1], run.anode.products[:1])
        expected = ((rule.cathode.product,), (rule.anode.product,))
        if any(main and main != want for main, want in zip(mains, expected, strict=True)):
            parts.append("The model of the real cell differs: see the notes at the electrodes.")
    return ExplanationStep("Back to what was seen", " ".join(parts))


def as_plain(steps: list[ExplanationStep]) -> list[Mapping[str, object]]:
    """Return the steps as plain data for a page."""
    return [
        {
            "title": step.title,
            "sentence": step.sentence,
            "species": list(step.species),
            "side": step.side,
            "orderTitle": step.order_title,
            "order": [
                {"name": p.name, "present": p.present, "chosen": p.chosen} for p in step.order
            ],
            "balancing": [
                {"says": m.says, "html": m.equation.html(), "speech": m.equation.speech()}
                for m in step.balancing
            ],
        }
        for step in steps
    ]
