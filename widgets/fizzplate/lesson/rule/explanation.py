"""The explanation, step by step, in the order in which a teacher gives it (common practice)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.cell import MIN_CURRENT_A, displacements, oxide_film
from fizzplate.chemistry import (
    ElectrodeRule,
    Rule,
    classroom_rule,
    competitors,
    electrodes,
    parse_formula,
    pretty,
    species_name,
    wording_for,
)
from fizzplate.chemistry.substances import observation_of
from fizzplate.lesson.rule.melt_run import seen_in_melt
from fizzplate.lesson.rule.residue import (
    SILVER_TAKES_FIRST,
    ions_with_water,
    overall_sentence,
    residue,
)
from fizzplate.lesson.rule.rule_vs_model import SILVER_SALTS
from fizzplate.lesson.rule.sights import DARK_FILM, haze_words, sights, what_forms
from fizzplate.lesson.rule.stepwise_balancing import BalancingStep, balancing_steps, electron_count
from fizzplate.words import Wording, say

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping

    from fizzplate.cell import CellLike, ElectrodeRecord, Run
    from fizzplate.lesson.rule.melt_run import MeltRun


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

    What belongs to one picture is one step. A page shows a sentence or two of it a press, which makes 11 to
    13 presses for a usual solution.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> [step.title for step in explanation(Cell("NaCl"))][:3]
    ['Ions in the solution', 'Cathode: the rule', 'Cathode: the half-equation']
    """
    ions = cell.ions_mol_dm3
    board = wording_for(ions, wording or Wording())
    if not ions:
        return [
            ExplanationStep(
                "Ions in the solution",
                "There are hardly any ions, so hardly any current can flow.",
            )
        ]
    rule = classroom_rule(
        ions, anode=cell.anode, cathode=cell.cathode, molten=cell.melt is not None, wording=board
    )
    everyone = tuple(ions) if cell.melt is not None else ions_with_water(ions)
    positive = tuple(ion for ion in everyone if parse_formula(ion).charge > 0)
    negative = tuple(ion for ion in everyone if parse_formula(ion).charge < 0)
    drift = say(
        "Positive ions drift to the {cathode_in_full}, negative ions to the {anode_in_full}.",
        board,
    )
    joined = _joined_ions(ions, board)
    return [
        ExplanationStep(
            "Ions in the solution" if cell.melt is None else "Ions in the melt",
            " ".join(filter(None, (rule.cathode.steps[0], joined, drift))),
            (*everyone, *(["HSO4-"] if joined else [])),
        ),
        *_at("cathode", 0, rule.cathode, positive, _series(positive, rule.cathode), board),
        *_at(
            "anode", 1, rule.anode, negative, _anode_order(cell, negative, rule.anode, board), board
        ),
        _electron_step(rule, board),
        _residue_step(cell, rule, run, board),
        _observation_step(cell, rule, board, run),
    ]


def _joined_ions(ions: Collection[str], board: Wording) -> str:
    """Name an ion that two others form in the solution, which a picture shows among them."""
    if not {"H+", "SO4^2-"} <= set(ions):
        return ""
    return say(
        "Some {hydrogen} and {sulfate} are joined as {both}.",
        board,
        hydrogen=pretty("H+"),
        sulfate=pretty("SO4^2-"),
        both=pretty("HSO4-"),
    )


def melt_explanation(run: MeltRun, wording: Wording) -> list[ExplanationStep]:
    """Return the steps for a melt: those of the rule, and how much forms by Faraday's law.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> from fizzplate.lesson.rule.melt_run import MeltRun
    >>> steps = melt_explanation(MeltRun(Cell("PbBr2(l)"), 1.0, 10.0), Wording())
    >>> [step.title for step in steps][-4:]
    ['How much: the charge', 'How much: cathode', 'How much: anode', 'What would be seen']
    """
    *steps, last = explanation(run.cell, wording)
    charge, *made = run.quantities(wording)
    return [
        *steps,
        ExplanationStep("How much: the charge", charge),
        *(
            ExplanationStep(say("How much: {electrode}", wording, role=role), sentence, side=side)
            for side, (role, sentence) in enumerate(zip(("cathode", "anode"), made, strict=True))
        ),
        ExplanationStep("What would be seen", last.sentence),
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
    process, verb = ("oxidation", "lost") if equation.is_oxidation else ("reduction", "gained")
    return [
        ExplanationStep(
            f"{title}: the rule",
            f"{rule.steps[2]} {rule.reason}",
            competitors(travellers, board),
            side,
            places,
            order_title,
        ),
        ExplanationStep(
            f"{title}: the half-equation",
            f"Electrons are {verb}: this is {process}.",
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
        "Reactivity series, the most reactive first: the least reactive one present is discharged",
        places,
    )


def _anode_order(
    cell: CellLike, present: tuple[str, ...], rule: ElectrodeRule, board: Wording
) -> tuple[str, tuple[Place, ...]]:
    metal = electrodes()[cell.anode]
    if metal.active:
        places = (
            Place(f"the {metal.name} itself", True, True),
            *(Place(pretty(each), True, False) for each in competitors(present, board)),
        )
        return say("An active {anode} dissolves before any ion is discharged", board), places
    rows = sorted(data.rows("halogens"), key=lambda row: row.value)
    used = {s for _, s in rule.half_equation.reactants}
    source = "O2-" if cell.melt is not None else board.source_of("O2")
    of_oxygen = rule.product == "O2"
    of_water = cell.melt is None
    rest = [ion for ion in present if ion not in {"O2-", "OH-", *(row["ion"] for row in rows)}]
    places = (
        *(Place(pretty(row["ion"]), row["ion"] in present, row["ion"] in used) for row in rows),
        Place(pretty(source), of_water or source in present, of_oxygen),
        *(Place(pretty(ion), True, False) for ion in rest),
    )
    return say(
        "At an inert {anode}: what is highest in this list is discharged first", board
    ), places


def _electron_step(rule: Rule, board: Wording) -> ExplanationStep:
    """Say how both electrodes pass the same number of electrons."""
    counts = [rule.cathode.half_equation.electrons, rule.anode.half_equation.electrons]
    first = (
        "At both electrodes the half-equation has {electrons}."
        if counts[0] == counts[1]
        else "The half-equation at {the_cathode} has {electrons}, the one at {the_anode} {at_anode}. In the "
        "same time both electrodes pass the same number of electrons, so the reaction with fewer electrons "
        "happens more often."
    )
    then = "The electrons flow through the wire from {the_anode} to {the_cathode}, never through the liquid."
    slots = {"electrons": electron_count(counts[0]), "at_anode": counts[1]}
    return ExplanationStep("The same number of electrons", say(f"{first} {then}", board, **slots))


#: the ion that a solution has more of as it becomes so
MAKES = {"alkaline": ("OH-",), "acid": ("H+",)}


def _residue_step(cell: CellLike, rule: Rule, run: Run | None, board: Wording) -> ExplanationStep:
    left = residue(rule, cell.ions_mol_dm3, molten=cell.melt is not None, wording=board)
    sentences = [overall_sentence(left.overall, board), *left.sentences]
    if run is not None and float(run.current_A.max()) >= MIN_CURRENT_A:
        cathode, anode = float(run.cathode.pH[-1]), float(run.anode.pH[-1])
        sentences.append(
            say(
                "At the end of this run the pH is {pH_cathode} at {the_cathode} and "
                "{pH_anode} at {the_anode}.",
                board,
                pH_cathode=f"{cathode:.1f}",
                pH_anode=f"{anode:.1f}",
            )
        )
        sentences += _left_otherwise(run, rule, board)
    stay = tuple(ion for ion in cell.ions_mol_dm3 if ion not in _used(rule))
    meant = stay or ions_with_water(cell.ions_mol_dm3)
    of_water = MAKES.get(left.acidity, ())
    return ExplanationStep(
        "What is left", " ".join(sentences), tuple(dict.fromkeys((*meant, *of_water)))
    )


def _left_otherwise(run: Run, rule: Rule, board: Wording) -> list[str]:
    """Say where a run made mostly something else than the rule, so that something else is left."""
    halides = {
        salt for ion, salt in SILVER_SALTS.items() if ion in SILVER_TAKES_FIRST
    }  # the rule's residue tells them
    return [
        say(
            "That is what the rule leaves. In the model, {instead} at {the_electrode}, so something else is "
            "left: see the notes there.",
            board,
            role=role,
            instead=_mostly(record.products[0], role),
        )
        for role, record, expected in (
            ("cathode", run.cathode, rule.cathode),
            ("anode", run.anode, rule.anode),
        )
        if record.products and record.products[0] not in {expected.product, *halides}
    ]


def _mostly(product: str, role: str) -> str:
    """Say what forms for the most part, or what a metal mostly dissolves as."""
    forms = what_forms(product, role)
    if forms == species_name(product):
        return f"mostly {forms} forms"
    return forms.replace(" dissolves", " mostly dissolves", 1)


def _used(rule: Rule) -> set[str]:
    both = (*rule.cathode.half_equation.reactants, *rule.anode.half_equation.reactants)
    return {species for _, species in both}


def _observation_step(
    cell: CellLike, rule: Rule, board: Wording, run: Run | None
) -> ExplanationStep:
    both = (("cathode", rule.cathode), ("anode", rule.anode))
    if run is None:
        look = observation_of if cell.melt is None else seen_in_melt
        parts = [
            f"{board.title(role)}: {_conclusion(look(each.product), each.product, role)}."
            for role, each in both
        ]
    else:
        parts = [
            _seen_beside_the_rule(record, role, each, board)
            for record, (role, each) in zip((run.cathode, run.anode), both, strict=True)
        ]
        parts += _also_seen(run, board)
    return ExplanationStep("Back to what was seen", " ".join(parts))


def _conclusion(seen: str, product: str, role: str) -> str:
    """Name what is seen; the same sight can be of two gases, so it does not tell which."""
    forms = what_forms(product, role)
    return (
        f"{seen}; this is {forms}" if forms == species_name(product) else f"{seen}, because {forms}"
    )


def _seen_beside_the_rule(
    record: ElectrodeRecord, role: str, rule: ElectrodeRule, board: Wording
) -> str:
    """Say what the rule lets expect, and what is seen where the model gives another main product."""
    by_rule = _conclusion(observation_of(rule.product), rule.product, role)
    title = board.title(role)
    if record.products[:1] in ((), (rule.product,)):
        return f"{title}: {by_rule}."
    main = record.products[0]
    in_model = _conclusion(sights(record, role)[main], main, role)
    return f"{title}: by the rule, {by_rule}. In the model, mostly {in_model}: see the notes there."


def _also_seen(run: Run, board: Wording) -> list[str]:
    """Say what clouds the liquid by the end of a run, and where a film has darkened an anode."""
    clouds = [f"{look}: {species_name(solid)}" for solid, look in haze_words(run).items()]
    seen = [f"In the liquid: {'; '.join(clouds)}."] if clouds else []
    seen += _displaced(run.cell, board)
    for side, role in enumerate(("cathode", "anode")):
        if oxide_film(run, side)[-1]:
            seen.append(
                f"{board.title(role)}: {DARK_FILM}, an oxide that keeps the metal from dissolving."
            )
    return seen


def _displaced(cell: CellLike, board: Wording) -> list[str]:
    """Say what an electrode displaces from the solution without any current."""
    return [
        say(
            "The {material} {electrode} also reacts without any current, because {metal} is more "
            "reactive than {other}: {seen}.",
            board,
            role=each.role,
            material=each.material,
            metal=_element_of(each.gives),
            other=_element_of(each.meets),
            seen=each.seen,
        )
        for each in displacements(cell)
    ]


def _element_of(ion: str) -> str:
    return data.find("reactivity", ion=ion)["element"]


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
                {"sentence": m.sentence, "html": m.equation.html(), "speech": m.equation.speech()}
                for m in step.balancing
            ],
        }
        for step in steps
    ]
