"""Makers of questions about words: what they mean, and what is oxidised and reduced."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from fizzplate.chemistry import in_words, melts, parse_formula
from fizzplate.questions.maker import maker
from fizzplate.questions.makers.mark_points import mark_points
from fizzplate.questions.makers.parts import (
    cell_of,
    choice,
    choice_question,
    draw_salt,
    reactant_at,
    rule_of,
    set_up,
    text_question,
)
from fizzplate.questions.misconceptions import Idea
from fizzplate.questions.tables import candidates, edition_rows
from fizzplate.words import begin, board_slots, say

if TYPE_CHECKING:
    from fizzplate.questions.makers.parts import Wrong
    from fizzplate.questions.question_types import Question
    from fizzplate.questions.random_source import RandomSource


@dataclass(frozen=True, slots=True)
class Term:
    """A word with its meaning, the word that it is taken for, and the idea behind that (0: none)."""

    meaning: str
    opposite: str
    misconception: int


def _terms(rng: RandomSource) -> dict[str, Term]:
    """Return the words to ask about; electrodes called by their signs need no question about names."""
    by_sign = rng.wording.electrode_names == "negative"
    return {
        row["term"]: Term(
            say(row.text("meaning"), rng.wording),
            row["opposite"],
            int(row.numbers("misconception")[0]) if row["opposite"] else 0,
        )
        for row in edition_rows("terms", rng.edition)
        if not (by_sign and row["term"] in {"cathode", "anode"})
    }


@maker("definition", topic="words", level=14, version=1)
def definition(rng: RandomSource) -> Question:
    """Ask what a word means, or which word means it."""
    terms = _terms(rng)
    term = rng.one_of(list(terms))
    meaning, opposite = terms[term].meaning, terms[term].opposite
    first = [opposite] if opposite in terms else []
    others = [*first, *rng.shuffled(each for each in terms if each not in {term, *first})]
    backwards = rng.number(2) == 0
    reason = f"{begin(term)}: {meaning}."
    wrong = [
        (
            each if backwards else terms[each].meaning,
            f"{begin(each)}: {terms[each].meaning}."
            if backwards
            else f"That is the meaning of “{each}”.",
            terms[term].misconception if each == opposite else 0,
        )
        for each in others[:3]
    ]
    if backwards:
        text = f"Which word or phrase means “{meaning}”?"
    else:
        text = rng.one_of(
            (f"What does “{term}” mean?", f"Which of these describes what is meant by “{term}”?")
        )
    right = term if backwards else meaning
    return choice_question(text, choice(rng, right, wrong, reason, keep=3))


@maker("define", topic="words", level=14, version=1)
def define(rng: RandomSource) -> Question:
    """Ask for a definition in the learner's own words."""
    definition = rng.one_of(edition_rows("definitions", rng.edition))
    phrase = definition.text("phrase")
    text = rng.one_of(
        (
            f"State what is meant by {phrase}.",
            f"Explain what is meant by {phrase}.",
            f"Give a definition of {phrase}.",
        )
    )
    points = mark_points(definition["points"], rng.edition)
    return text_question(text, definition.text("answer"), points, wording=rng.wording)


@maker("oxidised or reduced", topic="half-equations", level=14, version=1)
def oxidised(rng: RandomSource) -> Question:
    """Ask what is oxidised, or reduced, and where."""
    formula = draw_salt(rng) if rng.number(4) else rng.one_of(candidates("melt", rng.edition))
    rule = rule_of(formula, rng.wording)
    gains, loses = (reactant_at(each.half_equation) for each in (rule.cathode, rule.anode))
    oxidation = rng.number(2) == 0
    own, other = (loses, gains) if oxidation else (gains, loses)
    roles = ("anode", "cathode") if oxidation else ("cathode", "anode")
    place, elsewhere = (board_slots(rng.wording)[role] for role in roles)
    what, verb = ("oxidised", "lose") if oxidation else ("reduced", "gain")
    swapped = 11 if own == "Br-" else 23
    wrong = [
        (
            f"{in_words(other)}, at the {elsewhere}",
            (
                f"{_does(other, 'gain' if oxidation else 'lose')} electrons there: that is "
                f"{'reduction' if oxidation else 'oxidation'}."
            ),
            Idea.OXIDATION_IS_GAIN,
        ),
        (
            f"{in_words(own)}, at the {elsewhere}",
            f"{_does(own, verb)} electrons, and that happens at the {place}.",
            swapped,
        ),
        (
            f"{in_words(other)}, at the {place}",
            f"{_does(other, 'react')} at the {elsewhere}.",
            Idea.CATIONS_DRIFT_TO_ANODE if parse_formula(other).charge > 0 else 0,
        ),
        *_bystanders(formula, {own, other}, place, what),
    ]
    reason = f"{_does(own, verb)} electrons at the {place}, and that is {REACTIONS[what]}."
    text = f"{set_up(rng, formula)} What is {what}, and at which electrode?"
    watch = "" if formula in melts() else formula
    options = choice(rng, f"{in_words(own)}, at the {place}", wrong, reason, keep=3)
    return choice_question(text, options, watch=watch)


REACTIONS = {"oxidised": "oxidation", "reduced": "reduction"}


def _does(formula: str, verb: str) -> str:
    """Say what ions, or water, do, as the beginning of a sentence."""
    ending = "" if parse_formula(formula).charge else "s"
    return f"{begin(in_words(formula))} {verb}{ending}"


def _bystanders(formula: str, used: set[str], place: str, what: str) -> list[Wrong]:
    """Offer ions of the salt that nothing happens to."""
    return [
        (
            f"{in_words(ion)}, at the {place}",
            f"{begin(in_words(ion))} are not discharged here.",
            Idea.WATER_NEVER_REACTS,
        )
        for ion in cell_of(formula).ions_mol_dm3
        if ion not in used and (parse_formula(ion).charge < 0) == (what == "oxidised")
    ]
