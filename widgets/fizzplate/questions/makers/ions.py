"""Makers of questions about the ions of a solution: which there are, where they go, who competes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.chemistry import (
    in_words,
    melts,
    name_without_number,
    parse_formula,
    pretty,
    solutions,
    species_name,
)
from fizzplate.lesson.rule import ions_with_water
from fizzplate.questions.content import Point
from fizzplate.questions.maker import maker
from fizzplate.questions.makers.mark_points import ion_words
from fizzplate.questions.makers.parts import (
    cell_of,
    choice,
    choice_question,
    draw_salt,
    ions_in_words,
    solution_name,
    text_question,
)
from fizzplate.questions.misconceptions import Idea, correction
from fizzplate.questions.tables import candidates
from fizzplate.words import begin, board_slots, say

if TYPE_CHECKING:
    from fizzplate.questions.makers.parts import Wrong
    from fizzplate.questions.question_types import Question
    from fizzplate.questions.random_source import RandomSource


def _everyone(formula: str) -> tuple[str, ...]:
    ions = cell_of(formula).ions_mol_dm3
    return tuple(ions) if formula in melts() else ions_with_water(ions)


def _ions_of_sign(formula: str, sign: int) -> list[str]:
    return [ion for ion in _everyone(formula) if parse_formula(ion).charge * sign > 0]


def _swapped(ion: str) -> str:
    """Write an ion with its charge turned round, as some learners do."""
    return pretty(ion.translate(str.maketrans("+-", "-+")))


@maker("ions present", topic="ions", level=14, version=1)
def ions_present(rng: RandomSource) -> Question:
    """Ask which ions a solution, or a melt, holds."""
    if rng.number(5) == 0:
        return _ions_of_melt(rng)
    formula = draw_salt(rng)
    own = list(solutions()[formula].ions)
    every = _everyone(formula)
    only = ", ".join(map(pretty, own))
    name = solution_name(formula, rng.wording)
    right = ", ".join(map(pretty, every))
    wrong = [
        (
            f"{only}, and no others",
            "The water itself gives H⁺ and OH⁻ ions as well.",
            Idea.WATER_NEVER_REACTS,
        ),
        (
            ", ".join(map(_swapped, every)),
            (
                "Metals and hydrogen form positive ions. "
                f"{correction(Idea.CATIONS_HAVE_MORE_ELECTRONS, rng.wording)}"
            ),
            Idea.CATIONS_HAVE_MORE_ELECTRONS,
        ),
        (
            "no ions, until the current flows",
            "Its ions are there as soon as it is in water, before any current flows.",
            Idea.CURRENT_MAKES_IONS,
        ),
        (
            f"{only}, H₂O⁺, H₂O⁻",
            "Water molecules have no charge; the ions that water gives are H⁺ and OH⁻.",
            0,
        ),
    ]
    text = rng.one_of(
        (
            f"Which ions are there in {name}?",
            f"Which list shows all the ions that are in {name}?",
            f"The switch is still open. Which ions are in {name}?",
        )
    )
    options = choice(
        rng,
        right,
        wrong,
        f"It contains {ions_in_words(own)} ions, and H⁺ and OH⁻ from the water.",
        keep=2,
    )
    return choice_question(text, options, watch=formula)


def _ions_of_melt(rng: RandomSource) -> Question:
    formula = rng.one_of(("PbBr2(l)", "NaCl(l)", "ZnCl2(l)"))
    own = list(cell_of(formula).ions_mol_dm3)
    shown = ", ".join(map(pretty, own))
    name = melts()[formula].name
    wrong = [
        (f"{shown}, H⁺, OH⁻", correction(Idea.WATER_IN_MELT, rng.wording), Idea.WATER_IN_MELT),
        (
            ", ".join(map(_swapped, own)),
            f"Metals form positive ions. {correction(Idea.CATIONS_HAVE_MORE_ELECTRONS, rng.wording)}",
            Idea.CATIONS_HAVE_MORE_ELECTRONS,
        ),
        ("no ions, until the current flows", _made_by_melting(), Idea.CURRENT_MAKES_IONS),
    ]
    options = choice(
        rng, shown, wrong, f"The melt contains only {ions_in_words(own)} ions: no water."
    )
    return choice_question(f"Which ions are there in {name}?", options)


def _made_by_melting() -> str:
    return "The ions are there even in the solid; melting only lets them move."


@maker("ions that compete", topic="ions", level=14, version=1)
def compete(rng: RandomSource) -> Question:
    """Ask which ions come to an electrode."""
    role = rng.one_of(("cathode", "anode"))
    sign, electrode = 1 if role == "cathode" else -1, board_slots(rng.wording)[role]
    formula = draw_salt(
        rng,
        [
            each
            for each in candidates("solution", rng.edition)
            if len(_ions_of_sign(each, sign)) == 2
        ],
    )
    come = _ions_of_sign(formula, sign)
    name = solution_name(formula, rng.wording)
    others = tuple(word for ion in _ions_of_sign(formula, -sign) for word in ion_words(ion))
    first, second = ((*ion_words(ion), *_short(ion)) for ion in come)
    # a wrong ion beside both right ones takes one of them back, as where too many are listed
    too_many = tuple(f"{word} & {right}" for word in others for right in first)
    bodies = [
        tuple(f"{name_without_number(ion)} {body}" for body in ("atom", "molecule", "metal", "gas"))
        for ion in come
    ]
    points = (
        Point(f"{species_name(come[0])} ions", first, bodies[0]),
        Point(f"{species_name(come[1])} ions", second, (*too_many, *bodies[1])),
    )
    kind = "positive" if sign > 0 else "negative"
    text = rng.one_of(
        (
            f"Name the two kinds of ion that come to the {electrode} when {name} is electrolysed.",
            f"Which two kinds of ion compete at the {electrode} when a current passes through {name}?",
        )
    )
    answer = f"{' and '.join(in_words(ion) for ion in come)} ({ions_in_words(come)})"
    why = (
        f"All {kind} ions drift to the {electrode}, those of the water too: {ions_in_words(come)}."
    )
    return text_question(text, begin(answer), points, why=why, watch=formula, wording=rng.wording)


def _short(ion: str) -> tuple[str, ...]:
    """Return the name without the word ion: asked for the ions, it can mean nothing else."""
    others = ("h3o", "hydronium", "oxonium", "proton") if ion == "H+" else ()
    return (name_without_number(ion), *others)


@maker("which way", topic="drift", level=14, version=1)
def which_way(rng: RandomSource) -> Question:
    """Ask where an ion drifts."""
    formula = draw_salt(rng)
    ion = rng.one_of(_everyone(formula))
    positive = parse_formula(ion).charge > 0
    sign = "positive" if positive else "negative"
    roles = ("cathode", "anode") if positive else ("anode", "cathode")
    place, other = (board_slots(rng.wording)[role] for role in roles)
    wrong: list[Wrong] = [
        (
            f"to the {other}",
            correction(Idea.CATIONS_DRIFT_TO_ANODE, rng.wording)
            if positive
            else say("Anions, which are negative, drift to {the_anode}.", rng.wording),
            Idea.CATIONS_DRIFT_TO_ANODE,
        ),
        (
            "nowhere, because only electrons move in the solution",
            correction(Idea.ELECTRONS_CROSS_SOLUTION, rng.wording),
            Idea.ELECTRONS_CROSS_SOLUTION,
        ),
        (
            "to and fro, without any direction",
            "Without a current it only wanders; when the current flows the wandering has a direction.",
            0,
        ),
        (
            "nowhere, because only negative ions move"
            if positive
            else "to whichever electrode is nearer",
            correction(Idea.ONLY_ANIONS_CONDUCT, rng.wording)
            if positive
            else "Its charge decides, wherever it is in the solution.",
            Idea.ONLY_ANIONS_CONDUCT if positive else 0,
        ),
    ]
    name = solution_name(formula, rng.wording)
    text = rng.one_of(
        (
            f"The switch is closed. Which way does {pretty(ion)} drift in {name}?",
            f"Where do {in_words(ion)} go while {name} is electrolysed?",
            f"A current flows through {name}. In which direction do the {in_words(ion)} move?",
        )
    )
    reason = f"{pretty(ion)} is {sign}, so it drifts to the {place}."
    options = choice(rng, f"to the {place}", wrong, reason, keep=1)
    return choice_question(text, options, watch=formula)


@maker("neutral everywhere", topic="ions", level=16, version=3, since=1)
def stays_neutral(rng: RandomSource) -> Question:
    """Ask whether the solution round an electrode becomes charged."""
    formula = rng.one_of(("Na2SO4", "NaCl", "KNO3", "K2SO4", "KBr", "NaNO3"))
    role = rng.one_of(("cathode", "anode"))
    sign, electrode = 1 if role == "cathode" else -1, board_slots(rng.wording)[role]
    come = _ions_of_sign(formula, sign)
    kind, contrary = ("positive", "negative") if sign > 0 else ("negative", "positive")
    name = solution_name(formula, rng.wording)
    right = "no charge, because both signs balance in every part"
    wrong: list[Wrong] = [
        (
            f"a {kind} charge, because {kind} ions gather there",
            correction(Idea.SOLUTION_BECOMES_CHARGED, rng.wording),
            Idea.SOLUTION_BECOMES_CHARGED,
        ),
        (
            f"a {contrary} charge, because {kind} ions are used up there",
            "Other ions move in and out as fast as they are used up, so no part is left with a charge.",
            Idea.SOLUTION_BECOMES_CHARGED,
        ),
        (
            f"the charge of the {electrode}, which spreads into the solution",
            "The charge of an electrode stays on its surface; the solution stays neutral.",
            Idea.ELECTRODES_CHARGED_ONCE,
        ),
    ]
    text = (
        f"While {name} is electrolysed, {ions_in_words(come)} ions drift to the {electrode}. "
        f"What charge does the solution round the {electrode} get?"
    )
    reason = (
        "As fast as ions of one sign arrive or are discharged, ions of the other sign move in or out: every "
        "part stays neutral."
    )
    options = choice(rng, right, wrong, reason)
    return choice_question(text, options, watch=formula)
